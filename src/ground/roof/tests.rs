use super::*;
use crate::ground::{Ground, Landing};
use crate::math::{Vec2, Vec3};

fn height(i: usize, j: usize) -> f64 {
    (1.7 * i as f64).sin() * (0.9 * j as f64).cos() + 0.3 * (i as f64).sqrt()
}

#[test]
fn singles_are_never_below_their_numbers() {
    for x in [0.0, 1e-300, -1e-300, 1e-39, -1e-39] {
        assert!((0.0..1e-37).contains(&(f64::from(above(x)) - x)));
    }
    let (low, high) = (above(f64::NEG_INFINITY), above(f64::INFINITY));
    assert!(low.is_infinite() && low < 0.0 && high.is_infinite() && high > 0.0);
    for i in 0..2000u32 {
        let x = 10f64.powf(f64::from(i % 60) - 30.0) * f64::from(i).sin();
        let over = f64::from(above(x)) - x;
        assert!((0.0..=3e-7 * x.abs() + 1e-37).contains(&over), "{x}");
    }
}

#[test]
fn blocks_bound_the_ground_that_a_ball_may_touch() {
    let (columns, rows, spacing) = (43, 31, Vec2::new(0.4, 0.5));
    let z = (0..columns * rows).map(|at| height(at % columns, at / columns)).collect();
    let grid = Grid::new(Vec2::new(2.0, -3.0), spacing, columns, rows, z).unwrap();
    let surface = crate::ground::Surface::Grid(std::sync::Arc::new(grid.clone()));
    let ground = Ground::from(vec![surface]);
    for radius in [0.0, 0.7] {
        let roof = Roof::new(&grid, radius);
        for at in 0..150u32 {
            let part = |prime: f64| (f64::from(at) * prime.sqrt()).fract();
            let x = 2.0 + part(2.0) * 0.4 * (columns - 1) as f64;
            let y = -3.0 + part(3.0) * 0.5 * (rows - 1) as f64;
            let rests = ground.dilated_height(x, y, radius).unwrap();
            for level in 0..LEVELS {
                // Also from beside, as far as a block is wide.
                let block = roof.block(level, x + roof.width(level) * (part(5.0) - 0.5), y);
                assert!(rests <= block.top() + 1e-9, "{rests} over {}", block.top());
                let seen = ground.nearest(Vec3::new(x, y, rests), 9.0).unwrap();
                let slope = [-seen.normal.x / seen.normal.z, -seen.normal.y / seen.normal.z];
                let within = |[low, high]: [f64; 2], s: f64| low - 1e-6 <= s && s <= high + 1e-6;
                assert!(radius == 0.0 || within(block.along_x(), slope[0]));
                assert!(radius == 0.0 || within(block.along_y(), slope[1]));
            }
        }
        assert!(roof.width(2) > 6.0);
    }
}

#[test]
fn blocks_bound_a_survey_and_the_landing_on_it() {
    let points: Vec<Vec3> = (0..400u32)
        .map(|i| (f64::from(i % 20), f64::from(i / 20)))
        .map(|(x, y)| (x + 0.3 * (7.0 * y).sin(), y + 0.3 * (5.0 * x).cos()))
        .map(|(x, y)| Vec3::new(x, y, 0.2 * (0.9 * x).sin() - 0.1 * y))
        .collect();
    let landing = Landing::new(Vec2::new(8.0, 9.0), 0.7, 0.4, 4.0, 3.0).unwrap();
    let ground = Ground::survey(&points).unwrap().with_landing(&landing).unwrap();
    let slanted = Plane::new(Vec3::new(3.0, 1.0, 0.4), 0.4, 0.7).unwrap();
    for (plane, radius) in [Plane::level(), slanted].into_iter().flat_map(|p| [(p, 0.0), (p, 0.8)])
    {
        let roof = Roof::about(&plane, &ground, radius).unwrap();
        let tilt = -plane.normal().xy() / plane.normal().z;
        for at in 0..400u32 {
            let part = |prime: f64| (f64::from(at) * prime.sqrt()).fract();
            let (x, y) = (2.0 + 15.0 * part(2.0), 2.0 + 15.0 * part(3.0));
            let rests = ground.dilated_height(x, y, radius).unwrap();
            let over = rests - plane.height(x, y);
            let seen = ground.nearest(Vec3::new(x, y, rests + 1e-6), 9.0).unwrap();
            let slope = -seen.normal.xy() / seen.normal.z - tilt;
            for level in 0..LEVELS {
                let block = roof.block(level, x, y + roof.width(level) * (part(5.0) - 0.5));
                assert!(over <= block.top() + 1e-9, "{over} over {}", block.top());
                let within = |[low, high]: [f64; 2], s: f64| low - 1e-5 <= s && s <= high + 1e-5;
                assert!(radius == 0.0 || within(block.along_x(), slope.x));
                assert!(radius == 0.0 || within(block.along_y(), slope.y));
            }
        }
    }
    let plane = Ground::plane(Vec3::zeros(), 0.1, 0.0).unwrap();
    assert!(Roof::about(&slanted, &plane, 1.0).is_none());
}

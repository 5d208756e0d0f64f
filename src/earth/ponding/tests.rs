use super::*;
use crate::ground::Landing;
use crate::math::Vec2;
use std::f64::consts::PI;

fn survey(points: &[Vec3]) -> Ground {
    Ground::survey(points).expect("a survey")
}

fn ponding(ground: &Ground) -> Ponding {
    ground.ponding(&Drainage::default()).expect("ponds")
}

/// A round pit of `corners` sides about a point, its rim at a height, its bottom below.
fn pit(
    at: [f64; 2],
    radius: f64,
    bottom: f64,
    rim: impl Fn(u32) -> f64,
    corners: u32,
) -> Vec<Vec3> {
    let mut points = vec![Vec3::new(at[0], at[1], bottom)];
    for corner in 0..corners {
        let (sine, cosine) = (2.0 * PI * f64::from(corner) / f64::from(corners)).sin_cos();
        points.push(Vec3::new(at[0] + radius * cosine, at[1] + radius * sine, rim(corner)));
    }
    points
}

fn square(half: f64, z: f64) -> Vec<Vec3> {
    [(-half, -half), (half, -half), (half, half), (-half, half)]
        .map(|(x, y)| Vec3::new(x, y, z))
        .to_vec()
}

/// The area of a polygon of that many sides in a circle of radius 1.
fn sides(corners: u32) -> f64 {
    0.5 * f64::from(corners) * (2.0 * PI / f64::from(corners)).sin()
}

#[test]
fn a_cone_full_of_water() {
    let (radius, depth) = (1.5, 0.6);
    let points = [pit([0.0, 0.0], radius, -depth, |_| 0.0, 48), square(4.0, -0.1)].concat();
    let found = ponding(&survey(&points));
    let [pond] = &found.ponds[..] else { panic!("one pond, not {}", found.ponds.len()) };
    let base = sides(48) * radius * radius;
    assert!((pond.depth - depth).abs() < 1e-12 && pond.level.abs() < 1e-12);
    assert!((pond.volume - base * depth / 3.0).abs() < 1e-12, "{}", pond.volume);
    assert!((pond.area - base).abs() < 1e-12);
    assert!((pond.volume / (PI * radius * radius * depth / 3.0) - 1.0).abs() < 3e-3);
}

/// A corner of the rim lower than the others: the cone is full to there only.
#[test]
fn a_notch_lets_it_out_sooner() {
    let rim = |corner| if corner == 7 { -0.2 } else { 0.0 };
    let points = [pit([0.0, 0.0], 1.5, -0.6, rim, 48), square(4.0, -1.0)].concat();
    let found = ponding(&survey(&points));
    let pond = &found.ponds[0];
    assert!((pond.level + 0.2).abs() < 1e-12 && (pond.depth - 0.4).abs() < 1e-12);
    assert!((pond.spill.z + 0.2).abs() < 1e-12);
    // The two triangles beside the notch have their whole outer edge at or above it.
    let whole = sides(48) * 1.5 * 1.5 * (0.4_f64 / 0.6).powi(2) * 0.4 / 3.0;
    assert!(pond.volume > whole && pond.volume < 1.1 * whole, "{} {whole}", pond.volume);
    let drain = pond.drain.as_ref().expect("the border is lower");
    assert!((drain.path[0] - pond.deepest).norm() < 1e-12);
    assert!(drain.deepest_cut >= 0.4 && drain.volume > 0.3 * 0.5 * 0.4 * 1.5);
}

#[test]
fn a_pit_in_a_plain_has_nowhere_to_drain_to() {
    let points = [pit([0.0, 0.0], 1.0, -0.5, |_| 0.0, 24), square(3.0, 0.0)].concat();
    let found = ponding(&survey(&points));
    assert!(found.ponds[0].drain.is_none());
    assert!(found.ponds[0].to_string().contains("fill it"));
    assert!((found.flats[0].area - (36.0 - sides(24))).abs() < 1e-9, "the plain sheds nothing");
    assert!(found.flats[0].slope.abs() < 1e-12);
}

/// Cutting what the drain says leaves the place dry.
#[test]
fn the_drain_drains() {
    let points: Vec<Vec3> = [
        pit([0.0, 0.0], 1.5, -0.6, |_| 0.0, 12),
        pit([0.0, 0.0], 3.0, -0.61, |_| -0.4, 12).split_off(1),
        square(6.0, -1.5),
    ]
    .concat();
    let found = ponding(&survey(&points));
    let drain = found.ponds[0].drain.as_ref().expect("a drain");
    let lowered = points.iter().map(|point| {
        let on = drain.path.iter().position(|at| (at - point).xy().norm() < 1e-12);
        let z = on.map_or(point.z, |on| point.z.min(drain.bottom[on]));
        Vec3::new(point.x, point.y, z)
    });
    let after = ponding(&survey(&lowered.collect::<Vec<_>>()));
    assert!(after.is_dry(), "{:?}", after.ponds);
}

/// Two pits joined under a common rim are one pond; with a saddle above the spill they are two.
#[test]
fn ponds_join_where_the_saddle_is_under_water() {
    let twin = |saddle: f64| {
        let mut points = square(5.0, 0.0);
        points
            .extend([(-1.0, -0.5), (0.0, saddle), (1.0, -0.4)].map(|(x, z)| Vec3::new(x, 0.0, z)));
        let ring = pit([0.0, 0.0], 3.0, 9.0, |_| 0.1, 24).split_off(1);
        points.extend(ring);
        ponding(&survey(&points)).ponds.len()
    };
    assert_eq!(twin(-0.2), 1);
    assert_eq!(twin(0.2), 2);
}

/// A landing across a valley: its back dams the water that runs down.
#[test]
fn a_landing_across_a_valley_holds_water() {
    let valley = |x: f64, y: f64| -0.1 * x + 0.03 * y * y;
    let rows = (0..33).flat_map(|row| (0..41).map(move |column| (column, row)));
    let heights = rows.map(|(i, j)| valley(-6.0 + 0.5 * f64::from(i), -8.0 + 0.5 * f64::from(j)));
    let (low, heights) = (Vec2::new(-6.0, -8.0), heights.collect());
    let hill = Ground::grid(low, Vec2::repeat(0.5), 41, 33, heights).expect("a grid");
    assert!(ponding(&hill).is_dry());
    let landing = Landing::new(Vec2::new(4.0, 0.0), 0.0, 0.4, 4.0, 6.0).expect("a landing");
    let landing = landing.with_crest_height(Some(0.6)).expect("a landing");
    let built = hill.with_landing(&landing).expect("built");
    let look = |spacing: f64| {
        let drainage = Drainage::default().with_spacing(spacing).expect("ok");
        built.ponding(&drainage).expect("ponds").ponds.remove(0)
    };
    let (coarse, fine) = (look(0.25), look(0.125));
    assert!(fine.depth > 0.1 && (coarse.depth - fine.depth).abs() < 0.1 * fine.depth);
    assert!((coarse.volume / fine.volume - 1.0).abs() < 0.15, "{coarse:?} {fine:?}");
    assert!(fine.deepest.x < 4.0 && fine.drain.is_some(), "behind it, and it can be let out");
    let plane = Ground::plane(Vec3::zeros(), 0.1, 0.0).expect("a plane");
    assert_eq!(plane.ponding(&Drainage::default()), Err(PondingError::Unbounded));
}

/// What has been filled to its levels holds no water.
#[test]
fn filled_ground_is_dry() {
    let bumpy = |x: f64, y: f64| 0.2 * (2.1 * x).sin() * (1.7 * y + 0.3).cos() - 0.02 * x;
    let mut heights = Vec::new();
    for row in 0..31 {
        for column in 0..31 {
            heights.push(bumpy(0.3 * f64::from(column), 0.3 * f64::from(row)));
        }
    }
    let grid = Ground::grid(Vec2::zeros(), Vec2::repeat(0.3), 31, 31, heights).expect("a grid");
    let exactly = Drainage::default().with_spacing(0.3).and_then(|d| d.with_shallowest(0.0));
    let drainage = exactly.expect("ok");
    let found = grid.ponding(&drainage).expect("ponds");
    assert!(found.ponds.len() >= 4 && found.volume() > 0.0);
    let net = Net::of(&grid, &drainage).expect("a net");
    let flood = Flood::over(&net);
    let filled: Vec<Vec3> = net
        .points()
        .iter()
        .enumerate()
        .map(|(i, p)| {
            Vec3::new(p.x, p.y, flood.way_out(i).map(|o| net.points()[o].z).fold(p.z, f64::max))
        })
        .collect();
    assert!(ponding(&survey(&filled)).is_dry());
}

#[test]
fn a_slope_that_sheds_is_dry_and_has_no_flats() {
    let points = square(3.0, 0.0).into_iter().map(|p| Vec3::new(p.x, p.y, 0.06 * p.x));
    let found = ponding(&survey(&points.collect::<Vec<_>>()));
    assert!(found.is_dry() && found.flats.is_empty());
}

#[test]
fn numbers_that_cannot_be_are_named() {
    let drainage = Drainage::default();
    assert!(drainage.with_spacing(0.0).is_err_and(|e| e.field == "spacing"));
    assert!(drainage.with_area(Vec2::zeros(), Vec2::zeros()).is_err());
    assert!(drainage.with_outslope(f64::NAN).is_err());
    let plane = Ground::plane(Vec3::zeros(), 0.1, 0.0).expect("a plane");
    let wide = drainage.with_area(Vec2::zeros(), Vec2::repeat(1e6)).expect("an area");
    assert!(matches!(plane.ponding(&wide), Err(PondingError::OutOfRange(_))));
    let grid = Ground::grid(Vec2::zeros(), Vec2::repeat(1.0), 2, 2, vec![0.0; 4]).expect("a grid");
    let away = drainage.with_area(Vec2::repeat(5.0), Vec2::repeat(6.0)).expect("an area");
    assert!(matches!(grid.ponding(&away), Err(PondingError::NoGround { .. })));
}

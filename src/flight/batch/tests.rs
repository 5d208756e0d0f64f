use super::chunk::set;
use super::*;
use crate::ground::Landing;
use crate::math::{Vec2, Vec3};

/// How many of 10,240 flights take the way of one.
fn unsure(ground: &Ground, rider: &Rider) -> usize {
    let mut unsure = 0;
    for wind in [[0.0, 0.0, 0.0], [-4.0, 4.0, -0.5], [3.0, -2.0, 0.5], [6.0, 0.0, 0.0]] {
        let air = Air::standard().with_wind(wind.into()).unwrap();
        let batch = Batch::new(ground, rider, &air).unwrap();
        let (mut starts, mut touches) = (Starts::new(), Touches::new());
        for chunk in 0..20 {
            for row in 0..ROWS {
                let i = (chunk * ROWS + row) as f64;
                let part = |prime: f64| (i * prime.sqrt()).fract();
                let (speed, pitch, yaw) =
                    (4.0 + 10.0 * part(2.0), 0.7 * part(3.0), part(5.0) - 0.5);
                let level = speed * pitch.cos();
                let v = Vec3::new(level * yaw.cos(), level * yaw.sin(), speed * pitch.sin());
                set(&mut starts.velocity, row, &v);
                set(&mut starts.position, row, &Vec3::new(0.0, 0.0, 2.0 + part(7.0)));
            }
            batch.fly(&starts, ROWS, &mut touches);
            unsure += touches.certain.iter().filter(|certain| **certain == 0.0).count();
        }
    }
    unsure
}

#[test]
fn most_flights_onto_a_plane_need_no_second_way() {
    let unsure = unsure(&Ground::plane(Vec3::zeros(), 0.12, 0.0).unwrap(), &Rider::default());
    assert!(unsure < 10, "{unsure}");
}

#[test]
fn most_flights_onto_surveys_and_landings_need_no_second_way() {
    let points: Vec<Vec3> = (0..45 * 45)
        .map(|i| (f64::from(i % 45) - 5.0, f64::from(i / 45) - 22.0))
        .map(|(x, y)| (x + 0.3 * (7.0 * y).sin(), y + 0.3 * (5.0 * x).cos()))
        .map(|(x, y)| Vec3::new(x, y, 0.15 * (1.3 * x).sin() * (1.1 * y).cos() - 0.12 * x))
        .collect();
    let survey = Ground::survey(&points).unwrap();
    let landing = Landing::new(Vec2::new(5.0, 0.7), 0.0, 0.45, 5.0, 6.0).unwrap();
    let built = survey.with_landing(&landing).unwrap();
    let point = Rider::default().with_com_height_landing(Some(0.0)).unwrap();
    let unsure = [&survey, &built].map(|ground| unsure(ground, &point));
    // What touches a landing's edge, crest or sides is often left to one.
    assert!(unsure.iter().zip([10, 800]).all(|(unsure, most)| *unsure < most), "{unsure:?}");
}

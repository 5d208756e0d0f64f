use super::chunk::set;
use super::*;
use crate::math::Vec3;

#[test]
fn most_flights_onto_a_plane_need_no_second_way() {
    let ground = Ground::plane(Vec3::zeros(), 0.12, 0.0).unwrap();
    let mut unsure = 0;
    for wind in [[0.0, 0.0, 0.0], [-4.0, 4.0, -0.5], [3.0, -2.0, 0.5], [6.0, 0.0, 0.0]] {
        let air = Air::standard().with_wind(wind.into()).unwrap();
        let batch = Batch::new(&ground, &Rider::default(), &air).unwrap();
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
    assert!(unsure < 10, "{unsure} of 10240");
}

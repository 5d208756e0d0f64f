use super::*;
use crate::flight::FlightPath;
use crate::math::Vec3;
use crate::math::roots::bracketed;
use approx::assert_relative_eq;
use proptest::prelude::*;

const G: f64 = 9.80665;

fn point_rider() -> Rider {
    Rider::default().with_com_height_landing(Some(0.0)).unwrap()
}

fn no_drag(rider: Rider) -> Rider {
    rider.with_cda(0.0).unwrap()
}

fn design(angle_deg: f64, fall_height: f64, far: (f64, f64), near: f64) -> EvenDesign {
    EvenDesign::new(angle_deg.to_radians(), fall_height, Vec2::new(far.0, far.1), near).unwrap()
}

/// Two airs, one of them with a slant wind.
fn airs() -> [Air; 2] {
    [Air::standard(), Air::standard().with_wind(Vec3::new(-3.0, 2.0, 0.2)).unwrap()]
}

/// Derived, not printed: from a 30-digit Taylor integration of the drag-free equation.
#[test]
fn without_drag_it_is_the_solution_to_thirty_digits() {
    let design = design(20.0, 0.5, (14.0, -2.4625165913071), 4.0);
    let even = design.landing(&no_drag(point_rider()), &Air::standard()).unwrap();
    for (x, height) in [
        (14.0, -2.4625165913071),
        (12.0, -1.7056936089146),
        (10.0, -1.0986856409271),
        (8.0, -0.64659090084383),
        (6.0, -0.35498858728132),
        (5.0, -0.2712480571092),
        (4.0, -0.22994663691609),
    ] {
        assert_relative_eq!(even.height(x).unwrap(), height, epsilon = 1e-9);
    }
    let slope = |x| even.slope(x).unwrap().to_degrees();
    assert_relative_eq!(slope(14.0), 22.54208635586, epsilon = 1e-8);
    assert_relative_eq!(slope(8.0), 10.559274528926, epsilon = 1e-7);
    assert_relative_eq!(even.launch_speed(8.0).unwrap(), 9.993670116, epsilon = 1e-7);
    assert_relative_eq!(even.launch_speed(14.0).unwrap(), 12.0, epsilon = 1e-9);
    assert_eq!((even.stopped_by(), even.reach()), (StoppedBy::NearEnd, (4.0, 14.0)));
}

/// With a fall height of 0 the surface runs along one flight: `y = x tan(theta) - C x^2` without drag.
#[test]
fn a_fall_height_of_zero_follows_one_flight() {
    let (tan, far) = (20f64.to_radians().tan(), Vec2::new(14.0, -2.4625165913071));
    let even = design(20.0, 0.0, (far.x, far.y), 1.0);
    let free = even.landing(&no_drag(point_rider()), &Air::standard()).unwrap();
    let c = (far.x * tan - far.y) / (far.x * far.x);
    for x in [1.0, 3.3, 7.0, 12.9] {
        assert_relative_eq!(free.height(x).unwrap(), x * tan - c * x * x, epsilon = 1e-10);
        assert_relative_eq!(free.launch_speed(x).unwrap(), 12.0, epsilon = 1e-9);
    }
    for air in airs() {
        let even = even.landing(&point_rider(), &air).unwrap();
        let speed = even.launch_speeds();
        assert_relative_eq!(speed.0, speed.1, epsilon = 1e-9);
        let flight = Flown::new(&even, speed.0, &air, &point_rider());
        for x in [1.0, 5.5, 13.0] {
            let time = bracketed(|t| flight.place(t).x - x, 0.0, 5.0, 1e-14).unwrap();
            assert_relative_eq!(flight.place(time).y, even.height(x).unwrap(), epsilon = 1e-9);
        }
    }
    let form = even.landing_in(&point_rider(), &Air::standard(), EvenForm::LaunchSpeed);
    assert_eq!(form, Err(EvenError::OneFlight));
}

/// A whole flight of the family, from the flight's own code.
struct Flown {
    path: FlightPath,
    across: f64,
}

impl Flown {
    fn new(even: &EvenLanding, speed: f64, air: &Air, rider: &Rider) -> Self {
        let (design, forces) = (even.design(), Forces::new(rider, air));
        let (sin, cos) = design.launch_angle().sin_cos();
        let (left, ahead) = design.sideways().sin_cos();
        let velocity = Vec3::new(cos * ahead, cos * left, sin) * speed;
        let mut path = FlightPath::start(Vec3::zeros(), velocity, forces).unwrap();
        path.fly(6.0).unwrap();
        Self { path, across: design.cross_slope().tan() }
    }

    /// Along, and up from where the surface's cross slope is at that place.
    fn place(&self, time: f64) -> Vec2 {
        let place = self.path.position(time);
        Vec2::new(place.x, place.z - self.across * place.y)
    }

    /// The fall height on the surface by its definition in space: speed along the normal of `z = Z(x, y)`.
    fn fall_height(&self, even: &EvenLanding) -> f64 {
        let (near, far) = even.reach();
        let over = |time: f64| {
            let place = self.place(time);
            match place.x {
                x if x < near => 1.0,
                x if x > far => -1.0,
                x => place.y - even.height(x).unwrap(),
            }
        };
        let time = bracketed(over, 1e-3, 6.0, 1e-14).unwrap();
        let (x, v) = (self.place(time).x, self.path.velocity(time));
        let (zx, zy) = (-even.slope(x).unwrap().tan(), self.across);
        let into = v.z - zx * v.x - zy * v.y;
        into * into / (1.0 + zx * zx + zy * zy) / (2.0 * G)
    }
}

/// How far 200 flights of the family are off the wanted fall height at most, for a rider who is a point.
fn worst(even: &EvenLanding, air: &Air, rider: &Rider) -> f64 {
    let (slow, fast) = even.launch_speeds();
    assert!(slow < fast);
    let off = |i: i32| {
        let speed = slow + (fast - slow) * (f64::from(i) + 0.5) / 200.0;
        Flown::new(even, speed, air, rider).fall_height(even) - even.design().fall_height()
    };
    (0..200).map(|i| off(i).abs()).fold(0.0, f64::max)
}

#[test]
fn two_hundred_flights_land_with_the_wanted_fall_height() {
    for (angle, fall_height, far) in
        [(20.0, 0.5, (14.0, -2.5)), (45.0, 0.3, (7.0, 1.2)), (-5.0, 1.0, (9.0, -4.0))]
    {
        for air in airs() {
            for rider in [point_rider(), no_drag(point_rider())] {
                let even = design(angle, fall_height, far, 1.5).landing(&rider, &air).unwrap();
                let worst = worst(&even, &air, &rider);
                assert!(worst < 1e-8, "{angle} {fall_height} {far:?}: {worst:.1e}");
            }
        }
    }
}

/// Thrown sideways onto a cross slope: `(v_z - Z_x v_x - Z_y v_y)^2 = 2 g h (1 + Z_x^2 + Z_y^2)`.
#[test]
fn flights_thrown_sideways_land_as_evenly() {
    for (sideways, cross_slope) in [(30.0f64, 0.0f64), (-25.0, 12.0), (35.0, -15.0)] {
        let design = design(25.0, 0.6, (9.0, -1.5), 2.0).with_steepest(1.2).unwrap();
        let design = design.with_sideways(sideways.to_radians()).unwrap();
        let design = design.with_cross_slope(cross_slope.to_radians()).unwrap();
        for air in airs() {
            let even = design.landing(&point_rider(), &air).unwrap();
            assert_relative_eq!(even.height(9.0).unwrap(), -1.5, epsilon = 1e-11);
            let worst = worst(&even, &air, &point_rider());
            assert!(worst < 1e-8, "{sideways} {cross_slope}: {worst:.1e}");
        }
    }
}

fn apart(a: &EvenLanding, b: &EvenLanding) -> f64 {
    let (near, far) = (a.reach().0.max(b.reach().0), a.reach().1);
    let apart = |i: i32| {
        let x = near + (far - near) * f64::from(i) / 97.0;
        (a.height(x).unwrap() - b.height(x).unwrap()).abs()
    };
    (0..=97).map(apart).fold(0.0, f64::max)
}

#[test]
fn three_forms_say_the_same() {
    let design = design(25.0, 0.5, (9.0, -1.8), 2.0);
    let [still, windy] = airs();
    for (rider, air) in
        [(point_rider(), still), (no_drag(point_rider()), still), (Rider::default(), windy)]
    {
        let by = |form| design.landing_in(&rider, &air, form).unwrap();
        let forms = [EvenForm::Distance, EvenForm::LaunchSpeed, EvenForm::Root].map(by);
        for (a, b) in [(0, 1), (0, 2), (1, 2)] {
            let apart = apart(&forms[a], &forms[b]);
            assert!(apart < 1e-9, "{:?} {:?} {apart:.1e}", forms[a].form(), forms[b].form());
        }
    }
}

/// A second flight through each place, by the closed form: `z' = 2 z / x - tan(theta)` and `v_x^2 = g x / (tan(theta) - z')`.
#[test]
fn without_drag_the_slope_is_that_of_the_closed_form() {
    let even = design(30.0, 0.7, (12.0, -2.0), 2.0);
    let even = even.landing(&no_drag(point_rider()), &Air::standard()).unwrap();
    let tan = 30f64.to_radians().tan();
    for point in even.profile() {
        let (x, z) = (point.distance, point.height);
        let path = 2.0 * z / x - tan;
        let level = (G * x / (tan - path)).sqrt();
        let speed = level * path.hypot(1.0);
        let slope = -path.atan() - ((2.0 * G * 0.7).sqrt() / speed).asin();
        assert_relative_eq!(point.slope, slope, epsilon = 1e-10);
    }
}

/// The earth lies the rider's height below the surface of the centre of mass, square to both.
#[test]
fn the_earth_is_parallel_to_the_surface_of_the_centre_of_mass() {
    let rider = Rider::default().with_com_height_landing(Some(0.8)).unwrap();
    let even = design(20.0, 0.5, (12.0, -3.0), 3.0).landing(&rider, &Air::standard()).unwrap();
    assert_relative_eq!(even.height(12.0).unwrap(), -3.0, epsilon = 1e-11);
    let points = even.profile();
    for pair in points.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        assert!(a.distance < b.distance && b.distance - a.distance < 0.2);
        // Mean curvature times arc is the turn of the tangent.
        let arc = (b.distance - a.distance).hypot(b.height - a.height);
        let turn = 0.5 * (a.curvature + b.curvature) * arc;
        assert_relative_eq!(b.slope - a.slope, turn, epsilon = 1e-5);
    }
    for point in &points {
        let com = Vec2::new(point.com_distance, point.com_height);
        let away = com - Vec2::new(point.distance, point.height);
        assert_relative_eq!(away.norm(), 0.8, epsilon = 1e-12);
        assert_relative_eq!(away.x / away.y, point.slope.tan(), epsilon = 1e-12);
        assert_relative_eq!(even.slope(point.distance).unwrap(), point.slope, epsilon = 1e-9);
    }
}

#[test]
fn farther_out_the_same_fall_height_asks_for_a_steeper_face() {
    let rider = no_drag(point_rider());
    let even = |fall_height| {
        design(15.0, fall_height, (18.0, -5.0), 3.0).landing(&rider, &Air::standard()).unwrap()
    };
    let (soft, hard) = (even(0.3), even(0.9));
    let slopes: Vec<f64> = soft.profile().iter().map(|point| point.slope).collect();
    assert!(slopes.windows(2).all(|pair| pair[0] < pair[1]), "{slopes:?}");
    // Where both stand, at the far end, the softer is the steeper.
    assert!(soft.slope(18.0).unwrap() > hard.slope(18.0).unwrap());
    let path = |even: &EvenLanding, x: f64| {
        (15f64.to_radians().tan() - 2.0 * even.height(x).unwrap() / x).atan()
    };
    let angle = |even: &EvenLanding, x: f64| path(even, x) - even.slope(x).unwrap();
    // The farther, the faster, and the smaller the angle between path and face: it tends to the path's.
    assert!(angle(&soft, 18.0) < 0.6 * angle(&soft, 3.0));
    assert!(angle(&soft, 18.0) < angle(&hard, 18.0));
}

/// Errors shrink inwards: landings through far ends that differ come together.
#[test]
fn inwards_errors_shrink() {
    let rider = point_rider();
    let even = |z| design(20.0, 0.5, (14.0, z), 4.0).landing(&rider, &Air::standard()).unwrap();
    let apart = |x| (even(-2.5).height(x).unwrap() - even(-2.4).height(x).unwrap()).abs();
    assert!(apart(4.0) < 0.2 * apart(14.0) && apart(9.0) < apart(14.0));
}

#[test]
fn it_says_why_it_stops() {
    let stopped = |design: EvenDesign, rider: &Rider| {
        let even = design.landing(rider, &Air::standard()).unwrap();
        let early = even.warnings().iter().any(|w| matches!(w, EvenWarning::EndsEarly { .. }));
        assert_eq!(early, even.stopped_by() != StoppedBy::NearEnd);
        (even.stopped_by(), even)
    };
    let steep = |design: EvenDesign| design.with_steepest(1.5).unwrap();
    let (by, _) = stopped(steep(design(20.0, 0.5, (8.0, -3.0), 2.0)), &Rider::default());
    assert_eq!(by, StoppedBy::NearEnd);

    let (by, even) = stopped(steep(design(45.0, 1.5, (8.0, -3.0), 0.0)), &point_rider());
    assert_eq!(by, StoppedBy::TooSlow);
    // There the flight goes square into the face, at just the speed that is asked for.
    let end = even.profile()[0];
    let speed = (2.0 * G * 1.5f64).sqrt();
    let drag_free = (end.launch_speed.powi(2) - 2.0 * G * end.height).sqrt();
    assert_relative_eq!(drag_free, speed, max_relative = 0.01);

    let (by, even) = stopped(steep(design(20.0, 0.5, (8.0, -3.0), 0.0)), &Rider::default());
    assert_eq!(by, StoppedBy::TooTight);
    assert!(even.profile()[0].curvature > 100.0, "{:?}", even.profile()[0]);

    let (by, even) =
        stopped(design(60.0, 0.1, (3.0, -0.4), 0.0).with_steepest(0.95).unwrap(), &point_rider());
    assert_eq!(by, StoppedBy::TooSteep);
    assert_relative_eq!(even.profile()[0].slope.abs(), 0.95, epsilon = 1e-6);
}

#[test]
fn what_cannot_begin_says_why() {
    let begun = |design: EvenDesign| design.landing(&point_rider(), &Air::standard());
    let reason = |design: EvenDesign| match begun(design) {
        Err(EvenError::FarEnd { reason, .. }) => reason,
        other => panic!("{other:?}"),
    };
    // Above the line of the launch, and as far as no drag lets a rider fly.
    assert_eq!(reason(design(20.0, 0.5, (8.0, 3.0), 2.0)), StoppedBy::NoFlight);
    assert_eq!(reason(design(0.0, 0.5, (900.0, -0.01), 2.0)), StoppedBy::NoFlight);
    assert_eq!(reason(design(20.0, 4.0, (3.0, -1.0), 1.0)), StoppedBy::TooSlow);
    assert_eq!(reason(design(20.0, 0.1, (15.0, -8.0), 1.0)), StoppedBy::TooSteep);
    let dull = design(0.0, 4.0, (3.0, -1.0), 1.0).landing(&Rider::default(), &Air::standard());
    assert!(matches!(dull, Err(EvenError::FarEnd { reason: StoppedBy::TooTight, .. })), "{dull:?}");
}

#[test]
fn wrong_numbers_are_named() {
    let named = |made: Result<EvenDesign, EvenError>| match made {
        Err(EvenError::OutOfRange(error)) => error.field.into_owned(),
        other => panic!("{other:?}"),
    };
    let (far, new) = (Vec2::new(9.0, -2.0), EvenDesign::new);
    for angle in [f64::NAN, 1.6, -1.6, f64::INFINITY] {
        assert_eq!(named(new(angle, 0.5, far, 2.0)), "launch_angle");
    }
    for fall_height in [-0.1, f64::NAN, f64::INFINITY] {
        assert_eq!(named(new(0.3, fall_height, far, 2.0)), "fall_height");
    }
    assert_eq!(named(new(0.3, 0.5, Vec2::new(0.0, -2.0), 0.0)), "far.x");
    assert_eq!(named(new(0.3, 0.5, Vec2::new(9.0, f64::NAN), 0.0)), "far.z");
    for near in [9.0, 12.0, -0.1, f64::NAN] {
        assert_eq!(named(new(0.3, 0.5, far, near)), "near");
    }
    let fine = new(0.3, 0.5, far, 2.0).unwrap();
    assert_eq!(named(fine.with_sideways(2.0)), "sideways");
    assert_eq!(named(fine.with_cross_slope(f64::NAN)), "cross_slope");
    for steepest in [0.0, -0.3, 1.6] {
        assert_eq!(named(fine.with_steepest(steepest)), "steepest");
    }
    let even = fine.landing(&point_rider(), &Air::standard()).unwrap();
    assert!(even.height(1.9).is_err() && even.slope(9.1).is_err());
    assert!(even.launch_speed(f64::NAN).is_err());
}

#[test]
fn it_reads_back_explains_and_warns() {
    let even = design(60.0, 1.6, (10.0, -4.0), 5.0).with_steepest(1.2).unwrap();
    let even = even.landing(&Rider::default(), &Air::standard()).unwrap();
    let text = serde_json::to_string(&even).unwrap();
    assert_eq!(serde_json::from_str::<EvenLanding>(&text).unwrap(), even);
    let wrong = text.replace("\"fall_height\":1.6", "\"fall_height\":-1.6");
    assert!(serde_json::from_str::<EvenLanding>(&wrong).is_err());
    let said = even.explain().to_string();
    assert!(said.contains("fall_height = 1.6 m") && said.contains("certify nothing"));
    let paths = even.paths(3, 5);
    assert_eq!((paths.len(), paths[0].len()), (3, 5));
    let point = even.profile()[0];
    assert_eq!(paths[1][0], Vec2::zeros());
    let end = Vec2::new(point.com_distance, point.com_height);
    assert_relative_eq!(paths[0][4], end, epsilon = 1e-10);
    assert!(even.paths(0, 0).is_empty() && even.paths(1, 1)[0].len() == 1);
    let warnings = even.warnings();
    assert!(matches!(warnings[..], [EvenWarning::HighFall { .. }, EvenWarning::Steep { .. }, ..]));
    assert!(warnings.iter().all(|warning| warning.to_string().len() > 20));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn each_station_is_a_flight_that_touches_as_asked(
        angle in -30.0..60.0f64,
        fall_height in 0.05..1.5f64,
        (x, z) in (3.0..16.0f64, -6.0..2.0f64),
        height in 0.0..1.2f64,
        (sideways, cross) in (-30.0..30.0f64, -15.0..15.0f64),
    ) {
        let design = design(angle, fall_height, (x, z), 0.2 * x)
            .with_sideways(sideways.to_radians()).unwrap()
            .with_cross_slope(cross.to_radians()).unwrap()
            .with_steepest(1.3).unwrap();
        let rider = Rider::default().with_com_height_landing(Some(height)).unwrap();
        let even = design.landing(&rider, &Air::standard());
        prop_assume!(even.is_ok());
        let even = even.unwrap();
        prop_assert!((even.height(x).unwrap() - z).abs() < 1e-9);
        for point in even.profile() {
            let flight = Flown::new(&even, point.launch_speed, &Air::standard(), &rider);
            let (place, v) = (flight.place(point.time), flight.path.velocity(point.time));
            prop_assert!((place.x - point.com_distance).abs() < 1e-9);
            prop_assert!((place.y - point.com_height).abs() < 1e-9);
            let (zx, zy) = (-point.slope.tan(), flight.across);
            let into = -(v.z - zx * v.x - zy * v.y) / (1.0 + zx * zx + zy * zy).sqrt();
            prop_assert!((into - (2.0 * G * fall_height).sqrt()).abs() < 1e-8);
        }
    }
}

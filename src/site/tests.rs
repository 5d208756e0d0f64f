//! What the values of a site must refuse.

use super::{Bounds, Dist, Interval, KeepOut, Obstacle, RiderClass, SiteError, Takeoff, Wind};
use crate::feature::Drop;
use crate::math::Vec2;
use crate::rider::Rider;
use std::f64::consts::TAU;

fn bounds() -> Bounds {
    let corner = |x, y| Vec2::new(x, y);
    Bounds {
        area: vec![corner(0.0, 0.0), corner(9.0, 0.0), corner(9.0, 6.0), corner(0.0, 6.0)],
        keep_outs: Vec::new(),
        edge_clearance: 1.5,
        obstacles: vec![Obstacle { name: "stump".into(), position: corner(1.0, 5.0), radius: 0.4 }],
        slope: Interval::new(0.2, 0.6),
        heading: Interval::new(-0.5, 0.5),
        length: Interval::new(3.0, 7.0),
        width: Interval::new(2.0, 4.0),
    }
}

fn field(checked: Result<(), SiteError>) -> String {
    match checked {
        Ok(()) => "none".into(),
        Err(SiteError::OutOfRange(error) | SiteError::Class { source: error, .. }) => {
            error.field.into_owned()
        }
        Err(other) => other.to_string(),
    }
}

#[test]
fn bounds_name_what_is_wrong() {
    assert_eq!(field(bounds().check()), "none");
    let with = |change: fn(&mut Bounds)| {
        let mut bounds = bounds();
        change(&mut bounds);
        field(bounds.check())
    };
    assert!(with(|b| b.area.truncate(2)).starts_with("area: 2 corners"));
    let crossed = with(|b| b.area.swap(1, 2));
    assert!(crossed.starts_with("area: side 1 (corner 1 to 2) and side 3"), "{crossed}");
    let mud = |name: Option<&str>| {
        let corners = [(2.0, 2.0), (4.0, 2.0), (4.0, 3.0)].map(|(x, y)| Vec2::new(x, y)).into();
        KeepOut { name: name.map(Into::into), corners }
    };
    let outs = |list: Vec<KeepOut>| field(Bounds { keep_outs: list, ..bounds() }.check());
    assert_eq!(outs(vec![mud(None), mud(Some("mud")), mud(None)]), "none");
    assert!(outs(vec![mud(Some("mud")), mud(Some("mud"))]).contains("kind keep-out are called"));
    assert!(outs(vec![mud(None), mud(Some(" "))]).contains("keep-out number 2 has no name"));
    let mut short = mud(Some("mud"));
    short.corners.push(short.corners[0]);
    let told = outs(vec![mud(None), short]);
    assert!(told.starts_with("keep_out[1].corners: corners 4 and 1 both stand"), "{told}");
    let mut far = mud(None);
    far.corners[2].x = f64::INFINITY;
    assert_eq!(outs(vec![far]), "keep_out.corners");
    assert_eq!(with(|b| b.area.clear()), "none");
    assert_eq!(with(|b| b.area[1].y = f64::NAN), "area");
    assert_eq!(with(|b| b.edge_clearance = -0.1), "edge_clearance");
    assert_eq!(with(|b| b.obstacles[0].radius = 0.0), "obstacle.radius");
    assert_eq!(with(|b| b.slope.high = 1.6), "slope.high");
    assert_eq!(with(|b| b.slope.low = 0.61), "slope.high");
    assert_eq!(with(|b| b.heading.high = TAU), "heading");
    assert_eq!(with(|b| b.length.low = 0.0), "length.low");
    assert!(with(|b| b.obstacles.push(b.obstacles[0].clone())).contains("\"stump\""));
    assert!(with(|b| b.obstacles[0].name = " ".into()).contains("obstacle number 1"));
}

/// A deck 4.8 m wide.
fn takeoff() -> Takeoff {
    Drop::new(2.0, 4.8, 0.0).unwrap().into()
}

#[test]
fn classes_name_what_is_wrong() {
    let with = |change: fn(&mut RiderClass)| {
        let mut class = RiderClass::alike("steady", Rider::default(), 12.0, 1.2);
        change(&mut class);
        field(class.check(20.0, &takeoff()))
    };
    assert_eq!(with(|_| ()), "none");
    assert_eq!(with(|c| c.weight = 0.0), "weight");
    assert_eq!(with(|c| c.start = Dist::Fixed(20.1)), "start");
    assert_eq!(with(|c| c.leave = Dist::Uniform { low: 1.0, high: 2.5 }), "leave");
    assert_eq!(with(|c| c.leave_per_speed = f64::NAN), "leave_per_speed");
    assert_eq!(with(|c| c.mass = Dist::Fixed(0.0)), "mass");
    assert_eq!(with(|c| c.brake = Dist::Fixed(-0.5)), "brake");
    let wide = Dist::Normal { mean: 12.0, sd: 4.0, low: None, high: None };
    let class = RiderClass { start: wide, ..RiderClass::alike("s", Rider::default(), 9.0, 1.0) };
    let message = class.check(20.0, &takeoff()).map_err(|error| error.to_string());
    assert!(message.is_err_and(|text| text.starts_with("class \"s\": start = ")));
}

#[test]
fn wind_blows_where_it_heads() {
    let wind = Wind { heading: TAU / 4.0, speed: Dist::Fixed(2.0) };
    assert!(wind.check().is_ok());
    assert!((wind.velocity(2.0) - crate::math::Vec3::new(0.0, 2.0, 0.0)).norm() < 1e-15);
    assert_eq!(field(Wind { heading: f64::NAN, ..wind }.check()), "wind.heading");
}

#[test]
#[allow(clippy::float_cmp, reason = "ends come back unchanged")]
fn an_interval_holds_its_ends() {
    let interval = Interval::new(1.0, 2.0);
    assert!(interval.contains(1.0) && interval.contains(2.0) && !interval.contains(2.1));
    assert!([(0.0, 1.0), (1.5, 1.5), (9.0, 2.0)].iter().all(|(x, y)| interval.nearest(*x) == *y));
}

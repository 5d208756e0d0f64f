//! Do lines lie where they were drawn, and are their derivatives those of the curve?
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use approx::assert_relative_eq;
use loamline::geometry::{Frame, GeometryError, Line, Profile};
use loamline::math::Vec3;

fn trail() -> Profile {
    let distance = [0.0, 3.0, 7.0, 9.0, 14.0, 16.0];
    let height = [6.0, 4.5, 2.0, 1.6, 1.0, 1.4];
    Profile::smooth(&distance, &height).unwrap()
}

fn difference(line: &Line, station: f64, of: impl Fn(&Frame) -> Vec3) -> Vec3 {
    // Fourth order: good to about 1e-10 for curves of a metre's scale.
    let h = 1e-3;
    let at = |k: f64| of(&line.frame(station + k * h));
    (at(-2.0) - at(2.0) + (at(1.0) - at(-1.0)) * 8.0) / (12.0 * h)
}

#[test]
fn derivatives_are_those_of_the_curve() {
    let line = trail().placed(Vec3::new(1.0, -2.0, 0.3), 0.7).unwrap().line();
    let joints = line.joints();
    assert_eq!(joints.len(), 4);
    for station in [0.4, 2.0, 5.0, 8.6, 12.0, 16.5] {
        assert!(joints.iter().all(|joint| (joint - station).abs() > 0.01));
        let frame = line.frame(station);
        let close = |a: Vec3, b: Vec3| assert_relative_eq!(a, b, epsilon = 2e-8);
        close(difference(&line, station, |f| f.position), frame.tangent);
        close(difference(&line, station, |f| f.tangent), frame.curvature);
        close(difference(&line, station, |f| f.curvature), frame.dcurvature);
        close(difference(&line, station, |f| f.normal), frame.dnormal);
        close(difference(&line, station, |f| f.dnormal), frame.ddnormal);
        assert_relative_eq!(frame.tangent.norm(), 1.0, epsilon = 1e-14);
        assert_relative_eq!(frame.tangent.dot(&frame.normal), 0.0, epsilon = 1e-14);
        assert_relative_eq!(frame.left().z, 0.0, epsilon = 1e-14);
    }
}

#[test]
fn arc_length_is_that_of_a_parabola() {
    let distance = [0.0, 1.0, 3.0];
    let line = Profile::smooth(&distance, &distance.map(|x| 0.5 * x * x)).unwrap().line();
    let length = |x: f64| 0.5 * (x * x.hypot(1.0) + x.asinh());
    assert_relative_eq!(line.length(), length(3.0), max_relative = 1e-13);
    for x in [0.0, 0.3, 1.0, 2.2, 3.0] {
        let frame = line.frame(length(x));
        assert_relative_eq!(frame.position, Vec3::new(x, 0.0, 0.5 * x * x), epsilon = 1e-12);
        let curvature = (1.0 + x * x).powf(-1.5);
        assert_relative_eq!(frame.normal_curvature(), curvature, epsilon = 1e-12);
    }
}

#[test]
fn rounded_corners_are_true_arcs_tangent_to_the_straights() {
    let radius = 2.0;
    let profile = Profile::cornered(&[0.0, 5.0, 9.0, 12.0], &[3.0, 0.0, 0.0, 1.5], radius).unwrap();
    let line = profile.line();
    let mut arcs = 0.0;
    for i in 0..2000 {
        let frame = line.frame(line.length() * (f64::from(i) + 0.5) / 2000.0);
        let curvature = frame.curvature.norm();
        assert!(curvature < 1e-12 || (curvature - 1.0 / radius).abs() < 1e-10, "{curvature}");
        arcs += if curvature > 0.1 { line.length() / 2000.0 } else { 0.0 };
    }
    // The straights' turns of heading times the radius.
    let turns = (3.0_f64 / 5.0).atan() + 0.5_f64.atan();
    assert_relative_eq!(arcs, radius * turns, epsilon = 0.02);
    for joint in line.joints() {
        let (before, after) = (line.frame(joint - 1e-9), line.frame(joint + 1e-9));
        assert_relative_eq!(before.tangent, after.tangent, epsilon = 1e-8);
    }
}

#[test]
fn a_tail_is_the_end_of_its_line() {
    let line = trail().line();
    let tail = line.tail(4.0).unwrap();
    assert_relative_eq!(tail.length(), 4.0, epsilon = 1e-12);
    let (a, b) = (tail.frame(1.0), line.frame(line.length() - 3.0));
    assert_relative_eq!(a.position, b.position, epsilon = 1e-12);
    assert!(line.tail(line.length() + 0.1).is_err());
    assert!(line.tail(0.0).is_err());
    assert!(line.tail(f64::NAN).is_err());
    let run_in = trail().run_in(6.0).unwrap();
    assert_relative_eq!(run_in.frame(0.0).position.x, 10.0, epsilon = 1e-12);
    assert!(trail().run_in(16.1).is_err());
}

#[test]
fn a_profile_can_be_hung_from_its_end() {
    let at = Vec3::new(4.0, 5.0, 6.0);
    let line = trail().ending_at(at, 2.0).unwrap().line();
    let end = line.frame(line.length());
    assert_relative_eq!(end.position, at, epsilon = 1e-12);
    assert_relative_eq!(end.tangent.y.atan2(end.tangent.x), 2.0, epsilon = 1e-12);
}

#[test]
fn profiles_that_cannot_be_are_refused_with_the_numbers() {
    let make = Profile::smooth;
    assert!(make(&[0.0], &[0.0]).is_err());
    let back = make(&[0.0, 2.0, 1.0], &[0.0; 3]).unwrap_err().to_string();
    assert!(back.contains('1') && back.contains("goes back"), "{back}");
    let nan = make(&[0.0, 1.0], &[0.0, f64::NAN]).unwrap_err().to_string();
    assert!(nan.contains("point 1") && nan.contains("distance"), "{nan}");
    let large = Profile::cornered(&[0.0, 5.0, 6.0, 9.0], &[3.0, 0.0, 0.0, 1.5], 4.0);
    let Err(GeometryError::RadiusTooLarge { index, radius, length, needed }) = large else {
        unreachable!("a radius of 4 m does not fit on 1 m");
    };
    assert_eq!(index, 1);
    assert!((radius - 4.0).abs() < 1e-12 && (length - 1.0).abs() < 1e-12 && needed > length);
    assert!(Profile::cornered(&[0.0, 5.0], &[3.0, 0.0], 0.0).is_err());
    let high = make(&[0.0, 5.0], &[3.0, 1e5]).unwrap_err().to_string();
    assert!(high.contains("height = 100000") && high.contains("within 10000 m"), "{high}");
    assert!(trail().height(16.5).is_err());
    assert!(trail().placed(Vec3::new(f64::NAN, 0.0, 0.0), 0.0).is_err());
}

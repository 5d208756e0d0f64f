//! Derivatives held against differences.

use approx::assert_relative_eq;
use loamline::feature::SurfacePoint;
use loamline::geometry::{Frame, Line};
use loamline::math::Vec3;

fn difference(line: &Line, station: f64, of: impl Fn(&Frame) -> Vec3) -> Vec3 {
    let h = 1e-3;
    let at = |k: f64| of(&line.frame(station + k * h));
    (at(-2.0) - at(2.0) + (at(1.0) - at(-1.0)) * 8.0) / (12.0 * h)
}

/// The frames along a line have the derivatives of its curve.
pub(crate) fn assert_derivatives(line: &Line) {
    let joints = line.joints();
    for i in 1..40 {
        let station = line.length() * f64::from(i) / 40.0;
        if joints.iter().any(|joint| (joint - station).abs() < 0.01) {
            continue;
        }
        let frame = line.frame(station);
        let close = |a: Vec3, b: Vec3| assert_relative_eq!(a, b, epsilon = 5e-8);
        close(difference(line, station, |f| f.position), frame.tangent);
        close(difference(line, station, |f| f.tangent), frame.curvature);
        close(difference(line, station, |f| f.curvature), frame.dcurvature);
        close(difference(line, station, |f| f.normal), frame.dnormal);
        close(difference(line, station, |f| f.dnormal), frame.ddnormal);
        assert_relative_eq!(frame.tangent.dot(&frame.normal), 0.0, epsilon = 1e-13);
        assert!(frame.normal.z > 0.0);
    }
}

/// The derivatives of a surface at a place are those of its points.
pub(crate) fn assert_surface(surface: impl Fn(f64, f64) -> SurfacePoint, s: f64, q: f64) {
    let (at, h) = (surface(s, q), 1e-3);
    let of = |ds: f64, dq: f64| surface(s + ds, q + dq);
    let close = |a: Vec3, b: Vec3| assert_relative_eq!(a, b, epsilon = 1e-5);
    close((of(h, 0.0).point - of(-h, 0.0).point) / (2.0 * h), at.ds);
    close((of(0.0, h).point - of(0.0, -h).point) / (2.0 * h), at.dq);
    close((of(h, 0.0).ds - of(-h, 0.0).ds) / (2.0 * h), at.dss);
    close((of(0.0, h).ds - of(0.0, -h).ds) / (2.0 * h), at.dsq);
    close((of(h, 0.0).dq - of(-h, 0.0).dq) / (2.0 * h), at.dsq);
    close((of(0.0, h).dq - of(0.0, -h).dq) / (2.0 * h), at.dqq);
    assert_relative_eq!(at.normal.dot(&at.ds), 0.0, epsilon = 1e-13);
    assert_relative_eq!(at.normal.dot(&at.dq), 0.0, epsilon = 1e-13);
}

//! Values printed in books, standards and papers, each computed again through the public interface
//! and held to the tolerance recorded beside it in the `.toml` files of this folder.
//!
//! A classical case is the same code with nothing switched off: the height of the centre of mass
//! is zero, the drag area is zero or the grip is as large as it takes.

use std::error::Error;
use std::f64::consts::PI;

mod atmosphere;
mod bodies;
mod clothoid;
mod curves;
mod drag;
mod earth;
mod grade;
mod harness;
mod loads;
mod projectile;
mod retaining;
mod rolling;
mod soil;
mod solve;

/// What a check computes: a value for each name in its data.
type Computed = Result<Vec<(&'static str, f64)>, Box<dyn Error>>;

const FOOT: f64 = 0.3048;

fn rad(degrees: f64) -> f64 {
    degrees * PI / 180.0
}

fn deg(radians: f64) -> f64 {
    radians * 180.0 / PI
}

/// Metres per second of kilometres per hour.
fn kmh(speed: f64) -> f64 {
    speed / 3.6
}

#[test]
fn printed_values_are_met() {
    let counts = [
        harness::run("projectile", include_str!("projectile.toml"), projectile::compute),
        harness::run("drag", include_str!("drag.toml"), drag::compute),
        harness::run("atmosphere", include_str!("atmosphere.toml"), atmosphere::compute),
        harness::run("rolling", include_str!("rolling.toml"), rolling::compute),
        harness::run("bodies", include_str!("bodies.toml"), bodies::compute),
        harness::run("loads", include_str!("loads.toml"), loads::compute),
    ];
    let earth = [
        harness::run("curves", include_str!("curves.toml"), curves::compute),
        harness::run("clothoid", include_str!("clothoid.toml"), clothoid::compute),
        harness::run("grade", include_str!("grade.toml"), grade::compute),
        harness::run("earth", include_str!("earth.toml"), earth::compute),
        harness::run("soil", include_str!("soil.toml"), soil::compute),
        harness::run("retaining", include_str!("retaining.toml"), retaining::compute),
    ];
    let of_earth: usize = earth.iter().sum();
    harness::say(&format!("{of_earth} printed values of earth, walls, slopes and spirals"));
    assert!(of_earth >= 40, "only {of_earth} printed values of earth were checked");
    let total: usize = counts.iter().sum::<usize>() + of_earth;
    harness::say(&format!("{total} printed values checked"));
    assert!(total >= 45, "only {total} printed values were checked");
}

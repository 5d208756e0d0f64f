//! How marks, times and speeds answer to a rider's unknowns and to the start mark, over invented sites and riders.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use hillside::hillside;
use loamline::Ground;
use loamline::feature::{Bank, Drop, Lip, Wall};
use loamline::flags::{Flag, Gate, MARK_SD, Seen, Speed, Spot, TestRide, Timing, Tyre, Values};
use loamline::geometry::{Plan, Turn, VerticalCurve};
use loamline::math::sampling::uniform;
use loamline::math::{Vec2, Vec3};
use loamline::ride::Lean;
use loamline::site::{Dist, Site, Takeoff, Wind};

fn between(seed: u64, name: &str, low: f64, high: f64) -> f64 {
    low + (high - low) * uniform(seed, 0, name)
}

/// A wall, a lip or a drop, every second time in wind.
fn site(seed: u64) -> Site {
    let mut site = hillside().unwrap();
    let angle = |name, low: f64, high: f64| between(seed, name, low, high).to_radians();
    let place = Vec3::new(1.0, 0.5, 0.0);
    let takeoff: Takeoff = match seed % 4 {
        0 => Drop::new(3.0, 1.4, -0.05).unwrap().placed(place, 0.7).unwrap().into(),
        1 => {
            let curve = VerticalCurve::arc(0.0, 5.0, angle("lip", 15.0, 30.0)).unwrap();
            let lip = Lip::new(curve, 1.6).unwrap().placed(place, 0.7).unwrap();
            lip.with_hip(0.3).unwrap().with_tilt(0.0, -0.15).unwrap().into()
        }
        _ => {
            let bank =
                Bank::linear(angle("bank in", 15.0, 22.0), angle("bank out", 55.0, 68.0)).unwrap();
            let plan = Plan::arc(7.0, angle("sweep", 45.0, 60.0), Turn::Left).unwrap();
            Wall::new(plan, bank, 2.4).unwrap().into()
        }
    };
    if !matches!(takeoff, Takeoff::Wall(_)) {
        site.enter = 0.0;
        for class in &mut site.classes {
            class.leave = Dist::Uniform { low: -0.4, high: 0.4 };
            class.leave_per_speed = 0.0;
        }
    }
    site.takeoff = takeoff;
    if seed % 2 == 1 {
        let speed = Dist::Fixed(between(seed, "wind", 0.5, 3.0));
        site.wind = Some(Wind { heading: angle("blows to", 0.0, 360.0), speed });
    }
    site
}

/// A ride of which everything is seen that can be, onto a slope without edges.
fn watched(seed: u64, start: f64) -> Flag {
    let is_wall = seed % 4 > 1;
    let leave = if is_wall { between(seed, "leave", 1.0, 1.4) } else { 0.1 };
    let ride = TestRide::new("steady", start).unwrap().leaving(leave).unwrap();
    let ground = Ground::plane(Vec3::new(0.0, 0.0, -0.5), 0.1, 0.9).unwrap();
    Flag::new("watched", ride)
        .with_mark(Spot::At(Vec2::zeros()), MARK_SD)
        .unwrap()
        .on(ground)
        .of_tyre(Tyre::Rear)
        .with_timing(Timing::new(Gate::UpHill(9.0), Gate::UpHill(1.5), 2.0, 0.1).unwrap())
        .with_timing(Timing::new(Gate::UpHill(0.0), Gate::Touch, 2.0, 0.1).unwrap())
        .with_timing(Timing::frames(Gate::Edge, Gate::Touch, 20.0, 30.0).unwrap())
        .with_speed(Speed::new(Gate::UpHill(4.0), 5.0, 0.1).unwrap())
        .with_speed(Speed::new(Gate::Edge, 5.0, 0.1).unwrap())
}

fn truth(seed: u64) -> Values {
    [
        between(seed, "crr", 0.015, 0.03),
        between(seed, "cda", 0.4, 0.6),
        between(seed, "brake", 0.05, 0.2),
        between(seed, "pop", -0.3, 0.4),
        between(seed, "off", -0.1, 0.1),
        between(seed, "faster", -0.1, 0.2),
    ]
}

/// Every answer to every unknown, and to the start, against differences of whole rides to the fourth order: to a millionth of
/// itself, those below a tenth to a millionth of that.
fn check(seed: u64, lean: Lean) {
    let site = site(seed);
    let (truth, start) = (truth(seed), between(seed, "start", 16.3, 17.7));
    let seen = |by: usize, off: f64| -> Seen {
        let (mut values, mut start) = (truth, start);
        match values.get_mut(by) {
            Some(value) => *value += off,
            None => start += off,
        }
        watched(seed, start).seen(&site, &values, lean).unwrap()
    };
    let answers = seen(0, 0.0).answers;
    for by in 0..=truth.len() {
        let h = if by == 0 { 1e-3 } else { 4e-3 };
        let [a, b, c, d] = [-2.0, -1.0, 1.0, 2.0].map(|k| seen(by, k * h).numbers);
        for (i, row) in answers.iter().enumerate() {
            let slope = (a[i] - 8.0 * b[i] + 8.0 * c[i] - d[i]) / (12.0 * h);
            let off = (row[by] - slope).abs();
            let what = format!("{lean:?} of {seed}, number {i} by unknown {by}");
            assert!(off <= 1e-6 * slope.abs().max(0.1), "{what}: {} for {slope}", row[by]);
        }
    }
}

#[test]
fn rides_square_to_the_surface_answer_to_everything() {
    (0..40).for_each(|seed| check(seed, Lean::Deck));
}

#[test]
fn leaning_rides_answer_to_everything() {
    for seed in 0..16 {
        check(seed, Lean::Balanced);
        check(seed, Lean::Settled);
    }
}

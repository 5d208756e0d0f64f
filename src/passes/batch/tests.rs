use super::*;
use crate::feature::{Bank, Wall};
use crate::geometry::{Plan, Turn};
use crate::math::{Vec2, Vec3};
use crate::site::Interval;

/// The wall of the demo, invented.
fn wall() -> Takeoff {
    let bank = Bank::linear(20.0_f64.to_radians(), 68.0_f64.to_radians()).unwrap();
    let plan = Plan::arc(7.0, 55.0_f64.to_radians(), Turn::Left).unwrap();
    Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap().into()
}

/// An even slope, and gentle bumps on one, invented.
fn grounds() -> [Ground; 2] {
    let height = |x: f64, y: f64| 0.1 * (1.3 * x).sin() * (1.1 * y).cos() - 0.06 * x - 0.9;
    let node = |i: u32| 0.2 * f64::from(i) - 10.0;
    let heights = (0..200 * 200).map(|i| height(node(i % 200), node(i / 200))).collect();
    let (origin, spacing) = (Vec2::repeat(-10.0), Vec2::repeat(0.2));
    [
        Ground::plane(Vec3::new(0.0, 0.0, -0.8), 0.1, 0.9).unwrap(),
        Ground::grid(origin, spacing, 200, 200, heights).unwrap(),
    ]
}

/// Speeds, places of leaving and pushes, evenly spread.
struct Spread {
    speed: Vec<f64>,
    leave: Vec<f64>,
    pop: Vec<f64>,
}

impl Spread {
    fn over(speed: Interval, leave: Interval) -> Self {
        let part = |i: u32, prime: f64| (f64::from(i + 1) * prime.sqrt()).fract();
        let within = |of: Interval, part: f64| of.low + (of.high - of.low) * part;
        Self {
            speed: (0..1024).map(|i| within(speed, part(i, 2.0))).collect(),
            leave: (0..1024).map(|i| within(leave, part(i, 3.0))).collect(),
            pop: (0..1024).map(|i| 0.4 * part(i, 5.0) - 0.1).collect(),
        }
    }

    fn entries(&self) -> Entries<'_> {
        Entries { speed: &self.speed, leave: &self.leave, pop: &self.pop }
    }
}

impl Batch {
    /// How many rows are answered together, and how many come down at all.
    fn together(&self, entries: Entries<'_>) -> [usize; 2] {
        let family = self.family.as_ref().unwrap();
        let (mut chunk, mut touches, mut fast) = (Chunk::new(), Touches::new(), 0);
        for entries in entries.pieces(ROWS) {
            ARCH.dispatch(Fill { chunk: &mut chunk, entries, family, batch: self });
            self.flights.fly(&chunk.starts, entries.speed.len(), &mut touches);
            let plain = |at: &usize| chunk.known[*at] && self.is_plain(&chunk, &touches, *at);
            fast += (0..entries.speed.len()).filter(plain).count();
        }
        let rows = self.passes(entries, &Crew { threads: Some(1), watch: None }).unwrap();
        [fast, rows.time.iter().filter(|time| time.is_finite()).count()]
    }
}

/// What keeps a batch quick is that hardly a row goes the way of one pass, which takes hundreds of times as long.
#[test]
fn most_who_come_down_are_answered_together() {
    let (rider, air) = (Rider::default().with_grip(0.9).unwrap(), Air::standard());
    let holders = Spread::over(Interval::new(8.2, 10.0), Interval::new(0.8, 1.9));
    let anyone = Spread::over(Interval::new(4.0, 11.0), Interval::new(0.05, 2.35));
    // On bumps who comes down sooner than he could right himself from lying flat goes the way of one pass.
    for (ground, percent) in grounds().iter().zip([90, 50]) {
        let batch = Batch::new(&wall(), 0.25, ground, &rider, &air).unwrap();
        let [fast, landed] = batch.together(holders.entries());
        assert!(landed == 1024 && fast >= 1014, "{fast} of {landed}");
        let [fast, landed] = batch.together(anyone.entries());
        assert!(landed > 500 && fast * 100 >= landed * percent, "{fast} of {landed}");
    }
}

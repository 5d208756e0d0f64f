//! What a trade-off comes to: which volumes are worth their earth, and from where on more gives little.

use super::fit::Fit;
use serde::{Deserialize, Serialize};

/// So far above the straight line between the ends, in shares of both ranges, a knee stands out.
const STANDS_OUT: f64 = 0.08;
/// So few riders more, as a share, are none.
const NONE: f64 = 0.005;
/// So much less fall height, metres, is none.
const NO_SOFTER: f64 = 0.01;

/// The front of a trade-off over earth, riders caught softly and the 95th percentile of fall height.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Front {
    /// Whether each fit is on it: no other takes as little earth and is as good in both.
    pub on_front: Vec<bool>,
    /// The fit from which on more earth gives clearly less than before, by its place; none where it gives about the same
    /// all along, or nothing.
    pub knee: Option<usize>,
    /// Why, in sentences.
    pub reasons: Vec<String>,
}

/// A point of the trade-off: earth, m3, share caught, 95th percentile of fall height, m.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Point {
    volume: f64,
    caught: f64,
    p95: f64,
}

impl Front {
    /// The front of fits for several budgets, in any order.
    ///
    /// The knee is the point farthest above the straight line between the front's ends, both axes drawn to their ranges
    /// (V. Satopaa, J. Albrecht, D. Irwin, B. Raghavan, *Finding a "kneedle" in a haystack*, ICDCS Workshops 2011).
    pub fn of(fits: &[Fit]) -> Self {
        let point = |fit: &Fit| Point {
            volume: fit.volume,
            caught: fit.judged(),
            p95: fit.score.p95_fall_height,
        };
        Self::through(&fits.iter().map(point).collect::<Vec<Point>>())
    }

    fn through(points: &[Point]) -> Self {
        let on_front: Vec<bool> = (0..points.len())
            .map(|one| !(0..points.len()).any(|other| dominates(points, other, one)))
            .collect();
        let mut order: Vec<usize> = (0..points.len()).filter(|place| on_front[*place]).collect();
        order.sort_by(|a, b| points[*a].volume.total_cmp(&points[*b].volume));
        let along: Vec<Point> = order.iter().map(|place| points[*place]).collect();
        let knee = knee(&along);
        let mut reasons = vec![match along[..] {
            [best] if points.len() > 1 => {
                format!("{:.1} m3 do as well as any: more earth gives nothing.", best.volume)
            }
            _ => told(&along, knee),
        }];
        reasons.extend(not_worth(points, &on_front));
        Self { on_front, knee: knee.map(|place| order[place]), reasons }
    }
}

/// Whether one fit is as good as another with as little earth, and better in something.
fn dominates(points: &[Point], one: usize, other: usize) -> bool {
    let (a, b) = (points[one], points[other]);
    let as_good = a.volume <= b.volume && a.caught >= b.caught - 1e-9 && a.p95 <= b.p95 + 1e-9;
    let better = a.volume < b.volume - 1e-9 || a.caught > b.caught + 1e-9 || a.p95 < b.p95 - 1e-9;
    // Of fits that are alike the first stays.
    as_good && (better || one < other)
}

fn knee(along: &[Point]) -> Option<usize> {
    let [first, .., last] = along else { return None };
    let (run, rise) = (last.volume - first.volume, last.caught - first.caught);
    if run <= 0.0 || rise < NONE {
        return None;
    }
    let above =
        |point: &Point| (point.caught - first.caught) / rise - (point.volume - first.volume) / run;
    let heights = along.iter().map(above).enumerate();
    let highest = heights.max_by(|a, b| a.1.total_cmp(&b.1))?;
    (highest.1 > STANDS_OUT).then_some(highest.0)
}

/// Riders of a hundred for each cubic metre between two points.
fn per_metre(from: &Point, to: &Point) -> f64 {
    100.0 * (to.caught - from.caught) / (to.volume - from.volume).max(1e-9)
}

fn told(along: &[Point], knee: Option<usize>) -> String {
    let [first, .., last] = along else {
        return "One volume alone says nothing about what more earth would give.".into();
    };
    if let Some(at) = knee.map(|place| along[place]) {
        return format!(
            "Knee at {:.1} m3: up to there each cubic metre more catches {:.0} of 100 riders more, beyond it {:.1}.",
            at.volume,
            per_metre(first, &at),
            per_metre(&at, last),
        );
    }
    if last.caught - first.caught >= NONE {
        let each = per_metre(first, last);
        return format!(
            "No knee: each cubic metre more catches about {each:.0} of 100 riders more, from {:.1} to {:.1} m3.",
            first.volume, last.volume
        );
    }
    if first.p95 - last.p95 > NO_SOFTER {
        return format!(
            "{:.1} m3 catch as many as {:.1} m3: more earth only makes it softer, 95 % at or below {:.2} m instead of {:.2} m.",
            first.volume, last.volume, last.p95, first.p95
        );
    }
    let [least, most] = [first, last].map(|point| format!("{:.1} m3", point.volume));
    if least == most {
        return format!("Each budget comes to {least} of earth, for more gives nothing.");
    }
    format!("{least} do as well as {most}.")
}

/// Which volumes are not worth their earth.
fn not_worth(points: &[Point], on_front: &[bool]) -> Option<String> {
    let named = |wanted: bool| {
        let some = points.iter().zip(on_front).filter(move |(_, on)| **on == wanted);
        some.map(|(point, _)| format!("{:.1} m3", point.volume))
    };
    // A budget that comes to a landing of the front, or nearly, condemns nothing.
    let front: Vec<String> = named(true).collect();
    let mut idle: Vec<String> = named(false).filter(|volume| !front.contains(volume)).collect();
    idle.dedup();
    (!idle.is_empty())
        .then(|| format!("Not worth the earth, as less does as well: {}.", idle.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(rows: &[(f64, f64, f64)]) -> Vec<Point> {
        rows.iter()
            .map(|(volume, caught, p95)| Point { volume: *volume, caught: *caught, p95: *p95 })
            .collect()
    }

    #[test]
    fn a_budget_left_over_condemns_no_landing() {
        let twice = points(&[(1.0, 0.5, 1.2), (2.70, 0.8, 0.9), (2.71, 0.8, 0.9)]);
        let front = Front::through(&twice);
        assert_eq!(front.on_front, [true, true, false]);
        assert!(!front.reasons.iter().any(|said| said.contains("Not worth")), "{front:?}");
        let less = Front::through(&points(&[(1.0, 0.5, 1.2), (2.7, 0.8, 0.9), (3.5, 0.79, 0.9)]));
        assert!(less.reasons.iter().any(|said| said.contains("Not worth") && said.contains("3.5")));
        let same = points(&[(0.21, 0.5, 1.2), (0.22, 0.5, 1.2)]);
        assert!(
            told(&same, None).starts_with("Each budget comes to 0.2 m3"),
            "{}",
            told(&same, None)
        );
    }

    #[test]
    fn the_bend_of_the_curve_is_its_knee() {
        let rows = [(1.0, 0.2, 2.0), (2.0, 0.8, 1.5), (4.0, 0.9, 1.2), (6.0, 0.92, 1.1)];
        let front = Front::through(&points(&rows));
        assert_eq!(front.knee, Some(1));
        assert!(front.on_front.iter().all(|on| *on));
        assert!(front.reasons[0].contains("2.0 m3") && front.reasons[0].contains(" 60 of 100"));
        assert!(front.reasons[0].contains("beyond it 3.0"), "{:?}", front.reasons);
    }

    #[test]
    fn an_even_climb_has_none_and_a_flat_one_says_what_it_gives() {
        let even = Front::through(&points(&[(1.0, 0.2, 2.0), (2.0, 0.4, 1.5), (3.0, 0.6, 1.2)]));
        assert_eq!(even.knee, None);
        assert!(even.reasons[0].contains("20 of 100"));
        let flat = Front::through(&points(&[(1.0, 0.9, 0.9), (2.0, 0.9, 0.7)]));
        assert!(flat.knee.is_none() && flat.reasons[0].contains("0.70 m instead of 0.90 m"));
        let alone = Front::through(&points(&[(1.0, 0.9, 0.9)]));
        assert!(alone.knee.is_none() && alone.on_front == [true]);
        assert!(alone.reasons[0].starts_with("One volume alone"), "{alone:?}");
        let best = Front::through(&points(&[(1.0, 0.9, 0.9), (1.5, 0.9, 0.9), (2.0, 0.88, 0.9)]));
        assert!(best.reasons[0].starts_with("1.0 m3 do as well as any"), "{best:?}");
    }

    #[test]
    fn earth_that_gives_nothing_is_off_the_front() {
        let rows = [(3.0, 0.8, 1.0), (1.0, 0.8, 1.0), (2.0, 0.9, 0.9), (2.0, 0.9, 0.9)];
        let front = Front::through(&points(&rows));
        assert_eq!(front.on_front, [false, true, true, false]);
        assert!(front.reasons[1].contains("3.0 m3"), "{:?}", front.reasons);
    }
}

//! Peaks of landings on foot against published force-plate tables: the range from soft to stiff legs.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use loamline::Rider;
use loamline::load::Impact;

// Drop height, m, and peak, body weights, of gymnasts: J. L. McNitt-Gray, Int. J. Sport Biomech. 7 (1991) 201-224 (ends as
// a review of 2014 tabulates them, the middle from memory). The stiffest of the tables.
const GYMNASTS: [(f64, f64); 3] = [(0.32, 3.9), (0.72, 6.3), (1.28, 11.0)];
// Recreational athletes, second peak: J. G. Seegmiller, S. T. McCaw, J. Athl. Train. 38 (2003) 311-314 (21.5, 27.0 and
// 37.4 N/kg).
const RECREATIONAL: [(f64, f64); 3] = [(0.3, 21.5 / G), (0.6, 27.0 / G), (0.9, 37.4 / G)];
// A practised soft landing: D. L. Puddle, P. S. Maulder, J. Sports Sci. Med. 12 (2013) 122-129; and the same people landing
// as they are used to.
const PRACTISED: (f64, f64) = (0.75, 3.2);
const ORDINARY: (f64, f64) = (0.75, 5.2);
const G: f64 = 9.80665;

/// The least peak on foot with legs of a stroke.
fn peak(height: f64, stroke: f64) -> f64 {
    let impact = Impact::from_height(height).unwrap();
    let chain = Rider::default().chain_on_foot(&impact).unwrap();
    chain.least_leg_force(&impact, stroke).unwrap().bodyweights
}

fn between(table: &[(f64, f64)], height: f64) -> f64 {
    let last = table.len() - 1;
    let at = table.iter().position(|(h, _)| *h >= height).unwrap_or(last).max(1);
    let ((a, fa), (b, fb)) = (table[at - 1], table[at]);
    fa + (fb - fa) * (height - a) / (b - a)
}

#[test]
fn soft_to_stiff_legs_stay_within_the_tables() {
    for height in [0.3, 0.6, 0.75, 0.9, 1.28] {
        let (soft, stiff) = (peak(height, 0.25), peak(height, 0.15));
        // No table has soft landings above 0.9 m: they are no softer than there.
        let least = between(&RECREATIONAL, height.min(0.9));
        let most = between(&GYMNASTS, height);
        assert!(
            least < soft && soft < stiff && stiff < most,
            "{height}: {least} {soft} {stiff} {most}"
        );
    }
}

#[test]
fn every_published_peak_belongs_to_a_stroke_that_legs_have() {
    let published = GYMNASTS.iter().chain(&RECREATIONAL).chain([&PRACTISED, &ORDINARY]);
    for (height, force) in published {
        let (mut short, mut long) = (0.05, 0.8);
        for _ in 0..30 {
            let middle = 0.5 * (short + long);
            if peak(*height, middle) > *force { short = middle } else { long = middle }
        }
        assert!((0.1..0.45).contains(&short), "{height} m, {force} body weights: {short} m");
    }
}

#[test]
fn the_default_legs_take_the_practised_landing_they_were_taken_from() {
    let (height, force) = PRACTISED;
    let loads = Rider::default().loads_on_foot(&Impact::from_height(height).unwrap()).unwrap();
    assert!((loads.peak_bodyweights() - force).abs() < 0.05, "{}", loads.peak_bodyweights());
    assert!(!loads.stages[0].bottomed(), "{:?}", loads.stages[0].used);
}

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use super::*;
use crate::rider::Absorber;
use approx::assert_relative_eq;
use proptest::prelude::*;
use std::f64::consts::PI;

const G: f64 = 9.80665;

/// One strut under one mass.
fn single(strut: Strut, mass: f64) -> Chain {
    Chain::new(vec![Link::new(Stage::Ground, Part::Strut(strut), mass).unwrap()]).unwrap()
}

fn spring(stiffness: f64) -> Strut {
    Strut::spring(stiffness).unwrap()
}

fn drop_of(height: f64) -> Impact {
    Impact::from_height(height).unwrap()
}

#[test]
fn an_undamped_spring_has_its_closed_form_on_every_slope() {
    for height in [0.0, 0.01, 0.3, 1.0, 3.0] {
        for slope in [0.0, 0.3, 1.0] {
            for stiffness in [500.0, 17_800.0, 3e5] {
                let impact = drop_of(height).with_slope(slope).unwrap();
                let loads = single(spring(stiffness), 80.0).with_longest(8.0).unwrap();
                let loads = loads.loads(&impact).unwrap();
                let exact = undamped_spring(&impact, 80.0, stiffness).unwrap();
                assert_relative_eq!(loads.peak_bodyweights(), exact.force, max_relative = 1e-11);
                assert_relative_eq!(loads.stages[0].used.value, exact.used, max_relative = 1e-11);
            }
        }
    }
}

#[test]
fn a_force_that_is_constant_is_the_bound_itself() {
    // Legs without a spring's rise: as stiff as can be, yielding at 3.2 weights.
    let force = 3.2 * 80.0 * G;
    for (height, slope) in [(0.5, 0.0), (0.75, 0.4), (1.5, 0.2)] {
        let impact = drop_of(height).with_slope(slope).unwrap();
        let loads = single(spring(1e10).yielding_at(force).unwrap(), 80.0).loads(&impact).unwrap();
        let bound = constant_force(&impact, loads.lowest.value);
        assert_relative_eq!(loads.mean_bodyweights(), bound, max_relative = 1e-15);
        assert_relative_eq!(loads.peak_bodyweights(), 3.2, max_relative = 1e-9);
        // The spring's rise is 3e-7 m of some tenths.
        assert_relative_eq!(bound, 3.2, max_relative = 2e-6);
    }
}

/// The motion of a mass with a spring and a damper, no gravity, from rest length at speed 1.
#[test]
fn a_damped_spring_lets_go_where_its_force_ends() {
    for zeta in [0.1, 0.2, 0.5] {
        let (mass, stiffness) = (2.0_f64, 800.0);
        let damping = 2.0 * zeta * (mass * stiffness).sqrt();
        let strut = spring(stiffness).with_damping(damping).unwrap();
        let chain = single(strut, mass).with_longest(0.5).unwrap();
        let wall = Impact::at_speed(1.0).unwrap().with_slope(PI / 2.0).unwrap();
        let loads = chain.loads(&wall).unwrap();
        let root = (1.0 - zeta * zeta).sqrt();
        let angle = PI - (2.0 * zeta * root).atan2(1.0 - 2.0 * zeta * zeta);
        let restitution = (-zeta / root * angle).exp();
        let momentum = loads.ledger.momentum_left;
        assert_relative_eq!(-momentum / mass, restitution, max_relative = 1e-9);
    }
}

#[test]
fn a_rider_lands_softly_on_the_bike() {
    let loads = Rider::default().loads_of(&drop_of(0.6)).unwrap();
    assert_eq!(loads.stages.len(), 3);
    assert_relative_eq!(loads.peak_bodyweights(), 3.2, max_relative = 1e-9);
    assert!(!loads.stage(Stage::Legs).unwrap().bottomed());
    assert!(loads.warnings.is_empty(), "{:?}", loads.warnings);
    assert_eq!((loads.end, loads.duration), (RecordEnd::Longest, 1.0));
    assert_eq!((loads.time.len(), loads.force().len()), (1000, 1000));
    assert!(loads.mean_bodyweights() < loads.peak_bodyweights());
    let explained = loads.explain().to_string();
    assert!(explained.contains("data are few") && explained.contains("certify nothing"));
}

#[test]
fn a_high_drop_bottoms_and_says_so() {
    let loads = Rider::default().loads_of(&drop_of(2.5)).unwrap();
    assert!(loads.stage(Stage::Legs).unwrap().bottomed());
    let words: Vec<String> = loads.warnings.iter().map(ToString::to_string).collect();
    assert!(words.iter().any(|w| w.contains("legs and arms use up")), "{words:?}");
    assert!(words.iter().any(|w| w.contains("above 1.5 m")), "{words:?}");
}

#[test]
fn the_band_falls_with_the_stroke_and_its_force_just_holds() {
    let rider = Rider::default();
    for height in [0.05, 0.5, 1.0, 2.0] {
        let loads = rider.loads_of(&drop_of(height)).unwrap();
        let band = loads.band().unwrap();
        assert_eq!(band.len(), 4);
        assert!(band.windows(2).all(|p| p[1].bodyweights <= p[0].bodyweights), "{band:?}");
        // Legs alone would take it at 1 + h/s: the bike only helps.
        assert!(band.iter().all(|p| p.bodyweights < 1.0 + height / (0.95 * p.stroke) + 0.06));
    }
}

/// On foot, with legs of one force, `f (s - r s / 2) = h + s` for a rise over the share `r` of the stroke: derived.
#[test]
fn the_least_force_on_foot_has_its_closed_form() {
    let absorber = Absorber { leg_damping: 0.0, ..Absorber::default() };
    let rider = Rider::default().with_absorber(absorber).unwrap();
    for (height, stroke) in [(0.75, 0.34), (1.28, 0.15), (0.3, 0.5)] {
        let impact = drop_of(height);
        let chain = rider.chain_on_foot(&impact).unwrap();
        let force = chain.least_leg_force(&impact, stroke).unwrap().bodyweights;
        assert_relative_eq!(force, (height / stroke + 1.0) / 0.95, max_relative = 1e-6);
    }
}

/// Derived cases of the closed form, found by another integration.
#[test]
fn a_suspension_in_series_with_yielding_legs() {
    let damped = SprungThenYielding::new(0.16, 0.25, 0.5).unwrap();
    let bare = SprungThenYielding::new(0.16, 0.25, 0.0).unwrap();
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-5, "{a} {b}");
    let low = damped.least_force(&drop_of(0.61), 0.34).unwrap();
    close(low.force, 2.717636);
    close(low.used, 0.07247);
    let high = damped.least_force(&drop_of(1.5), 0.34).unwrap();
    close(high.force, 4.865129);
    close(high.used, 0.129737);
    let stopped = bare.least_force(&drop_of(1.5), 0.34).unwrap();
    close(stopped.force, 4.941176);
    assert!(stopped.bottomed && !high.bottomed);
    close(stopped.used, 0.16);
    close(damped.capacity(4.0, 0.34).unwrap(), 1.126667);
}

/// The chain with a light frame on a linear spring comes to the closed form as the frame's mass goes to nothing.
#[test]
fn the_chain_tends_to_the_closed_form_of_two_stages() {
    let (body, travel, sag) = (80.0, 0.16, 0.25);
    let exact = SprungThenYielding::new(travel, sag, 0.0).unwrap();
    for height in [0.61, 1.5] {
        let impact = drop_of(height);
        let wanted = exact.least_force(&impact, 0.34).unwrap();
        let used = |frame: f64| {
            let weight = body * G;
            let bike = spring(weight / (sag * travel)).stopped_at(travel, 1e8).unwrap();
            let legs = spring(1e8).yielding_at(wanted.force * weight).unwrap();
            let links = vec![
                Link::new(Stage::Suspension, Part::Strut(bike), frame).unwrap(),
                Link::new(Stage::Legs, Part::Strut(legs), body).unwrap(),
            ];
            Chain::new(links).unwrap().loads(&impact).unwrap().stages[1].used.value
        };
        let (coarse, fine) = ((used(0.4) - 0.34).abs(), (used(0.1) - 0.34).abs());
        assert!(fine < 0.4 * coarse && fine < 2e-3, "{coarse} {fine}");
    }
}

#[test]
fn crushed_ground_caps_the_force_and_keeps_its_dent() {
    let impact = drop_of(1.0).onto(Softness::crushing(2e5, 2000.0).unwrap());
    let loads = Rider::default().loads_of(&impact).unwrap();
    assert_relative_eq!(loads.stages[0].peak.value, 2000.0, max_relative = 1e-9);
    let soft = drop_of(1.0).onto(Softness::spring(2e4).unwrap());
    let on_soft = Rider::default().loads_on_foot(&soft).unwrap();
    let on_hard = Rider::default().loads_on_foot(&drop_of(1.0)).unwrap();
    assert_eq!(on_soft.stages.len(), 2);
    assert!(on_soft.peak_bodyweights() <= on_hard.peak_bodyweights());
}

#[test]
fn a_rigid_bike_has_no_suspension() {
    let rider = Rider::default().with_absorber(Absorber::rigid()).unwrap();
    let loads = rider.loads_of(&drop_of(0.6)).unwrap();
    assert!(loads.stage(Stage::Suspension).is_none());
    assert_relative_eq!(loads.chain.mass(), rider.mass(), max_relative = 1e-15);
}

#[test]
fn wrong_input_is_named() {
    let text = |error: LoadError| error.to_string();
    assert!(text(Impact::from_height(-1.0).unwrap_err()).starts_with("fall_height = -1"));
    assert!(text(Impact::at_speed(f64::NAN).unwrap_err()).starts_with("normal_speed = NaN"));
    assert!(text(drop_of(0.0).with_slope(PI / 2.0).unwrap_err()).contains("normal_speed = 0"));
    let light = Rider::default().with_mass(15.0).unwrap();
    assert!(text(light.loads_of(&drop_of(1.0)).unwrap_err()).contains("mass = 15"));
    assert_eq!(Chain::new(vec![]).unwrap_err(), LoadError::NoStage);
    assert!(Softness::spring(0.0).is_err() && Softness::crushing(1.0, f64::INFINITY).is_err());
}

fn absorbers() -> impl Strategy<Value = Absorber> {
    let bike =
        (5e4..4e5f64, 0.5..12.0f64, 2.0..15.0f64, prop::option::weighted(0.8, 0.08..0.22f64));
    let suspension = (0.1..0.4f64, 1.0..3.0f64, 0.0..3000.0f64, 0.0..3000.0f64);
    let legs = (0.1..0.6f64, 1.5..8.0f64, 5e3..6e4f64, prop_oneof![Just(0.0), 50.0..2500.0f64]);
    (bike, suspension, legs).prop_map(|(bike, suspension, legs)| Absorber {
        tyre_stiffness: bike.0,
        unsprung_mass: bike.1,
        frame_mass: bike.2,
        travel: bike.3,
        sag: suspension.0,
        progression: suspension.1,
        compression: suspension.2,
        rebound: suspension.3,
        leg_stroke: legs.0,
        leg_force: legs.1,
        leg_stiffness: legs.2,
        leg_damping: legs.3,
    })
}

fn grounds() -> impl Strategy<Value = Softness> {
    prop_oneof![
        Just(Softness::Rigid),
        (1e4..1e6f64).prop_map(|k| Softness::spring(k).unwrap()),
        (1e4..1e6f64, 500.0..6000.0f64).prop_map(|(k, f)| Softness::crushing(k, f).unwrap()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// Whatever the chain: energy and momentum add up, no peak is below the bound, a tyre never pulls.
    #[test]
    fn every_landing_adds_up(
        absorber in absorbers(), ground in grounds(), height in 0.0..3.0f64, slope in 0.0..1.2f64,
    ) {
        let rider = Rider::default().with_absorber(absorber).unwrap();
        let impact = drop_of(height).with_slope(slope).unwrap().onto(ground);
        for loads in [rider.loads_of(&impact).unwrap(), rider.loads_on_foot(&impact).unwrap()] {
            prop_assert!(loads.ledger.energy_residual().abs() < 1e-8, "{:?}", loads.ledger);
            prop_assert!(loads.ledger.momentum_residual().abs() < 1e-8, "{:?}", loads.ledger);
            let topmost = loads.chain.links().last().unwrap().mass();
            let peak = loads.peak().value / (topmost * G);
            let bound = loads.mean_bodyweights();
            prop_assert!(bound.is_nan() || peak >= bound * (1.0 - 1e-9), "{} {}", peak, bound);
            prop_assert!(loads.stages[0].force.iter().all(|force| *force >= -1e-6));
            for stage in &loads.stages {
                let sampled = stage.force.iter().copied().fold(0.0, f64::max);
                prop_assert!(stage.peak.value >= sampled - 1e-6);
            }
        }
    }
}

use super::*;
use crate::earth::{Footing, Soil};

fn exactly(value: f64) -> Spread {
    Spread::exactly(value).expect("a number")
}

/// A gravity wall 6 m high, 1.5 m wide on top and 3.5 m at the base, of 22.5 kN/m3, holding 16 kN/m3 at 30 degrees:
/// a textbook's inputs and method; its results derived by hand.
#[test]
fn pressures_under_a_gravity_wall() {
    let wall = Crib::new(6.0, 3.5).and_then(|c| c.with_top_width(1.5));
    let wall = wall.and_then(|c| c.with_unit_weight(22.5e3)).expect("a wall");
    let fill = Backfill::new(exactly(30f64.to_radians()), exactly(16e3)).expect("a backfill");
    let held = wall.holds(&fill, Theory::Rankine).expect("held");
    assert!((held.thrust.level().force - 96e3).abs() < 1e-6);
    assert!((wall.weight() - 337.5e3).abs() < 1e-6);
    let bearing = held.bearing.expect("it stands");
    assert!((bearing.toe - 118.8367e3).abs() < 1.0 && (bearing.heel - 74.0204e3).abs() < 1.0);
    assert!((held.sliding.value() - 0.25 * 337.5 / 96.0).abs() < 1e-12);
    let holding = 337.5 * wall.middle();
    assert!((held.overturning.value() - holding / (96.0 * 2.0)).abs() < 1e-12);
}

#[test]
fn spans_run_from_weak_to_strong_earth() {
    let crib = Crib::new(1.0, 0.9).expect("a crib");
    let held = crib.holds(&Backfill::of(&Soil::loam()), Theory::Rankine).expect("held");
    for ratio in [held.sliding, held.overturning] {
        assert!(ratio.low() < ratio.value() && ratio.value() < ratio.high());
    }
    // A slope between the low and the middle of the span: the weak end does not stand at all.
    let steep = Backfill::of(&Soil::sand()).with_slope(29f64.to_radians()).expect("a backfill");
    let held = crib.holds(&steep, Theory::Rankine).expect("held");
    assert!(held.sliding.low().abs() < 1e-12);
}

#[test]
fn what_weakens_it_shows() {
    let crib = Crib::new(1.1, 0.9).expect("a crib");
    let fill = Backfill::of(&Soil::loam());
    let sliding = |crib: &Crib, fill: &Backfill, theory| {
        crib.holds(fill, theory).expect("held").sliding.value()
    };
    let dry = sliding(&crib, &fill, Theory::Rankine);
    for worse in [fill.with_slope(0.3), fill.with_surcharge(4.3e3), fill.with_water(0.5)] {
        assert!(sliding(&crib, &worse.expect("a backfill"), Theory::Rankine) < dry);
    }
    assert!(sliding(&crib, &fill, Theory::AtRest) < dry);
    let rough = Theory::Coulomb { wall_friction: 0.3 };
    assert!(sliding(&crib, &fill, rough) > dry);
    let leaning = crib.with_lean(0.1).expect("a crib");
    assert!(sliding(&leaning, &fill, rough) > sliding(&crib, &fill, rough));
    assert!(sliding(&crib.with_footing(Footing::gravel()), &fill, Theory::Rankine) > dry);
}

#[test]
fn a_high_loaded_wet_and_narrow_one_warns_of_all_that() {
    let fill = Backfill::of(&Soil::clay()).with_surcharge(4.3e3).and_then(|f| f.with_water(1.0));
    let crib = Crib::new(2.0, 0.5).expect("a crib");
    let held = crib.holds(&fill.expect("a backfill"), Theory::Rankine).expect("held");
    assert!(matches!(
        held.warnings[..],
        [
            Caution::AsksForAnEngineer { .. },
            Caution::Loaded { .. },
            Caution::Slides { .. },
            Caution::Tips { .. },
            Caution::HoldsWater { .. }
        ]
    ));
    assert!(held.bearing.is_none(), "it tips");
    assert!(held.warnings.iter().all(|caution| caution.to_string().len() > 40));
    assert!(held.explain().to_string().contains("Rankine"));
}

#[test]
fn a_low_wide_one_on_gravel_holds_in_silence() {
    let crib = Crib::new(0.6, 0.9).expect("a crib").with_footing(Footing::gravel());
    let held = crib.holds(&Backfill::of(&Soil::gravel()), Theory::Rankine).expect("held");
    assert_eq!(held.warnings, []);
}

/// The heel lifts where the base is pressed outside its middle third; the toe then bears twice the mean of what is left.
#[test]
fn a_lifted_heel() {
    let crib = Crib::new(1.5, 0.75).expect("a crib");
    let held = crib.holds(&Backfill::of(&Soil::loam()), Theory::Rankine).expect("held");
    if let Some(Bearing { toe, heel, eccentricity }) = held.bearing {
        assert!(eccentricity > 0.75 / 6.0 && heel.abs() < 1e-9);
        let pressed = 3.0 * (0.375 - eccentricity);
        assert!((0.5 * toe * pressed - crib.weight()).abs() < 1e-6);
    } else {
        panic!("it stands");
    }
}

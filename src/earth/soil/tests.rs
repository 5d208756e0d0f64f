use super::*;

#[test]
fn every_name_gives_its_soil() {
    for name in Soil::NAMES {
        assert_eq!(Soil::named(name).expect("a soil").name(), name);
    }
    assert!(Soil::named("chalk").is_err_and(|error| error.to_string().contains("loam, sand")));
    assert!(Soil::named("duff").is_err_and(|error| error.to_string().contains("strip it")));
}

#[test]
fn numbers_of_the_tables_hold() {
    for name in Soil::NAMES {
        let soil = Soil::named(name).expect("a soil");
        assert_eq!(Soil::try_from(soil.numbers.clone()), Ok(soil));
    }
}

#[test]
fn numbers_that_cannot_be_are_named() {
    let only = |value| Spread::exactly(value).expect("a number");
    assert!(Soil::loam().with_swell(only(-0.1)).is_err_and(|e| e.field == "swell"));
    assert!(Soil::loam().with_shrinkage(only(1.0)).is_err_and(|e| e.field == "shrinkage"));
    assert!(Soil::loam().with_unit_weight(only(0.0)).is_err_and(|e| e.field == "unit_weight"));
    assert!(Soil::loam().with_stand_up(only(FRAC_PI_2)).is_err_and(|e| e.field == "stand_up"));
    assert!(Soil::loam().with_shrinkage(only(-0.36)).is_ok());
    assert!(Soil::loam().with_densities(1500.0, 0.0, 1700.0).is_err_and(|e| e.field == "loose"));
    assert!(Soil::loam().with_densities(1500.0, 1600.0, 1700.0).is_err_and(|e| e.field == "swell"));
}

/// S. W. Nunnally's densities, kg/m3, of bank and compacted earth follow from loose ones (from memory).
#[test]
fn densities_follow_from_swell_and_shrinkage() {
    for (soil, bank, compacted) in [
        (Soil::loam(), 1839.0, 2047.0),
        (Soil::clay(), 1780.0, 2225.0),
        (Soil::sand(), 1899.0, 2166.0),
    ] {
        let in_bank = soil.loose_density().value() * (1.0 + soil.swell().value());
        assert!((in_bank / bank - 1.0_f64).abs() < 0.003, "{}", soil.name());
        let placed = in_bank / (1.0 - soil.shrinkage().value());
        assert!((placed / compacted - 1.0_f64).abs() < 0.006, "{}", soil.name());
    }
}

/// FAO Training Series 20/1, section 6.1 (from memory): 130 cm at 15 % settlement is built 153 cm high.
#[test]
fn settlement_is_built_up() {
    let settlement = Spread::exactly(0.15).expect("a share");
    let soil = Soil::clay().with_settlement(settlement).expect("a soil");
    assert!((soil.built_height(1.30) - 1.53).abs() < 0.005);
}

//! Ensembles: the same numbers on any number of threads, each class its weight, reasons for who stays.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use hillside::hillside;
use loamline::math::parallel::Crew;
use loamline::passes::{Passes, PassesError};
use loamline::site::{Dist, Site};

fn crew(threads: usize) -> Crew<'static> {
    Crew { threads: Some(threads), watch: None }
}

fn passes(site: &Site, n: usize, seed: u64) -> Passes {
    site.passes(n, seed, &crew(2)).unwrap()
}

#[test]
fn threads_do_not_change_a_bit() {
    let site = hillside().unwrap();
    let one = site.passes(96, 7, &crew(1)).unwrap();
    for threads in [2, 4] {
        assert!(site.passes(96, 7, &crew(threads)).unwrap() == one, "{threads} threads");
    }
    assert!(site.passes(96, 8, &crew(2)).unwrap() != one);
}

#[test]
fn a_class_comes_as_often_as_its_weight_says() {
    let site = hillside().unwrap();
    let passes = passes(&site, 200, 1);
    let total: f64 = passes.members().iter().map(|pass| pass.drawn.weight).sum();
    assert!((total - 1.0).abs() < 1e-12);
    for class in &site.classes {
        let summary = passes.summary_of(&class.name).unwrap();
        assert!((summary.weight - class.weight).abs() < 1e-12, "{}", class.name);
        assert!((summary.count as f64 / 200.0 - class.weight).abs() < 0.02, "{}", class.name);
    }
    assert!(passes.summary_of("brave").is_none());
}

#[test]
fn who_leaves_lands_where_the_ground_is() {
    let site = hillside().unwrap();
    let ground = site.ground().unwrap();
    let passes = passes(&site, 128, 3);
    assert!(passes.share_leaving() > 0.9);
    let mut landed = 0;
    for pass in passes.members() {
        let Some(contact) = pass.contact() else { continue };
        let height = ground.height(contact.mark.x, contact.mark.y).unwrap();
        assert!((contact.mark.z - height).abs() < 1e-6);
        assert!(pass.exit_speed.unwrap() > 0.0 && contact.fall_height >= 0.0);
        landed += 1;
    }
    assert!(landed > 100);
}

#[test]
fn the_same_ground_again_gives_the_same_touches() {
    let site = hillside().unwrap();
    let passes = passes(&site, 64, 5);
    let again = passes.on(&site.ground().unwrap(), &crew(2)).unwrap();
    for (a, b) in passes.members().iter().zip(again.members()) {
        match (a.contact(), b.contact()) {
            (Some(a), Some(b)) => assert!((a.mark - b.mark).norm() < 1e-7),
            (a, b) => assert_eq!(a.is_some(), b.is_some()),
        }
    }
}

#[test]
fn nobody_who_leaves_is_an_error_that_says_why() {
    let mut site = hillside().unwrap();
    for class in &mut site.classes {
        class.start = Dist::Fixed(2.0);
    }
    let error = site.passes(32, 1, &crew(2)).unwrap_err();
    let PassesError::NobodyLeaves { count, ref reasons } = error else { panic!("{error}") };
    assert_eq!(count, 32);
    let shares: f64 = reasons.iter().map(|reason| reason.share).sum();
    assert!((shares - 1.0).abs() < 1e-9);
    assert!(error.to_string().contains("none leaves the edge"), "{error}");
}

#[test]
fn none_and_too_many_are_out_of_range() {
    let site = hillside().unwrap();
    for n in [0, usize::MAX] {
        let message = site.passes(n, 1, &crew(1)).unwrap_err().to_string();
        assert!(message.starts_with("n = "), "{message}");
    }
}

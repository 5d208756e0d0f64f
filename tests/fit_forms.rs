//! Landings of other forms than one straight face, for riders in doubt, and for whom the builder has in mind.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use hillside::hillside;
use loamline::design::{
    Fit, FitOptions, Form, by_scenario, fit_form, fit_landing, score, score_many,
};
use loamline::ground::Landing;
use loamline::math::parallel::Crew;
use loamline::passes::{Doubt, Passes};
use loamline::site::{Interval, Site};

const CREW: Crew<'static> = Crew { threads: None, watch: None };
const LIMIT: f64 = 1.0;

fn site_and_passes(n: usize) -> (Site, Passes) {
    let mut site = hillside().unwrap();
    site.landing.area.clear();
    let passes = site.passes(n, 1, &CREW).unwrap();
    (site, passes)
}

fn fit(passes: &Passes, site: &Site, volume: f64, form: Form) -> Fit {
    fit_form(passes, site, (volume, LIMIT), &FitOptions::of(form, 1), &CREW).unwrap()
}

/// What a fit says of itself is what its faces come to when they are built by themselves.
fn check(passes: &Passes, fit: &Fit, budget: f64) {
    let ground = fit.on(passes.ground()).unwrap();
    let landed = passes.on(&ground, &CREW).unwrap();
    let again = score(&landed, &fit.landings(), LIMIT);
    assert!((again.caught - fit.score.caught).abs() < 1e-12, "{again:?} {fit:?}");
    let mut below = passes.ground().clone();
    let mut volume = 0.0;
    for face in fit.landings() {
        let built = face.resolve(&below).unwrap();
        volume += built.volume().unwrap().fill;
        below = below.with_built(&built);
    }
    assert!(volume <= budget + 1e-9 && (volume - fit.volume).abs() < 1e-9, "{volume}");
}

#[test]
fn a_rounded_foot_has_its_radius_and_a_hollow_face_serves_fewer() {
    let (site, passes) = site_and_passes(256);
    let straight = fit(&passes, &site, 3.0, Form::Straight);
    let rounded = fit(&passes, &site, 3.0, Form::RoundedFoot { radius: Interval::new(2.0, 4.0) });
    check(&passes, &rounded, 3.0);
    assert!((2.0..=4.0).contains(&rounded.landing.foot_radius()));
    // Common practice: a straight face serves a range of speeds better than the same earth hollowed.
    let hollow = fit(&passes, &site, 3.0, Form::RoundedFoot { radius: Interval::new(16.0, 20.0) });
    check(&passes, &hollow, 3.0);
    assert!(straight.score.caught > hollow.score.caught, "{straight:?} {hollow:?}");
    assert!(straight.score.caught >= rounded.score.caught - 0.005, "{straight:?} {rounded:?}");
}

#[test]
fn two_faces_share_the_earth() {
    let (site, passes) = site_and_passes(128);
    let two = fit(&passes, &site, 4.0, Form::TwoFaces);
    check(&passes, &two, 4.0);
    assert_eq!(two.landings().len(), 2);
    let [one, other] = two.landings()[..] else { panic!("two faces") };
    for face in [one, other] {
        assert!(
            site.landing.slope.contains(face.slope()) && site.landing.width.contains(face.width())
        );
    }
}

#[test]
fn in_doubt_the_fit_is_the_one_that_holds_up() {
    let (site, passes) = site_and_passes(512);
    let doubt = Doubt::default().with_scenarios(4).unwrap();
    let doubted = site.passes_in_doubt(512, 1, &doubt, &CREW).unwrap();
    assert_eq!((doubted.scenarios(), passes.scenarios()), (4, 1));
    let robust = fit_landing(&doubted, &site, 2.5, LIMIT, 1, &CREW).unwrap();
    assert_eq!(robust.scenarios.len(), 4);
    let plain = fit_landing(&passes, &site, 2.5, LIMIT, 1, &CREW).unwrap();
    assert!(plain.scenarios.is_empty());
    let landed = doubted.on(&plain.on(passes.ground()).unwrap(), &CREW).unwrap();
    let mut shares: Vec<f64> =
        by_scenario(&landed, &plain.landings(), LIMIT).iter().map(|score| score.caught).collect();
    shares.sort_by(f64::total_cmp);
    let plain_judged = 0.5 * (shares[0] + shares[1]);
    assert!(robust.judged() >= plain_judged - 0.01, "{} {plain_judged}", robust.judged());
    assert!(site.passes_in_doubt(3, 1, &doubt, &CREW).is_err());
}

#[test]
fn who_counts_more_is_served_better() {
    let (site, passes) = site_and_passes(512);
    let names: Vec<String> = passes.classes().to_vec();
    let caught_of = |passes: &Passes, fit: &Fit, who: usize| {
        let landed = passes.on(&fit.on(passes.ground()).unwrap(), &CREW).unwrap();
        let only: Vec<(String, f64)> =
            names.iter().enumerate().map(|(i, n)| (n.clone(), f64::from(i == who))).collect();
        score(&landed.weighted(&only).unwrap(), &fit.landings(), LIMIT).caught
    };
    let fitted = |passes: &Passes| fit_landing(passes, &site, 1.6, LIMIT, 1, &CREW).unwrap();
    let plain = fitted(&passes);
    for (who, name) in names.iter().enumerate() {
        let heavy = passes.weighted(&[(name.clone(), 20.0)]).unwrap();
        let total: f64 = heavy.members().iter().map(|pass| pass.drawn.weight).sum();
        assert!((total - 1.0).abs() < 1e-12);
        let (before, after) =
            (caught_of(&passes, &plain, who), caught_of(&passes, &fitted(&heavy), who));
        assert!(after >= before - 0.01, "{name}: {before} {after}");
    }
    for factors in [vec![("nobody".to_owned(), 2.0)], vec![(names[0].clone(), -1.0)]] {
        assert!(passes.weighted(&factors).unwrap_err().to_string().contains("weights["));
    }
    let none: Vec<(String, f64)> = names.iter().map(|name| (name.clone(), 0.0)).collect();
    assert!(passes.weighted(&none).is_err());
}

#[test]
fn many_landings_are_scored_nearly_exactly() {
    let (_, passes) = site_and_passes(256);
    let marks = passes.members().iter().filter_map(|pass| Some(pass.contact()?.mark.xy()));
    let landings: Vec<Landing> = marks
        .step_by(25)
        .map(|mark| {
            let crest = mark - loamline::math::Vec2::new(0.5, 1.4);
            Landing::new(crest, 1.2, 0.28, 3.5, 3.0).unwrap().with_batter(0.55).unwrap()
        })
        .collect();
    let many = score_many(&passes, &landings, LIMIT, &CREW).unwrap();
    let mut worst = 0.0_f64;
    for (landing, quick) in landings.iter().zip(&many) {
        let Ok(built) = landing.resolve(passes.ground()) else { continue };
        let landed = passes.on(&passes.ground().with_built(&built), &CREW).unwrap();
        worst = worst.max((score(&landed, &[*landing], LIMIT).caught - quick.caught).abs());
    }
    assert!(worst < 0.03, "{worst}");
    assert!(score_many(&passes, &landings, 0.0, &CREW).is_err());
}

//! The fitted landing: within its budget and bounds, better than chance, the same on any threads.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use hillside::hillside;
use loamline::design::{Fit, FitError, fit_landing, score, tradeoff};
use loamline::ground::{BuiltLanding, Landing};
use loamline::math::outline::overlap;
use loamline::math::parallel::Crew;
use loamline::math::sampling::Sequence;
use loamline::math::{Vec2, Vec3};
use loamline::passes::Passes;
use loamline::site::{Interval, KeepOut, Site};

const CREW: Crew<'static> = Crew { threads: None, watch: None };

fn site_and_passes(n: usize) -> (Site, Passes) {
    let site = hillside().unwrap();
    let passes = site.passes(n, 1, &CREW).unwrap();
    (site, passes)
}

fn fit(passes: &Passes, site: &Site, volume: f64, seed: u64) -> Fit {
    fit_landing(passes, site, volume, 1.0, seed, &CREW).unwrap()
}

/// What a landing takes and how it does, where it can be built.
fn built(passes: &Passes, landing: &Landing) -> Option<(f64, f64, f64)> {
    let built = landing.resolve(passes.ground()).ok()?;
    let volume = built.volume().ok()?.fill;
    let landed = passes.on(&passes.ground().with_built(&built), &CREW).ok()?;
    let score = score(&landed, &[*landing], 1.0);
    Some((volume, score.caught, score.p95_fall_height))
}

#[test]
fn a_fit_says_what_it_takes_and_keeps_its_bounds() {
    let (site, passes) = site_and_passes(256);
    let fit = fit(&passes, &site, 4.0, 1);
    let (volume, caught, p95) = built(&passes, &fit.landing).unwrap();
    assert!(volume <= 4.0 + 1e-9 && (volume - fit.volume).abs() < 1e-9, "{volume}");
    assert!((caught - fit.score.caught).abs() < 1e-12);
    assert!((p95 - fit.score.p95_fall_height).abs() < 1e-9);
    let bounds = &site.landing;
    let landing = &fit.landing;
    assert!(bounds.slope.contains(landing.slope()) && bounds.width.contains(landing.width()));
    assert!(landing.length() >= bounds.length.low && landing.length() <= bounds.length.high);
}

/// Whether a landing stays within the site's bounds: toe clear of edge and obstacles.
fn keeps(site: &Site, built: &BuiltLanding) -> bool {
    let bounds = &site.landing;
    let edge = site.takeoff.edge_ends().map(|end| end.xy());
    let toe: Vec<Vec2> = built.toe().iter().map(Vec3::xy).collect();
    let dense = toe.iter().zip(toe.iter().cycle().skip(1));
    let dense: Vec<Vec2> =
        dense.flat_map(|(a, b)| (0..20).map(move |i| a.lerp(b, f64::from(i) / 20.0))).collect();
    let clear = |at: &Vec2, radius: f64| dense.iter().all(|p| (p - at).norm() > radius);
    (0..=20).all(|i| clear(&edge[0].lerp(&edge[1], f64::from(i) / 20.0), bounds.edge_clearance))
        && bounds.obstacles.iter().all(|o| clear(&o.position, o.radius))
}

/// A landing near a mark, its face as long as the earth reaches, where one can be built within the bounds.
fn by_chance(
    site: &Site,
    passes: &Passes,
    index: u64,
    volume: f64,
    heading: f64,
) -> Option<Landing> {
    let sequence = Sequence::new(77, &["mark", "back", "heading", "slope", "width"]);
    let u = |name| sequence.uniform(index, name);
    let marks: Vec<Vec2> =
        passes.members().iter().filter_map(|p| Some(p.contact()?.mark.xy())).collect();
    let mark =
        marks[(0..marks.len()).find(|i| *i as f64 + 1.0 > u("mark") * marks.len() as f64)?];
    let heading = heading + 0.6 * (u("heading") - 0.5);
    let between = |name, range: &Interval, most: f64| {
        range.low + u(name) * (range.high.min(most) - range.low)
    };
    let (slope, width) =
        (between("slope", &site.landing.slope, 0.5), between("width", &site.landing.width, 9.0));
    let crest = mark - Vec2::new(heading.cos(), heading.sin()) * (3.0 * u("back"));
    let landing = |length| {
        let landing = Landing::new(crest, heading, slope, length, width).ok()?;
        landing.with_batter(site.soil.stand_up().value()).ok()?.resolve(passes.ground()).ok()
    };
    let fits =
        |built: &BuiltLanding| built.volume().is_ok_and(|v| v.fill <= volume) && keeps(site, built);
    let lengths = (0..10).rev().map(|i| site.landing.length.low + 0.5 * f64::from(i));
    let built =
        lengths.filter(|l| *l <= site.landing.length.high).filter_map(landing).find(fits)?;
    built.landing().with_crest_height(Some(built.crest_height())).ok()
}

#[test]
fn a_fit_beats_chance() {
    let (mut site, passes) = site_and_passes(128);
    site.landing.area.clear();
    let fit = fit(&passes, &site, 7.0, 2);
    let mut able = 0;
    for index in 0..120 {
        let heading = fit.landing.heading();
        let Some(landing) = by_chance(&site, &passes, index, fit.volume, heading) else { continue };
        let Some((_, caught, p95)) = built(&passes, &landing) else { continue };
        able += 1;
        let better = caught > fit.score.caught + 1e-9
            || (caught - fit.score.caught).abs() < 1e-9 && p95 < fit.score.p95_fall_height;
        assert!(!better, "{caught} {p95} {landing:?} against {fit:?}");
    }
    assert!(able >= 5, "{able} random landings could be built");
}

#[test]
fn threads_do_not_change_the_landing() {
    let (site, passes) = site_and_passes(96);
    let by = |threads| {
        let crew = Crew { threads: Some(threads), watch: None };
        fit_landing(&passes, &site, 3.0, 1.0, 5, &crew).unwrap()
    };
    assert_eq!(by(1), by(3));
}

#[test]
fn more_earth_is_never_worse() {
    let (site, passes) = site_and_passes(128);
    let fits = tradeoff(&passes, &site, &[5.0, 2.0, 3.5], 1.0, 1, &CREW).unwrap();
    let [most, least, middle] = fits.as_slice() else { panic!("three budgets, three landings") };
    for (fit, budget) in [(most, 5.0), (least, 2.0), (middle, 3.5)] {
        assert!(fit.volume <= budget + 1e-9);
    }
    for (more, less) in [(most, middle), (middle, least)] {
        assert!(!less.score.is_better_than(&more.score), "{less:?} {more:?}");
    }
}

/// Mud where the landing would best lie: it goes elsewhere, and no earth comes onto the mud.
#[test]
fn no_earth_comes_onto_a_keep_out() {
    let (mut site, passes) = site_and_passes(96);
    site.landing.area.clear();
    let toe = |fit: &Fit| -> Vec<Vec2> {
        let built = fit.landing.resolve(passes.ground()).unwrap();
        built.toe().iter().map(Vec3::xy).collect()
    };
    let free = fit(&passes, &site, 3.0, 1);
    let before = toe(&free);
    let (low, high) =
        before.iter().fold((before[0], before[0]), |(low, high), at| (low.inf(at), high.sup(at)));
    // A strip across the best one, not as long as all of it.
    let (middle, reach) = (0.5 * (low + high), 0.15 * (high - low));
    let mud = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
        .map(|(x, y)| middle + reach.component_mul(&Vec2::new(x, y)));
    assert!(overlap(&mud, &before));
    site.landing.keep_outs = vec![KeepOut { name: Some("mud".into()), corners: mud.into() }];
    let kept = fit(&passes, &site, 3.0, 1);
    assert!(!overlap(&mud, &toe(&kept)), "{kept:?}");
    assert!(!kept.score.is_better_than(&free.score), "{kept:?} {free:?}");
    // Mud everywhere.
    let all =
        [(-90.0, -90.0), (90.0, -90.0), (90.0, 90.0), (-90.0, 90.0)].map(|(x, y)| Vec2::new(x, y));
    site.landing.keep_outs[0].corners = all.into();
    let told = fit_landing(&passes, &site, 30.0, 1.0, 1, &CREW).unwrap_err();
    assert!(matches!(told, FitError::NoPlace { .. }), "{told}");
}

#[test]
fn what_cannot_be_says_why() {
    let (mut site, passes) = site_and_passes(64);
    let told = |site: &Site, volume, limit| {
        fit_landing(&passes, site, volume, limit, 1, &CREW).unwrap_err()
    };
    for volume in [0.0, -1.0, f64::NAN] {
        assert!(told(&site, volume, 1.0).to_string().starts_with("volume = "));
    }
    assert!(told(&site, 3.0, f64::NAN).to_string().starts_with("fall_limit = "));
    let FitError::TooLittleEarth { least, .. } = told(&site, 0.01, 1.0) else {
        panic!("a wheelbarrow's tenth is too little")
    };
    assert!(least > 0.01 && least < 5.0, "{least}");
    site.landing.edge_clearance = 500.0;
    assert!(matches!(told(&site, 30.0, 1.0), FitError::NoPlace { .. }));
}

//! Does the map of the next barrow tell what a barrow does, and do barrows help as they are put?
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use hillside::hillside;
use loamline::Ground;
use loamline::design::{BarrowError, Mound, barrow_map, next_barrows, severity};
use loamline::math::outline;
use loamline::math::parallel::Crew;
use loamline::math::{Vec2, Vec3};
use loamline::passes::Passes;
use loamline::site::KeepOut;

const CREW: Crew<'static> = Crew { threads: None, watch: None };

fn passes() -> Passes {
    hillside().unwrap().passes(128, 1, &CREW).unwrap()
}

/// A mound on the ground as a fine bilinear patch.
fn with_mound(ground: &Ground, mound: &Mound, middle: Vec2) -> Ground {
    let spacing = mound.radius() / 30.0;
    let low = middle - Vec2::repeat(32.0 * spacing);
    let heights = (0..65 * 65).map(|i| {
        let at = low + Vec2::new(f64::from(i % 65), f64::from(i / 65)) * spacing;
        let earth = mound.height(at - middle);
        ground.height(at.x, at.y).unwrap() + if earth > 0.0 { earth } else { -0.1 }
    });
    let patch = Ground::grid(low, Vec2::repeat(spacing), 65, 65, heights.collect());
    ground.higher(&patch.unwrap())
}

#[test]
fn the_map_tells_what_a_little_earth_does() {
    // On even ground: who comes down beside a fold of a survey comes down over it once earth lies there.
    let even = Ground::plane(Vec3::new(0.0, 0.0, -0.4), 0.15, 0.3).unwrap();
    let passes = passes().on(&even, &CREW).unwrap();
    let map = |volume| {
        let mound = Mound::new(volume, 1.2).unwrap();
        (barrow_map(&passes, 1.0, &mound, 0.3).unwrap(), mound)
    };
    // The less earth, the nearer, down to a few litres, where the patch's own facets count. A barrow is no longer little.
    for (volume, off) in [(0.003, 0.01), (0.01, 0.02), (0.02, 0.05), (0.06, 0.15)] {
        let (map, mound) = map(volume);
        assert!(map.share_told() > 0.9, "{}", map.share_told());
        assert!((map.severity() - severity(&passes, 1.0)).abs() < 1e-12);
        let (place, gain) = map.best();
        assert!(gain > 0.0);
        let ground = with_mound(passes.ground(), &mound, place);
        let landed = passes.on(&ground, &CREW).unwrap();
        let found = map.severity() - severity(&landed, 1.0);
        assert!((found / gain - 1.0).abs() < off, "{found} where the map says {gain}");
        let (columns, rows) = map.size();
        assert_eq!(map.gain().len(), columns * rows);
    }
}

#[test]
fn barrows_help_one_after_the_other() {
    let passes = passes();
    let mound = Mound::new(0.06, 1.2).unwrap();
    let list = next_barrows(&passes, 1.0, &mound, 4, &CREW).unwrap();
    assert!(!list.is_empty());
    let mut now = severity(&passes, 1.0);
    for next in &list {
        assert!(next.severity < now && next.expected > 0.0, "{list:?}");
        now = next.severity;
    }
    let one = Crew { threads: Some(1), watch: None };
    assert_eq!(next_barrows(&passes, 1.0, &mound, 4, &one).unwrap(), list);
}

fn square(middle: Vec2, half: f64) -> Vec<Vec2> {
    [(-half, -half), (half, -half), (half, half), (-half, half)]
        .map(|(x, y)| middle + Vec2::new(x, y))
        .into()
}

#[test]
fn barrows_stay_off_keep_outs() {
    let mut site = hillside().unwrap();
    let mound = Mound::new(0.06, 1.2).unwrap();
    let free = site.passes(128, 1, &CREW).unwrap();
    let (best, gain) = barrow_map(&free, 1.0, &mound, 0.3).unwrap().best();
    let roots = square(best, 0.4);
    site.landing.keep_outs = vec![KeepOut { name: None, corners: roots.clone() }];
    let passes = site.passes(128, 1, &CREW).unwrap();
    let map = barrow_map(&passes, 1.0, &mound, 0.3).unwrap();
    let (second, less) = map.best();
    assert!(less < gain && outline::distance(&roots, &second) >= 1.2);
    assert_eq!(map.free().len(), map.gain().len());
    for next in next_barrows(&passes, 1.0, &mound, 3, &CREW).unwrap() {
        assert!(outline::distance(&roots, &next.place) >= 1.2, "{next:?}");
        let area = &site.landing.area;
        assert!(outline::contains(area, &next.place));
        assert!(outline::from_sides(area, &next.place) >= 1.2, "{next:?}");
    }
    site.landing.keep_outs[0].corners = square(best, 50.0);
    let passes = site.passes(128, 1, &CREW).unwrap();
    let told = barrow_map(&passes, 1.0, &mound, 0.3).unwrap_err();
    assert!(matches!(told, BarrowError::NoRoom { .. }), "{told}");
}

#[test]
fn wrong_numbers_are_named() {
    let passes = passes();
    let mound = Mound::new(0.06, 1.2).unwrap();
    for wrong in [0.0, -1.0, f64::NAN] {
        let map = barrow_map(&passes, wrong, &mound, 0.3).unwrap_err();
        assert!(map.to_string().starts_with("fall_limit = "));
        let map = barrow_map(&passes, 1.0, &mound, wrong).unwrap_err();
        assert!(map.to_string().starts_with("spacing = "));
    }
    let fine = barrow_map(&passes, 1.0, &mound, 1e-5).unwrap_err();
    assert!(matches!(fine, BarrowError::TooFine { .. }));
}

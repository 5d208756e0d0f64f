//! Does the free landing lower the severity within its bounds, and do greedy barrows come near it?
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

use loamline::design::{
    FreeLanding, FreeLandingError, FreeOptions, Mound, free_landing, next_barrows, severity,
};
use loamline::earth::volume;
use loamline::files::demo_site;
use loamline::math::parallel::Crew;
use loamline::math::{Vec2, outline};
use loamline::passes::Passes;
use loamline::site::KeepOut;
use std::ops::ControlFlow;

const CREW: Crew<'static> = Crew { threads: None, watch: None };

const LIMIT: f64 = 1.0;

/// Down the demo's hill, where earth may lie anywhere but near the edge and the boulder.
fn passes(n: usize, seed: u64) -> Passes {
    let mut site = demo_site().unwrap();
    site.landing.area.clear();
    site.passes(n, seed, &CREW).unwrap()
}

fn free(passes: &Passes, options: &FreeOptions) -> FreeLanding {
    free_landing(passes, LIMIT, options, &CREW).unwrap()
}

/// The mounds need not keep to the free landing's bound on bends; flatter ones are compared with smoother shapes.
#[test]
fn ten_barrows_one_by_one_come_near_the_best_shape() {
    let passes = passes(128, 1);
    let before = severity(&passes, LIMIT);
    for (mound_radius, bend) in [(1.2, 2.5), (0.9, 1.0)] {
        let mound = Mound::new(0.07, mound_radius).unwrap();
        let list = next_barrows(&passes, LIMIT, &mound, 10, &CREW).unwrap();
        assert_eq!(list.len(), 10);
        let falling = [before].into_iter().chain(list.iter().map(|next| next.severity));
        assert!(falling.collect::<Vec<f64>>().windows(2).all(|pair| pair[1] < pair[0]));
        let greedy = before - list[9].severity;
        let options = FreeOptions::new(0.7).unwrap().with_radius(bend).unwrap();
        let shape = free(&passes, &options);
        let best = before - shape.severity().after;
        // Even of what the search thinks that it left.
        let most = best + shape.promised();
        assert!(
            greedy > 0.9 * most,
            "{greedy} by barrows, {best} by the free shape, {most} at most"
        );
    }
}

#[test]
fn it_keeps_its_bounds_and_helps_riders_who_were_not_drawn() {
    let (drawn, others) = (passes(128, 1), passes(128, 9));
    let options = FreeOptions::new(0.7).unwrap();
    let shape = free(&drawn, &options);
    assert!(shape.severities().windows(2).all(|pair| pair[1] < pair[0]), "{shape:?}");
    assert!(shape.volume() <= 0.7 + 1e-6);
    let earth = volume(drawn.ground(), shape.built()).unwrap();
    assert!((earth.fill / shape.volume() - 1.0).abs() < 0.02 && earth.cut < 1e-6, "{earth:?}");
    assert!(shape.earth().iter().all(|depth| *depth >= 0.0));
    assert!(shape.share_told() > 0.9);
    let landed = others.on(shape.built(), &CREW).unwrap();
    let (before, after) = (severity(&others, LIMIT), severity(&landed, LIMIT));
    let change = shape.severity();
    assert!(before - after > 0.8 * (change.before - change.after), "{before} {after} {change:?}");
    assert!(shape.explain().to_string().contains("volume = 0.7"));
    // More earth is never worse, by more than where the search happens to end.
    let more = free(&drawn, &FreeOptions::new(1.4).unwrap());
    assert!(more.severity().after < 1.05 * change.after);
    let one = Crew { threads: Some(1), watch: None };
    assert_eq!(free_landing(&drawn, LIMIT, &options, &one).unwrap(), shape);
}

/// Roots where most earth would lie: it stays off them, and within the allowed area.
#[test]
fn earth_stays_within_the_area_and_off_keep_outs() {
    let mut site = demo_site().unwrap();
    let deepest = |shape: &FreeLanding| {
        let most = shape.earth().iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1)).unwrap().0;
        shape.place(most)
    };
    let options = FreeOptions::new(0.7).unwrap().with_steps(12).unwrap();
    let open = free(&passes(64, 1), &options);
    let middle = deepest(&open);
    let corner = |x, y| middle + Vec2::new(x, y);
    let roots = vec![corner(-0.4, -0.3), corner(0.5, -0.3), corner(0.1, 0.5)];
    site.landing.keep_outs = vec![KeepOut { name: Some("roots".into()), corners: roots.clone() }];
    let kept = free(&site.passes(64, 1, &CREW).unwrap(), &options);
    let area = &site.landing.area;
    for (node, depth) in kept.earth().iter().enumerate().filter(|(_, depth)| **depth > 0.0) {
        let at = kept.place(node);
        assert!(
            outline::contains(area, &at) && outline::distance(&roots, &at) >= 0.3,
            "{at} {depth}"
        );
    }
    assert!(kept.severity().after < kept.severity().before);
    site.landing.keep_outs[0].corners =
        vec![corner(-50.0, -50.0), corner(50.0, -50.0), corner(0.0, 80.0)];
    let passes = site.passes(64, 1, &CREW).unwrap();
    let told = free_landing(&passes, LIMIT, &options, &CREW).unwrap_err();
    assert!(matches!(told, FreeLandingError::Kept { .. }), "{told}");
}

/// Half a landing stands already: the shape goes on from there.
#[test]
fn it_goes_on_from_a_half_built_landing() {
    let passes = passes(128, 1);
    let first = free(&passes, &FreeOptions::new(0.4).unwrap());
    let half = passes.on(first.built(), &CREW).unwrap();
    let second = free(&half, &FreeOptions::new(0.4).unwrap());
    assert!(second.severity().after < second.severity().before);
    assert!((second.severity().before / first.severity().after - 1.0).abs() < 0.02);
}

#[test]
fn it_can_be_stopped_and_says_what_is_wrong() {
    let passes = passes(64, 1);
    let options = FreeOptions::new(0.7).unwrap();
    let wrong = free_landing(&passes, 0.0, &options, &CREW).unwrap_err();
    assert!(wrong.to_string().starts_with("fall_limit = 0 "));
    let steep = options.with_steepest(1.0).unwrap();
    let told = free_landing(&passes, LIMIT, &steep, &CREW).unwrap_err().to_string();
    assert!(told.starts_with("a slope of 57.3 degrees is steeper than loam stands"), "{told}");
    let halt = |done: usize, _: usize| {
        if done < 1 { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
    };
    let crew = Crew { threads: None, watch: Some(&halt) };
    let stopped = free_landing(&passes, LIMIT, &options, &crew).unwrap_err();
    assert!(matches!(stopped, FreeLandingError::Crew(_)), "{stopped}");
}

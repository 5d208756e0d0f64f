//! Ensembles: the same numbers on any number of threads, each class its weight, reasons for who stays.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use approx::assert_relative_eq;
use hillside::hillside;
use loamline::Rider;
use loamline::math::parallel::{Crew, CrewError};
use loamline::passes::{Drawn, Kind, LEANS, Passes, PassesError, Way};
use loamline::ride::Lean;
use loamline::site::{Dist, RiderClass, Site, Wind};
use std::ops::ControlFlow;

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
        assert!(pass.exit_speed().unwrap() > 0.0 && contact.fall_height >= 0.0);
        landed += 1;
    }
    assert!(landed > 100);
}

#[test]
fn the_same_ground_again_gives_the_same_touches() {
    let site = hillside().unwrap();
    let passes = passes(&site, 64, 5);
    assert!(passes.on(&site.ground().unwrap(), &crew(2)).unwrap() == passes);
}

#[test]
fn lower_ground_is_reached_later_on_the_same_path() {
    let mut site = hillside().unwrap();
    let high = passes(&site, 64, 5);
    site.survey.iter_mut().for_each(|point| point.z -= 0.5);
    let low = high.on(&site.ground().unwrap(), &crew(2)).unwrap();
    let mut both = 0;
    let ways = |passes: &Passes| -> Vec<Way> {
        passes.members().iter().flat_map(|pass| pass.ways.clone()).collect()
    };
    for (high, low) in ways(&high).iter().zip(ways(&low)) {
        let (Some(a), Some(b)) = (high.contact(), low.contact()) else { continue };
        assert!(b.mark.z < a.mark.z && b.time > a.time && b.fall_height > a.fall_height);
        assert_eq!((high.lean, high.exit_speed), (low.lean, low.exit_speed));
        both += 1;
    }
    assert!(both > 180);
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

#[test]
fn riders_all_alike_pass_as_one_does() {
    let mut site = hillside().unwrap();
    let rider = Rider::default().with_grip(0.9).unwrap();
    site.classes = vec![RiderClass::alike("solo", rider.clone(), 17.0, 1.3)];
    let passes = passes(&site, 8, 1);
    for lean in LEANS {
        let alone = site.ride(17.0, 1.3, "solo", lean).unwrap();
        let launch = alone.last().launch(0.0).unwrap();
        let flight = launch.flight(&site.ground().unwrap(), &rider, &site.air).unwrap();
        let mark = flight.touchdown().contact.unwrap().mark;
        for pass in passes.members() {
            let (way, speed) = (pass.way(lean).unwrap(), alone.last().exit_speed().unwrap());
            assert_relative_eq!(way.exit_speed, speed, max_relative = 1e-9);
            assert_relative_eq!(way.contact().unwrap().mark, mark, epsilon = 1e-6);
        }
    }
}

#[test]
fn the_hardest_of_the_leans_judges() {
    let passes = passes(&hillside().unwrap(), 128, 4);
    let alone = LEANS.map(|lean| passes.with_lean(lean));
    let mut hardest = [0; 3];
    for (index, pass) in passes.members().iter().enumerate().filter(|(_, pass)| pass.leaves()) {
        let heights = alone.each_ref().map(|alone| {
            let pass = &alone.members()[index];
            assert!(pass.ways.len() <= 1);
            pass.hardest().map_or(f64::NEG_INFINITY, Way::fall_height)
        });
        let own = pass.hardest().unwrap();
        assert!(heights.iter().all(|height| own.fall_height() >= *height));
        hardest[LEANS.iter().position(|lean| *lean == own.lean).unwrap()] += 1;
    }
    // Square to the boards is soft on riders off a steepening wall: it is seldom the hardest.
    assert!(hardest[0] < hardest[1] + hardest[2], "{hardest:?}");
    let [deck, balanced, settled] =
        alone.map(|passes| passes.summary().fall_height.unwrap().median);
    assert!(deck < balanced && balanced < settled, "{deck} {balanced} {settled}");
}

#[test]
fn who_is_faster_leaves_higher_and_never_off_the_panel() {
    let mut site = hillside().unwrap();
    site.classes.truncate(1);
    let class = &mut site.classes[0];
    (class.weight, class.leave, class.leave_per_speed) = (1.0, Dist::Fixed(1.3), 0.1);
    let middle = site.ride(17.0, 1.3, "steady", Lean::Deck).unwrap().entry_speed.unwrap();
    for pass in passes(&site, 64, 2).members() {
        let faster = pass.entry_speed.unwrap() - middle;
        assert_relative_eq!(pass.leave.unwrap(), 1.3 + 0.1 * faster, epsilon = 1e-9);
    }
    site.classes[0].leave_per_speed = 100.0;
    let places = site.takeoff.places();
    let steep = site.passes(64, 2, &crew(2));
    let members = steep.as_ref().map(Passes::members).unwrap();
    assert!(members.iter().all(|pass| places.contains(pass.leave.unwrap())));
}

#[test]
fn a_wind_from_behind_speeds_up_and_changes_no_other_draw() {
    let mut site = hillside().unwrap();
    let calm = passes(&site, 64, 4);
    site.wind = Some(Wind { heading: 0.0, speed: Dist::Uniform { low: 1.0, high: 3.0 } });
    let windy = passes(&site, 64, 4);
    for (calm, windy) in calm.members().iter().zip(windy.members()) {
        let same = Drawn { wind: calm.drawn.wind, ..windy.drawn };
        assert_eq!(same, calm.drawn);
        assert!((1.0..3.0).contains(&windy.drawn.wind.x) && windy.drawn.wind.y == 0.0);
        assert!(windy.entry_speed > calm.entry_speed);
    }
}

#[test]
fn who_slides_does_not_leave_and_nobody_is_lost() {
    let mut site = hillside().unwrap();
    for class in &mut site.classes {
        class.rider = class.rider.clone().with_grip(0.62).unwrap();
    }
    let passes = passes(&site, 256, 1);
    let summary = passes.summary();
    assert!(summary.leaves > 0.05 && summary.leaves < 0.95, "{}", summary.leaves);
    let stay: f64 = summary.reasons.iter().map(|reason| reason.share).sum();
    assert_relative_eq!(summary.leaves + stay, 1.0, epsilon = 1e-9);
    let come_down: f64 = summary.outcomes.iter().map(|(_, share)| share).sum();
    assert_relative_eq!(come_down, summary.leaves, epsilon = 1e-9);
    for reason in &summary.reasons {
        assert!(matches!(reason.kind, Kind::SlidDown | Kind::SlidUp), "{reason}");
        assert!(reason.grip_needed.unwrap().low > 0.62, "{reason}");
    }
    let slid = passes.members().iter().filter(|pass| !pass.leaves());
    assert_eq!(slid.count(), summary.reasons.iter().map(|reason| reason.count).sum::<usize>());
}

#[test]
fn few_passes_already_tell_what_many_do() {
    let site = hillside().unwrap();
    let middle = |n| passes(&site, n, 1).summary().fall_height.unwrap();
    let (few, many) = (middle(128), middle(1024));
    assert_relative_eq!(few.median, many.median, epsilon = 0.03);
    assert_relative_eq!(few.p95, many.p95, epsilon = 0.08);
}

#[test]
fn a_watch_may_stop_them() {
    let stop = |done: usize, _: usize| {
        if done >= 32 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    };
    let watched = Crew { threads: Some(2), watch: Some(&stop) };
    let stopped = hillside().unwrap().passes(4096, 1, &watched).unwrap_err();
    let PassesError::Crew(CrewError::Stopped { done, total }) = stopped else {
        panic!("{stopped}")
    };
    assert!(total == 4096 && done < 128, "{done}");
}

/// On a site whose slowest riders creep over the edge, they hang up there and are counted with that reason.
#[test]
fn who_hangs_up_does_not_leave() {
    let mut site = hillside().unwrap();
    let tall = Rider::default().with_com_height(1.1).unwrap().with_wheel_radius(0.02).unwrap();
    for class in &mut site.classes {
        class.rider = tall.clone();
    }
    let error = site.passes(64, 5, &crew(2)).map(|passes| passes.reasons());
    let reasons = match error {
        Ok(reasons) | Err(PassesError::NobodyLeaves { reasons, .. }) => reasons,
        Err(other) => panic!("{other}"),
    };
    let hung = reasons.iter().find(|reason| reason.kind == Kind::HungUp).unwrap();
    assert!(hung.count > 0 && hung.to_string().contains("hang up on the edge"));
}

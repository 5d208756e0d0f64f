//! What small changes of the takeoff save in earth.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use hillside::hillside;
use loamline::design::{BargainError, BargainOptions, TakeoffChange, bargain};
use loamline::feature::Lip;
use loamline::geometry::{Bend, Piece, VerticalCurve};
use loamline::math::parallel::Crew;
use loamline::site::{Site, Takeoff};

const CREW: Crew<'static> = Crew { threads: None, watch: None };

fn site() -> Site {
    let mut site = hillside().unwrap();
    site.landing.area.clear();
    site
}

fn options() -> BargainOptions {
    BargainOptions { passes: 96, seed: 1, volume: 4.0, fall_limit: 1.0 }
}

#[test]
fn a_speed_check_saves_earth() {
    let site = site();
    let passes = site.passes(96, 1, &CREW).unwrap();
    let changes = TakeoffChange::usual(&site, &passes);
    let slowest = *changes.last().unwrap();
    let struck = bargain(&site, &options(), &[slowest], &CREW).unwrap();
    let needed = struck.as_it_is.needed.unwrap();
    assert!(needed > 0.0 && needed <= 4.0);
    let offer = &struck.offers[0];
    assert_eq!(offer.change, Some(slowest));
    let saved = struck.saved(offer).unwrap();
    assert!((saved - (needed - offer.needed.unwrap())).abs() < 1e-12);
    assert!(saved > 0.0, "{saved} m3 of {needed} with a {slowest}");
}

#[test]
fn changes_are_what_they_say() {
    let site = site();
    let wall = |change: TakeoffChange| match change.applied(&site).unwrap().takeoff {
        Takeoff::Wall(wall) => wall,
        other => panic!("a wall stays one: {other:?}"),
    };
    let Takeoff::Wall(before) = &site.takeoff else { panic!("the site has a wall") };
    let end = |bank: Option<(f64, f64)>| bank.unwrap().1;
    let flatter = wall(TakeoffChange::EndBank(-0.1));
    assert!((end(before.bank().ends()) - end(flatter.bank().ends()) - 0.1).abs() < 1e-12);
    let shorter = wall(TakeoffChange::Length(-0.5));
    assert!((before.length() - shorter.length() - 0.5).abs() < 1e-12);
    assert_eq!(shorter.bank().ends(), before.bank().ends());
    let lower = TakeoffChange::LeaveAtMost(1.8).applied(&site).unwrap();
    let ridden = lower.passes(64, 1, &CREW).unwrap();
    let highest = ridden.members().iter().filter_map(|pass| pass.leave).fold(0.0, f64::max);
    assert!((highest - 1.8).abs() < 1e-12 && lower.takeoff == site.takeoff, "{highest}");
    let slowed = TakeoffChange::SpeedCheck(7.6).applied(&site).unwrap();
    let ridden = slowed.passes(64, 1, &CREW).unwrap();
    let fastest = ridden.members().iter().filter_map(|pass| pass.entry_speed).fold(0.0, f64::max);
    assert!((fastest - 7.6).abs() < 1e-12, "{fastest}");
}

#[test]
fn a_lip_bends_less_or_more() {
    let arc = Piece::Arc { radius: 6.0, angle: 0.5 };
    let curve = VerticalCurve::new(0.0, vec![(Bend::Up, arc)]).unwrap();
    let site = Site { takeoff: Lip::new(curve, 2.0).unwrap().into(), ..site() };
    let bent = TakeoffChange::LipAngle(-0.1).applied(&site).unwrap();
    let Takeoff::Lip(lip) = bent.takeoff else { panic!("a lip stays one") };
    assert!((lip.end_angle() - 0.4).abs() < 1e-12);
    let refused = TakeoffChange::EndBank(-0.1).applied(&site).unwrap_err();
    assert!(matches!(refused, BargainError::NotOfThis { takeoff: "lip", .. }), "{refused}");
    let past = TakeoffChange::LipAngle(2.0).applied(&site).unwrap_err();
    assert!(matches!(past, BargainError::Impossible { .. }), "{past}");
}

#[test]
fn wrong_numbers_are_named() {
    let site = site();
    let none = BargainOptions { volume: 0.0, ..options() };
    assert!(bargain(&site, &none, &[], &CREW).unwrap_err().to_string().starts_with("volume = "));
    let check = TakeoffChange::SpeedCheck(-1.0);
    let told = bargain(&site, &options(), &[check], &CREW);
    assert!(told.unwrap_err().to_string().contains("speed_check"));
}

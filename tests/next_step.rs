//! The next step and the ladder: rules kept, reasons told.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]
#![allow(clippy::print_stdout, reason = "how long a ladder takes is worth seeing")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use hillside::hillside;
use loamline::flags::{
    FALL_STEP, Flag, FlagOptions, Found, Limit, MARK_SD, Method, Refusal, SPEED_STEP, Spot,
    StepOptions, TestRide, Values, fit_flags, ladder, next_step,
};
use loamline::ground::Landing;
use loamline::math::Vec2;
use loamline::math::parallel::Crew;
use loamline::ride::Lean;
use loamline::site::Site;

const TRUTH: Values = [0.026, 0.53, 0.08, 0.1, 0.05, 0.1];

fn flag(site: &Site, start: f64, off: Vec2) -> Flag {
    let ride = TestRide::new("steady", start).unwrap().leaving(1.2).unwrap();
    let flag = Flag::new(format!("{start}"), ride);
    let flag = flag.with_mark(Spot::At(Vec2::zeros()), MARK_SD).unwrap();
    let mark = flag.seen(site, &TRUTH, Lean::Balanced).unwrap().mark.xy();
    flag.with_mark(Spot::At(mark + off), 0.2).unwrap()
}

fn found(starts: &[f64]) -> (Site, Found) {
    let site = hillside().unwrap();
    let flags: Vec<Flag> = starts.iter().map(|start| flag(&site, *start, Vec2::zeros())).collect();
    let found = fit_flags(&site, &flags, &FlagOptions::default(), &Crew::default()).unwrap();
    (site, found)
}

fn options(limit: f64) -> StepOptions {
    StepOptions::new(limit, 0.05).unwrap().with_draws(64, 1)
}

#[test]
fn a_step_keeps_every_rule() {
    let (_, found) = found(&[13.0, 13.6, 14.2]);
    let crew = Crew::default();
    let next = next_step(&found, &options(2.5), &crew).unwrap();
    let step = next.step.as_ref().unwrap();
    let from = next.from.as_ref().unwrap();
    assert!((from.start() - 14.2).abs() < 1e-12 && step.ride.start() > from.start());
    assert!(step.risk.total() < 0.05 && step.mean_risk.total() <= step.risk.total() + 1e-12);
    let before = found.forecast(from, 64, 1, &crew).unwrap();
    let rise = step.forecast.fall_height.unwrap().median - before.fall_height.unwrap().median;
    assert!(rise <= FALL_STEP + 0.01, "{rise}");
    let faster = step.forecast.exit_speed.unwrap().median / before.exit_speed.unwrap().median;
    assert!(faster <= 1.0 + SPEED_STEP + 0.01, "{faster}");
    assert_ne!(step.limit, Limit::First);
    assert!(next.then.is_some() && next.refusal.is_none());
    assert!(next.explain().to_string().contains("certify nothing"));
}

#[test]
fn a_lower_limit_never_allows_a_farther_step() {
    let (_, found) = found(&[13.0, 13.6, 14.2]);
    let crew = Crew::default();
    let mut last = 0.0;
    for limit in [0.3, 0.9, 1.2, 2.5] {
        let next = next_step(&found, &options(limit), &crew).unwrap();
        let start = next.step.as_ref().map_or(0.0, |step| step.ride.start());
        assert!(start >= last, "{limit}: {start} after {last}");
        last = start;
    }
    let hard = next_step(&found, &options(0.3), &crew).unwrap();
    let Some(Refusal::Risky { risk, .. }) = &hard.refusal else { panic!("{:?}", hard.refusal) };
    assert!(risk.hard > 0.5);
    let need = hard.then.unwrap();
    assert!(need.chance_now > 0.5 && need.barrows >= 0.0);
}

#[test]
fn an_outlying_last_flag_bars_the_way() {
    let site = hillside().unwrap();
    let mut flags: Vec<Flag> =
        [13.0, 13.6, 14.2].iter().map(|start| flag(&site, *start, Vec2::zeros())).collect();
    flags.push(flag(&site, 14.8, Vec2::new(1.8, 2.4)));
    let found = fit_flags(&site, &flags, &FlagOptions::default(), &Crew::default()).unwrap();
    let next = next_step(&found, &options(2.5), &Crew::default()).unwrap();
    assert!(next.step.is_none());
    assert!(matches!(next.refusal, Some(Refusal::FlagBad { .. } | Refusal::FlagOutside { .. })));
}

#[test]
fn planned_ground_that_is_not_built_bars_the_way() {
    let (site, found) = found(&[13.0, 13.6, 14.2]);
    let crew = Crew::default();
    let free = next_step(&found, &options(2.5), &crew).unwrap();
    let step = free.step.unwrap();
    let middle = step.forecast.region.as_ref().unwrap().middle();
    let velocity = step.forecast.draws[0].fate.as_ref().unwrap().velocity.unwrap();
    let ahead = velocity.xy().normalize();
    let crest = middle - ahead * 2.5;
    let landing = Landing::new(crest, ahead.y.atan2(ahead.x), 0.25, 5.0, 4.0).unwrap();
    let planned = options(2.5).with_planned(landing);
    let barred = next_step(&found, &planned, &crew).unwrap();
    let Some(Refusal::Unbuilt { lower, barrows, .. }) = barred.refusal else {
        panic!("{:?}", barred.refusal)
    };
    assert!(lower > 0.1 && barrows > 0.0);
    let built = found.on(site.ground().unwrap().with_landing(&landing).unwrap());
    let open = next_step(&built, &planned, &crew).unwrap();
    assert!(!matches!(open.refusal, Some(Refusal::Unbuilt { .. })));
}

#[test]
fn the_ladder_leads_to_the_ride_without_a_brake() {
    let (_, found) = found(&[13.0, 13.6, 14.2]);
    let crew = Crew::default();
    let begun = std::time::Instant::now();
    let whole = ladder(&found, &options(1.0), Some(19.0), &crew).unwrap();
    println!("a ladder of {} rungs in {:?}", whole.rungs.len(), begun.elapsed());
    assert!(whole.is_whole && whole.rungs.len() > 2);
    for pair in whole.rungs.windows(2) {
        assert!(pair[1].fall_height <= pair[0].fall_height + FALL_STEP + 1e-9);
        assert!(pair[1].exit_speed <= pair[0].exit_speed * (1.0 + SPEED_STEP) + 1e-9);
        assert!(pair[1].exit_speed >= pair[0].exit_speed);
    }
    let last = whole.rungs.last().unwrap();
    assert!((last.ride.start() - 19.0).abs() < 0.05);
    assert!(whole.barrows() > 0.0);
    let row = found.pocket_card(&[13.6, 15.0], &options(2.5), &crew).unwrap().rows;
    assert!(row.len() == 2 && row[1].distance > row[0].distance);
    assert!(row[0].nearest < row[0].distance && row[0].farthest > row[0].distance);
    assert!(row.iter().all(|row| row.speed_per_metre > 0.0));
}

#[test]
fn what_to_measure_next_is_what_tells_most() {
    let (_, found) = found(&[13.0, 13.6]);
    let ride = |start: f64| TestRide::new("steady", start).unwrap().leaving(1.2).unwrap();
    let rides = [ride(13.0), ride(14.5)];
    let all = found.what_next(&rides, &ride(18.0)).unwrap();
    assert_eq!(all.len(), 8);
    assert!(all.windows(2).all(|pair| pair[0].gain >= pair[1].gain));
    assert!(all.iter().all(|one| one.gain > 0.0));
    let of = |start: f64, method: Method| {
        let one = |m: &&loamline::flags::Measurement| {
            (m.ride.start() - start).abs() < 1e-9 && m.method == method
        };
        all.iter().find(one).unwrap().gain
    };
    // Measuring more tells more, and the ride nearer to the one that is to be known tells more of it.
    assert!(of(14.5, Method::SpeedGate) > of(14.5, Method::Tape));
    assert!(of(14.5, Method::Tape) > of(13.0, Method::Tape));
}

/// On little grip a slow rider slides off the wall: earth is asked for under a ride that holds, not under the nearest.
#[test]
fn who_is_too_slow_to_hold_is_not_sent_nearer() {
    let mut site = hillside().unwrap();
    for class in &mut site.classes {
        class.rider = class.rider.clone().with_grip(0.65).unwrap();
    }
    let flags: Vec<Flag> =
        [13.0, 13.6, 14.2].iter().map(|start| flag(&site, *start, Vec2::zeros())).collect();
    let crew = Crew::default();
    let found = fit_flags(&site, &flags, &FlagOptions::default(), &crew).unwrap();
    let next = next_step(&found, &options(1.2), &crew).unwrap();
    let Some(Refusal::Risky { ride, risk, .. }) = &next.refusal else { panic!("{next:?}") };
    assert!(risk.not_leaving < 0.05 && risk.hard > 0.5, "{risk:?}");
    let nearer = ride.clone().from_start(0.5 * (ride.start() + 14.2)).unwrap();
    let nearer = found.forecast(&nearer, 64, 1, &crew).unwrap().judged(1.2);
    assert!(nearer.not_leaving > 0.05, "{nearer:?}");
    assert!((next.then.unwrap().ride.start() - ride.start()).abs() < 1e-12);
}

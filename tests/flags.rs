//! Flags: truths that come back, a bad flag that is named, input that is refused.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]
#![allow(clippy::print_stdout, reason = "how long a fit takes is worth seeing")]

#[path = "../benches/fixtures/hillside.rs"]
mod hillside;

use approx::assert_relative_eq;
use hillside::hillside;
use loamline::Ground;
use loamline::feature::Drop;
use loamline::flags::{
    Flag, FlagOptions, FlagsError, FlagsWarning, Gate, MARK_SD, Priors, Speed, Spot, TestRide,
    Timing, Unknown, Values, fit_flags,
};
use loamline::math::parallel::Crew;
use loamline::math::{Vec2, Vec3};
use loamline::ride::Lean;
use loamline::site::{Dist, Site};

const TRUTH: Values = [0.026, 0.53, 0.08, 0.25, 0.12, 0.1];

fn flag(start: f64) -> Flag {
    let ride = TestRide::new("steady", start).unwrap().leaving(1.2).unwrap();
    let ride = ride.with_start_sd(0.0).unwrap();
    Flag::new(format!("{start}"), ride).with_mark(Spot::At(Vec2::zeros()), MARK_SD).unwrap()
}

/// The same flag where a rider with these values would have planted it, off by so much.
fn planted(site: &Site, flag: &Flag, truth: &Values, lean: Lean, off: Vec2, sd: f64) -> Flag {
    let mark = flag.seen(site, truth, lean).unwrap().mark.xy();
    flag.clone().with_mark(Spot::At(mark + off), sd).unwrap()
}

/// A slope without edges.
fn slope() -> Ground {
    Ground::plane(Vec3::new(0.0, 0.0, -0.5), 0.1, 0.9).unwrap()
}

/// Down a straight slope from rest: rolling and drag come back from speeds by the closed form
/// `v^2 = (A / k) (1 - exp(-2 k s))`, `A = g (sin - crr cos)`, `k = rho cda / 2 m`. Derived, not an outside check.
#[test]
fn a_coast_down_tells_rolling_from_drag() {
    let mut site = hillside().unwrap();
    let tilt = 0.16_f64;
    site.run_in.distance = vec![0.0, 40.0];
    site.run_in.height = vec![0.0, -40.0 * tilt.tan()];
    let class = site.class("steady").unwrap();
    let (mass, density, gravity) = (class.mass.median(), site.air.density(), site.air.gravity());
    let (crr, cda) = (0.024, 0.61);
    let speed = |start: f64, gate: f64| {
        let (rolled, k) = ((start - gate) / tilt.cos(), 0.5 * density * cda / mass);
        let a = gravity * (tilt.sin() - crr * tilt.cos());
        (a / k * (1.0 - (-2.0 * k * rolled).exp())).sqrt()
    };
    let coasted = |start: f64| {
        let ride = TestRide::new("steady", start).unwrap().leaving(1.2).unwrap();
        let ride = ride.with_start_sd(0.0).unwrap().braking(0.0).unwrap();
        [0.7, 0.35, 0.05].map(|share| share * start).into_iter().fold(
            Flag::new(format!("{start}"), ride),
            |flag, gate| {
                let at = Gate::UpHill(gate);
                flag.with_speed(Speed::new(at, speed(start, gate), 1e-4).unwrap())
            },
        )
    };
    let flags = [12.0, 24.0, 38.0].map(coasted);
    let free = [Unknown::Crr, Unknown::Cda];
    let options = FlagOptions::default().with_free(&free).unwrap().with_lean(Lean::Deck);
    let found = fit_flags(&site, &flags, &options, &Crew::default()).unwrap();
    assert_relative_eq!(found.estimate(Unknown::Crr).median, crr, epsilon = 1e-5);
    assert_relative_eq!(found.estimate(Unknown::Cda).median, cda, epsilon = 1e-3);
}

/// A test ride comes down as passes do: held by a speed check, and no higher up the panel than a rail lets him.
#[test]
fn what_holds_passes_holds_flags() {
    let mut site = hillside().unwrap();
    let places = site.places();
    site.run_in.speed_check = Some(6.5);
    let truth: Values = [0.03, 0.55, 0.0, 0.0, 0.0, 0.0];
    let entry = Speed::new(Gate::Edge, 5.0, 0.1).unwrap();
    let exit = |site: &Site, start: f64| {
        let watched = flag(start).on(slope()).with_speed(entry);
        watched.seen(site, &truth, Lean::Deck).unwrap().numbers[2]
    };
    assert!((exit(&site, 18.0) - exit(&site, 20.0)).abs() < 1e-9);
    let free = hillside().unwrap();
    assert!(exit(&free, 20.0) > exit(&free, 18.0) + 0.05);
    assert!(exit(&free, 18.0) > exit(&site, 18.0) + 0.05);
    site.leave_at_most = Some(1.0);
    assert!((site.places().high - 1.0).abs() < 1e-15 && places.high > 1.0);
    let told = fit_flags(&site, &[flag(18.0)], &FlagOptions::default(), &Crew::default());
    assert!(
        told.unwrap_err().to_string().contains("1.2"),
        "left at 1.2, where a rail stands at 1.0"
    );
    assert!(site.ride(18.0, 1.2, "steady", Lean::Deck).is_err());
}

#[test]
fn the_truth_comes_back_from_flags_without_noise() {
    let site = hillside().unwrap();
    let values: Values = [0.026, 0.53, 0.08, 0.25, 0.12, 0.0];
    let mut flags = Vec::new();
    for (start, leave) in [(14.0, 1.0), (15.0, 1.4), (16.5, 1.2), (18.0, 1.6), (20.0, 1.3)] {
        for share in [0.0, 1.0] {
            let ride = TestRide::new("steady", start).unwrap().leaving(leave).unwrap();
            let ride = ride.with_start_sd(0.0).unwrap().braking(share).unwrap();
            let flag = Flag::new(format!("{start} {share}"), ride).on(slope());
            let speed = Speed::new(Gate::UpHill(4.0), 5.0, 1e-5).unwrap();
            let mut flag = flag.with_mark(Spot::At(Vec2::zeros()), 1e-5).unwrap();
            let seen = flag.clone().with_speed(speed).seen(&site, &values, Lean::Balanced).unwrap();
            flag = flag.with_mark(Spot::At(seen.mark.xy()), 1e-5).unwrap();
            flags.push(
                flag.with_speed(Speed::new(Gate::UpHill(4.0), seen.numbers[2], 1e-5).unwrap()),
            );
        }
    }
    let free = [Unknown::Crr, Unknown::Cda, Unknown::Brake, Unknown::Pop, Unknown::Leave];
    let options = FlagOptions::default().with_free(&free).unwrap().with_accuracy(1e-8).unwrap();
    let found = fit_flags(&site, &flags, &options, &Crew::default()).unwrap();
    assert_eq!(found.leans[0].lean, Lean::Balanced);
    assert!(found.leans[0].weight > 1.0 - 1e-9);
    for unknown in free {
        let estimate = found.estimate(unknown);
        let truth = values[Unknown::ALL.iter().position(|one| *one == unknown).unwrap()];
        assert_relative_eq!(estimate.median, truth, epsilon = 1e-4);
        assert!(estimate.learnt > 0.9, "{unknown} {}", estimate.learnt);
    }
}

#[test]
fn one_bad_flag_is_named_and_the_others_rule() {
    let site = hillside().unwrap();
    let starts = [14.0, 15.0, 16.0, 17.0];
    let good: Vec<Flag> = starts
        .iter()
        .map(|start| planted(&site, &flag(*start), &TRUTH, Lean::Balanced, Vec2::zeros(), 0.2))
        .collect();
    let mut bad = good.clone();
    bad[1] = planted(&site, &flag(15.0), &TRUTH, Lean::Balanced, Vec2::new(2.4, -1.8), 0.2);
    let options = FlagOptions::default();
    let with = fit_flags(&site, &bad, &options, &Crew::default()).unwrap();
    assert!(with.checks[1].is_bad && with.checks.iter().filter(|check| check.is_bad).count() == 1);
    assert!(with.warnings.contains(&FlagsWarning::BadFlag { flag: "15".into() }));
    let mut without = good;
    without.remove(1);
    let without = fit_flags(&site, &without, &options, &Crew::default()).unwrap();
    for (a, b) in with.estimates.iter().zip(&without.estimates) {
        let width = b.high - b.low;
        assert!((a.median - b.median).abs() < 0.1 * width, "{a:?} {b:?}");
    }
}

/// Off a level drop onto a slope straight ahead the mark lies as far across as the tyres leave: what is believed of that and what is measured are normal
/// and add by their precisions.
#[test]
fn a_linear_case_is_its_closed_form() {
    let mut site = hillside().unwrap();
    let deck = Drop::new(3.0, 4.0, 0.0).unwrap();
    site.takeoff = deck.placed(Vec3::new(0.0, 0.0, 1.5), 0.0).unwrap().into();
    site.enter = 0.0;
    for class in &mut site.classes {
        class.leave = 0.2.into();
        class.leave_per_speed = 0.0;
    }
    let prior = Dist::Normal { mean: 0.05, sd: 0.3, low: None, high: None };
    let class = site.class("steady").unwrap();
    let priors = Priors::of(&site, class, true).unwrap().with(Unknown::Leave, prior).unwrap();
    let options = FlagOptions::default()
        .with_free(&[Unknown::Leave])
        .unwrap()
        .with_priors(priors)
        .with_bad_share(0.0)
        .unwrap()
        .with_lean(Lean::Deck)
        .with_accuracy(1e-9)
        .unwrap();
    let flags: Vec<Flag> = [(0.31, 0.2), (0.62, 0.4), (0.11, 0.25)]
        .into_iter()
        .enumerate()
        .map(|(i, (across, sd))| {
            let ride = TestRide::new("steady", 15.0 + i as f64).unwrap().leaving(0.2).unwrap();
            let ground = Ground::plane(Vec3::zeros(), 0.1, 0.0).unwrap();
            let flag = Flag::new(format!("{i}"), ride.with_start_sd(0.0).unwrap()).on(ground);
            let flag = flag.with_mark(Spot::At(Vec2::zeros()), sd).unwrap();
            let mut values = priors.medians();
            values[4] = across - 0.2;
            planted(&site, &flag, &values, Lean::Deck, Vec2::zeros(), sd)
        })
        .collect();
    let found = fit_flags(&site, &flags, &options, &Crew::default()).unwrap();
    let seen = [(0.11, 0.2_f64), (0.42, 0.4), (-0.09, 0.25)];
    let mut precision = 1.0 / 0.09;
    let mut sum = 0.05 / 0.09;
    for (flag, (bias, sd)) in flags.iter().zip(seen) {
        let answers = flag.seen(&site, &priors.medians(), Lean::Deck).unwrap().answers;
        assert_relative_eq!(answers[0][4], 0.0, epsilon = 1e-9);
        assert_relative_eq!(answers[1][4], 1.0, epsilon = 1e-9);
        precision += 1.0 / (sd * sd);
        sum += bias / (sd * sd);
    }
    let estimate = found.estimate(Unknown::Leave);
    assert_relative_eq!(estimate.median, sum / precision, epsilon = 1e-6);
    let spread = (estimate.high - estimate.low) / (2.0 * 1.6448536269514722);
    assert_relative_eq!(spread, precision.sqrt().recip(), max_relative = 1e-6);
}

#[test]
fn fewer_numbers_than_unknowns_are_said() {
    let site = hillside().unwrap();
    let flags: Vec<Flag> = [14.0, 16.0]
        .iter()
        .map(|start| planted(&site, &flag(*start), &TRUTH, Lean::Deck, Vec2::zeros(), 0.2))
        .collect();
    let free = [Unknown::Crr, Unknown::Cda, Unknown::Brake, Unknown::Pop, Unknown::Leave];
    let options = FlagOptions::default().with_free(&free).unwrap();
    let found = fit_flags(&site, &flags, &options, &Crew::default()).unwrap();
    assert_eq!(found.held.len(), 1);
    let held = found.estimate(found.held[0]);
    assert_relative_eq!(held.median, held.prior_median);
    assert_relative_eq!(held.high, held.prior_high);
    assert!(
        found
            .warnings
            .iter()
            .any(|w| matches!(w, FlagsWarning::Held { unknowns } if unknowns.len() == 1))
    );
}

#[test]
fn threads_do_not_change_a_bit_and_forecasts_narrow() {
    let site = hillside().unwrap();
    let planted =
        |start: f64| planted(&site, &flag(start), &TRUTH, Lean::Balanced, Vec2::zeros(), 0.2);
    let flags = [planted(14.0), planted(15.0), planted(16.0)];
    let crew = |threads| Crew { threads: Some(threads), watch: None };
    let options = FlagOptions::default();
    let begun = std::time::Instant::now();
    let one = fit_flags(&site, &flags, &options, &crew(1)).unwrap();
    println!("three flags fitted in {:?}", begun.elapsed());
    let two = fit_flags(&site, &flags, &options, &crew(2)).unwrap();
    assert!(one == two);
    let ride = TestRide::new("steady", 20.0).unwrap().leaving(1.2).unwrap();
    let begun = std::time::Instant::now();
    let from_three = one.forecast(&ride, 64, 1, &crew(1)).unwrap();
    println!("a ride forecast in {:?}", begun.elapsed());
    assert!(from_three == two.forecast(&ride, 64, 1, &crew(2)).unwrap());
    let first = fit_flags(&site, &flags[..1], &options, &crew(2)).unwrap();
    let from_one = first.forecast(&ride, 64, 1, &crew(2)).unwrap();
    let width = |forecast: &loamline::flags::Forecast| {
        let distance = forecast.distance.unwrap();
        distance.p95 - distance.p5
    };
    assert!(width(&from_three) < width(&from_one));
    let told: serde_json::Value = serde_json::to_value(&from_three).unwrap();
    let back: loamline::flags::Forecast = serde_json::from_value(told).unwrap();
    assert!(back == from_three);
}

/// Where marks are known well the score's distribution is all but normal. With one flag alone the sampler tells how far off
/// normal it is; by how much is only shown.
#[test]
fn a_sampler_agrees_where_the_posterior_is_near_normal() {
    let site = hillside().unwrap();
    let near = |start: f64| {
        planted(&site, &flag(start).on(slope()), &TRUTH, Lean::Balanced, Vec2::zeros(), 0.15)
    };
    let options = FlagOptions::default().with_lean(Lean::Balanced);
    let few = options.clone().with_free(&[Unknown::Pop, Unknown::Speed, Unknown::Leave]).unwrap();
    let flags = [near(14.0), near(15.0), near(16.0)];
    let found = fit_flags(&site, &flags, &few, &Crew::default()).unwrap();
    let sampled = found.sampled(192, 1, &Crew::default()).unwrap();
    println!("{sampled:?}");
    assert!(sampled[0].is_near() && sampled[0].effective > 0.5, "{sampled:?}");
}

/// Two flags of one start that contradict each other: either may be the bad one, so what is likely has two tops or a broad
/// one, and a normal distribution about one of them does not do. The sampler says so.
#[test]
fn a_sampler_differs_where_flags_contradict_each_other() {
    let site = hillside().unwrap();
    let options = FlagOptions::default().with_lean(Lean::Balanced);
    let options = options.with_free(&[Unknown::Speed]).unwrap();
    let of = |faster: f64| {
        let values = {
            let mut all = TRUTH;
            all[5] = faster;
            all
        };
        planted(&site, &flag(15.0).on(slope()), &values, Lean::Balanced, Vec2::zeros(), 0.05)
    };
    let found = fit_flags(&site, &[of(-0.7), of(0.8)], &options, &Crew::default());
    let sampled = found.unwrap().sampled(512, 1, &Crew::default()).unwrap();
    println!("{sampled:?}");
    assert!(!sampled[0].is_near(), "{sampled:?}");
}

#[test]
fn bad_flags_are_refused_by_name() {
    let site = hillside().unwrap();
    let fit = |flags: &[Flag]| {
        fit_flags(&site, flags, &FlagOptions::default(), &Crew::default()).unwrap_err().to_string()
    };
    assert_eq!(fit(&[]), FlagsError::NoFlags.to_string());
    let uphill = flag(14.0).with_mark(Spot::At(Vec2::new(3.0, -2.0)), 0.2).unwrap();
    assert!(fit(&[uphill]).contains("uphill of the edge"));
    let ride = TestRide::new("steady", 14.0).unwrap();
    assert!(fit(&[Flag::new("empty", ride.clone())]).contains("neither a mark"));
    let taped = |towards: &str| Spot::Taped {
        from: "stump".into(),
        towards: towards.into(),
        along: 4.0,
        left: 1.0,
    };
    let of = |spot| Flag::new("taped", ride.clone()).with_mark(spot, 0.2).unwrap();
    assert!(fit(&[of(taped("oak"))]).contains("no mark \"oak\" to tape from"));
    assert!(fit(&[of(taped("stump"))]).contains("a tape needs a direction"));
    let quick = Flag::new("q", TestRide::new("quick", 18.0).unwrap());
    let quick = quick.with_mark(Spot::At(Vec2::new(9.0, 9.0)), 0.2).unwrap();
    let steady = of(Spot::At(Vec2::new(9.0, 9.0)));
    assert!(fit(&[quick, steady]).contains("quick, steady"));
    let far = TestRide::new("steady", 60.0).unwrap();
    let far = Flag::new("far", far).with_mark(Spot::At(Vec2::new(9.0, 9.0)), 0.2).unwrap();
    assert!(fit(&[far]).contains("flag \"far\": start = 60"));
    let slow = TestRide::new("steady", 0.3).unwrap();
    let slow = Flag::new("slow", slow).with_mark(Spot::At(Vec2::new(9.0, 9.0)), 0.2).unwrap();
    assert!(fit(&[slow]).contains("does not come down"));
    assert!(TestRide::new("steady", f64::NAN).is_err());
    let back = Timing::new(Gate::UpHill(2.0), Gate::UpHill(5.0), 1.0, 0.1).unwrap_err();
    assert!(back.to_string().contains("runs backwards"));
    assert!(Timing::new(Gate::UpHill(5.0), Gate::Edge, -1.0, 0.1).is_err());
    assert!(FlagOptions::default().with_free(&[]).is_err());
}

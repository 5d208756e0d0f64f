use super::*;
use crate::geometry::Profile;
use crate::ground::{Ground, Landing};
use crate::launch::Launch;
use crate::math::Vec2;
use crate::site::Obstacle;
use approx::assert_relative_eq;

const G: f64 = 9.80665;

/// Feels neither air nor rolling, grips without end.
fn bare() -> Rider {
    let rider = Rider::default().with_cda(0.0).unwrap().with_crr(0.0).unwrap();
    rider.with_grip(f64::INFINITY).unwrap()
}

fn air() -> Air {
    Air::standard()
}

fn flown(velocity: (f64, f64, f64), height: f64, ground: &Ground, rider: &Rider) -> Flight {
    let velocity = Vec3::new(velocity.0, velocity.1, velocity.2);
    let launch = Launch::by_hand(Vec3::new(0.0, 0.0, height), velocity).unwrap();
    launch.flight(ground, rider, &air()).unwrap()
}

fn slope(angle: f64) -> Ground {
    Ground::plane(Vec3::zeros(), angle, 0.0).unwrap()
}

fn braking(brake: f64, reaction: f64) -> RunOutOptions {
    RunOutOptions::default().with_brake(brake).unwrap().with_reaction(reaction).unwrap()
}

/// On the level he rolls `v t` and stops in `v^2 / (2 a)`.
#[test]
fn on_the_level_he_stops_by_the_book() {
    let run = flown((7.0, 0.0, 1.0), 2.0, &slope(0.0), &bare());
    let run = run.run_out(&bare(), &air(), &braking(3.0, 0.8)).unwrap();
    assert_relative_eq!(run.speed_kept, 7.0, epsilon = 1e-12);
    assert_relative_eq!(run.touch_speed, 50f64.sqrt().hypot((2.0 * G).sqrt()), epsilon = 1e-12);
    let stop = run.stop.unwrap();
    assert_relative_eq!(run.braking_from.unwrap(), 5.6, epsilon = 1e-6);
    assert_relative_eq!(stop.station, 5.6 + 49.0 / 6.0, epsilon = 1e-6);
    assert_relative_eq!(stop.time, 0.8 + 7.0 / 3.0, epsilon = 1e-5);
    assert_relative_eq!(run.peak_load.load, 1.0, epsilon = 1e-9);
    assert_eq!((run.drift, run.leaves_side_at, &run.warnings[..]), (None, None, &[][..]));
}

/// Down a slope gravity works against the brake; only the speed along the slope is kept.
#[test]
fn down_a_slope_it_takes_longer() {
    let down: f64 = 0.15;
    let flight = flown((6.0, 0.0, 0.0), 1.5, &slope(down), &bare());
    let run = flight.run_out(&bare(), &air(), &braking(3.5, 0.0)).unwrap();
    let v = flight.touchdown().contact.unwrap().velocity;
    let kept = v.x * down.cos() - v.z * down.sin();
    assert_relative_eq!(run.speed_kept, kept, epsilon = 1e-12);
    let slowing = 3.5 - G * down.sin();
    assert_relative_eq!(run.stop.unwrap().station, kept * kept / (2.0 * slowing), epsilon = 1e-6);
    assert_relative_eq!(run.peak_load.load, down.cos(), epsilon = 1e-9);
    // A brake that gravity beats does not stop him.
    let run = flight.run_out(&bare(), &air(), &braking(1.0, 0.0)).unwrap();
    assert!(run.stop.is_none());
    assert!(matches!(run.warnings[..], [RunOutWarning::DoesNotStop { .. }]), "{:?}", run.warnings);
}

fn built(foot_radius: f64, width: f64) -> Ground {
    let landing = Landing::new(Vec2::new(3.0, 0.0), 0.0, 0.4, 5.0, width).unwrap();
    slope(0.0).with_landing(&landing.with_foot_radius(foot_radius).unwrap()).unwrap()
}

/// In a foot of radius R the centre of mass rides a circle of R - h: the load is `cos + v^2 / (g (R - h))`.
#[test]
fn the_foot_presses_as_its_radius_asks() {
    let ground = built(7.0, 3.0);
    let flight = flown((7.0, 0.0, 1.0), 4.2, &ground, &bare());
    let run = flight.run_out(&bare(), &air(), &braking(0.0, 9.0)).unwrap();
    let samples = &run.ride.samples;
    let at = samples.station.iter().position(|s| *s >= run.peak_load.station).unwrap();
    let fall = samples.centre[0].z - samples.centre[at].z;
    let speed = (run.speed_kept.powi(2) + 2.0 * G * fall).sqrt();
    let load = 1.0 + speed * speed / (G * 6.0);
    // Its facets turn by up to 4 degrees each, and the line eases into the curve.
    assert_relative_eq!(run.peak_load.load, load, max_relative = 0.06);
    let sharp = built(0.0, 3.0);
    let flight = flown((7.0, 0.0, 1.0), 4.2, &sharp, &bare());
    let sharp = flight.run_out(&bare(), &air(), &braking(0.0, 9.0)).unwrap();
    assert!(sharp.peak_load.load > 1.3 * run.peak_load.load, "{:?}", sharp.peak_load);
}

#[test]
fn who_lands_crooked_drifts_off_the_side() {
    let crooked = |width: f64| {
        let flight = flown((6.0, 1.0, 1.0), 4.2, &built(7.0, width), &bare());
        let run = flight.run_out(&bare(), &air(), &braking(4.0, 0.5)).unwrap();
        (flight.touchdown().contact.unwrap(), run)
    };
    let (contact, wide) = crooked(9.0);
    let course = (contact.velocity - contact.normal * contact.velocity.dot(&contact.normal)).xy();
    assert_relative_eq!(wide.heading, course.y.atan2(course.x), epsilon = 1e-12);
    let stop = wide.stop.unwrap();
    assert_relative_eq!(wide.drift.unwrap(), stop.place.y, epsilon = 1e-9);
    let way = stop.place.xy() - contact.mark.xy();
    assert!(way.perp(&course).abs() < 1e-6 && wide.drift.unwrap() > contact.mark.y);
    assert_eq!(wide.leaves_side_at, None);
    let (contact, narrow) = crooked(2.0);
    let station = narrow.leaves_side_at.unwrap();
    // By the plan: how far it is to the side along the course, and a little more down the slope.
    let level = (1.0 - contact.mark.y) / narrow.heading.sin();
    assert!(station >= level && station < 1.15 * level, "{station} {level}");
    assert!(narrow.warnings.iter().any(|w| matches!(w, RunOutWarning::LeavesSide { .. })));
}

#[test]
fn an_obstacle_leaves_room_or_is_hit() {
    let flight = flown((7.0, 0.0, 1.0), 2.0, &slope(0.0), &bare());
    let mark = flight.touchdown().contact.unwrap().mark;
    let passing = |x: f64, y: f64, brake: f64| {
        let position = Vec2::new(mark.x + x, mark.y + y);
        let obstacle = Obstacle { name: "an invented stump".into(), position, radius: 0.3 };
        let options = braking(brake, 0.0).with_obstacle(Some(obstacle)).unwrap();
        let run = flight.run_out(&bare(), &air(), &options).unwrap();
        (run.obstacle.unwrap(), run.warnings)
    };
    // 49 / (2 * 3.5) = 7 m to stop; the bar's end reaches the rim 0.7 m before its middle.
    let (clear, warnings) = passing(10.0, 0.0, 3.5);
    assert_relative_eq!(clear.hits_at.unwrap(), 9.3, epsilon = 1e-6);
    assert_relative_eq!(clear.room.unwrap(), 2.3, epsilon = 1e-6);
    assert!(clear.speed.is_none() && warnings.is_empty());
    let (hit, warnings) = passing(5.0, 0.0, 3.5);
    assert_relative_eq!(hit.room.unwrap(), 4.3 - 7.0, epsilon = 1e-6);
    assert_relative_eq!(hit.speed.unwrap(), (49.0f64 - 7.0 * 4.3).sqrt(), epsilon = 1e-3);
    assert!(matches!(warnings[..], [RunOutWarning::HitsObstacle { .. }]));
    let (past, _) = passing(5.0, 1.5, 3.5);
    assert_relative_eq!(past.clearance, 1.2, epsilon = 1e-9);
    assert_eq!((past.hits_at, past.room, past.speed), (None, None, None));
    let (behind, _) = passing(-2.0, 0.0, 3.5);
    assert_eq!(behind.hits_at, None);
}

/// On the level an arc of `R` between two straights that meet at `turn` has tangents of `R tan(turn / 2)`.
#[test]
fn the_turn_onto_the_trail_is_that_of_its_tangents() {
    let flight = flown((7.0, 0.0, 1.0), 2.0, &slope(0.0), &bare());
    let mark = flight.touchdown().contact.unwrap().mark;
    let rejoin = |aside: f64, heading: f64| {
        let through = Vec2::new(mark.x + 12.0, mark.y + aside);
        let trail = Trail::new(through, heading).unwrap();
        let options = braking(0.0, 0.5).with_trail(Some(trail));
        flight.run_out(&bare(), &air(), &options).unwrap().rejoin.unwrap()
    };
    let turn = 0.6f64;
    let left = rejoin(2.0, turn);
    let meets = 12.0 - 2.0 / turn.tan();
    assert_relative_eq!(left.turn, turn, epsilon = 1e-9);
    assert_relative_eq!(left.meets_at.unwrap(), meets, epsilon = 1e-6);
    // Half a second at 7 m/s is gone before he turns; samples are at most 2 cm apart.
    let radius = (meets - 3.5) / (0.5 * turn).tan();
    assert_relative_eq!(left.radius.unwrap(), radius, epsilon = 0.02 / (0.5 * turn).tan());
    let demand = 49.0 / (G * left.radius.unwrap());
    assert_relative_eq!(left.grip_demand.unwrap(), demand, epsilon = 1e-6);
    let right = rejoin(-2.0, -turn);
    assert_relative_eq!(right.radius.unwrap(), left.radius.unwrap(), epsilon = 1e-6);
    assert_eq!((rejoin(2.0, -turn).meets_at.is_some(), rejoin(2.0, 0.0).radius), (true, None));
    assert_eq!(rejoin(-9.0, turn).meets_at.map(|at| at > 12.0), Some(true));
    assert_eq!(rejoin(0.0, 0.0).radius, Some(f64::INFINITY));
    let grippy = Trail::new(Vec2::new(mark.x + 4.5, mark.y), 1.5).unwrap();
    let options = braking(0.0, 0.5).with_trail(Some(grippy));
    let slippery = Rider::default().with_grip(0.5).unwrap();
    let run = flight.run_out(&slippery, &air(), &options).unwrap();
    assert!(run.warnings.iter().any(|w| matches!(w, RunOutWarning::TooTightATurn { .. })));
}

/// One's run-out is the next one's run-in: without losses the speed follows from the heights alone.
#[test]
fn what_is_left_rides_the_next_feature() {
    let ground = built(7.0, 3.0);
    let flight = flown((7.0, 0.0, 1.0), 4.2, &ground, &bare());
    let run = flight.run_out(&bare(), &air(), &braking(0.0, 0.0)).unwrap();
    assert_eq!(run.touched, TouchOutcome::Caught);
    assert_relative_eq!(run.touch_slope, 0.4, epsilon = 1e-9);
    assert_relative_eq!(run.end_slope.unwrap(), 0.0, epsilon = 1e-9);
    let at = |x: f64, y: f64| {
        let profile = Profile::smooth(&[0.0, 2.0, 4.0], &[0.0, 0.0, 0.0]).unwrap();
        profile.placed(Vec3::new(x, y, 0.0), 0.0).unwrap().line()
    };
    let options = RideOptions::new(1.0);
    let on = |line: &Line| run.ride_on(line, &bare(), &air(), &options);
    let next = on(&at(15.0, 0.0)).unwrap();
    let fall = run.ride.samples.centre[0].z - 1.0;
    let speed = (run.speed_kept.powi(2) + 2.0 * G * fall).sqrt();
    assert_relative_eq!(next.samples.speed[0], speed, max_relative = 1e-6);
    assert!(matches!(on(&at(15.0, 1.0)), Err(RunOutError::NextAside { .. })));
    assert!(matches!(on(&at(90.0, 0.0)), Err(RunOutError::NextNotReached { .. })));
    assert!(matches!(on(&at(-5.0, 0.0)), Err(RunOutError::NextNotReached { .. })));
}

/// Who lands long or wide comes down on the ground there, and says so.
#[test]
fn long_and_wide_ones_end_where_they_do() {
    let run = |velocity, ground: &Ground| {
        flown(velocity, 4.2, ground, &bare()).run_out(&bare(), &air(), &braking(3.0, 0.5)).unwrap()
    };
    let long = run((12.0, 0.0, 1.0), &built(0.0, 3.0));
    assert_eq!((long.touched, long.touch_slope), (TouchOutcome::Long, 0.0));
    assert!(long.stop.unwrap().place.x > 9.0 && long.end_slope == Some(0.0));
    let wide = run((7.0, 2.6, 1.0), &built(0.0, 1.5));
    assert_eq!(wide.touched, TouchOutcome::Wide);
    assert!(wide.drift.unwrap() > 0.75);
}

/// The brake lifts the rear wheel where it is above what `N l / h` holds.
#[test]
fn too_hard_a_brake_is_warned_of() {
    let flight = flown((7.0, 0.0, 1.0), 2.0, &slope(0.0), &bare());
    let limit = pitch_over_limit(&bare(), &air(), 0.0);
    assert_relative_eq!(limit, G * 0.72, epsilon = 1e-12);
    let warned = |brake| {
        let run = flight.run_out(&bare(), &air(), &braking(brake, 0.0)).unwrap();
        run.warnings.iter().any(|w| matches!(w, RunOutWarning::PitchesOver { .. }))
    };
    assert!(warned(limit + 0.1) && !warned(limit - 0.1));
    let slippery = Rider::default().with_grip(0.2).unwrap();
    let run = flight.run_out(&slippery, &air(), &braking(5.0, 0.0)).unwrap();
    let limited = |w: &RunOutWarning| matches!(w, RunOutWarning::BrakeLimited { .. });
    assert!(run.warnings.iter().any(limited));
    assert!(run.warnings.iter().all(|warning| warning.to_string().len() > 20));
    assert!(run.explain().to_string().contains("certify nothing"));
}

#[test]
fn what_cannot_be_ridden_says_why() {
    let ride = |flight: &Flight, options: &RunOutOptions| {
        flight.run_out(&bare(), &air(), options).unwrap_err()
    };
    let plain = RunOutOptions::default();
    let up = flown((0.0, 0.0, 2.0), 2.0, &slope(0.0), &bare());
    assert!(matches!(ride(&up, &plain), RunOutError::Stopped { .. }));
    let table =
        Ground::grid(Vec2::new(-2.0, -2.0), Vec2::repeat(1.0), 6, 5, vec![0.0; 30]).unwrap();
    let off = flown((9.0, 0.0, 2.0), 2.0, &table, &bare());
    assert!(matches!(ride(&off, &plain), RunOutError::NoTouch { .. }));
    let edge = flown((6.1, 0.0, 0.0), 2.1, &table, &bare());
    assert!(matches!(ride(&edge, &plain), RunOutError::NoGround { .. }), "{edge:?}");
    for wrong in [f64::NAN, -1.0, f64::INFINITY] {
        assert!(RunOutOptions::default().with_brake(wrong).is_err());
        assert!(RunOutOptions::default().with_reaction(wrong).is_err());
        assert!(RunOutOptions::default().with_length(wrong).is_err());
        let position = Vec2::zeros();
        let stump = Obstacle { name: "an invented stump".into(), position, radius: wrong };
        assert!(RunOutOptions::default().with_obstacle(Some(stump)).is_err());
    }
}

//! How a ride starts: settled on both wheels, or in a pose that was given.

use super::error::TwoWheelError;
use super::motion::{State, axes};
use super::options::{Pose, Start};
use super::phase::Setting;
use crate::math::Vec2;
use crate::math::range::within;
use nalgebra::{SMatrix, SVector};

/// Steps of Newton to the settled stance.
const MOST_STEPS: usize = 60;
/// What is left over of a settled stance at most, m/s^2 and m.
const SETTLED: f64 = 1e-10;
/// What is still called settled where rounding stops the search.
const GOOD_ENOUGH: f64 = 1e-7;
/// Differences for the slopes, m and radians.
const DIFFERENCE: f64 = 1e-7;

type Five = SVector<f64, 5>;

/// Where the front wheel is to touch, m, and how fast the whole goes, m/s.
struct Place {
    front: f64,
    speed: f64,
}

/// The state in which a ride starts.
pub(super) fn state(setting: &Setting, start: &Start) -> Result<State, TwoWheelError> {
    match start {
        Start::Given(pose) => Ok(given(setting, pose)),
        Start::Settled { front, speed } => settled(setting, *front, *speed),
    }
}

fn given(setting: &Setting, pose: &Pose) -> State {
    let mut y = State::zeros();
    (y[0], y[1], y[2]) = (pose.centre.x, pose.centre.y, pose.pitch);
    (y[5], y[6], y[7]) = (pose.velocity.x, pose.velocity.y, pose.pitch_rate);
    for (end, axle) in setting.bike.axles.iter().enumerate() {
        y[3 + end] = if axle.strut.is_some() { pose.travel[end] } else { 0.0 };
    }
    y
}

/// Both wheels on the ground, the front one at `front`, with no acceleration in pitch, in the suspension and off the
/// ground; speeding up or slowing down along it is left free.
fn settled(setting: &Setting, front: f64, speed: f64) -> Result<State, TwoWheelError> {
    let bike = setting.bike;
    let (start, end) = setting.terrain.span();
    let needed = start + bike.wheelbase + bike.wheel_radius;
    if front < needed {
        let wheelbase = bike.wheelbase;
        return Err(TwoWheelError::RunInTooShort { front, needed, wheelbase });
    }
    within("front", front, needed, end - bike.wheel_radius)?;
    let place = &Place { front, speed };
    let mut stance = guess(setting, front);
    let mut left = leftover(setting, place, &stance);
    for _ in 0..MOST_STEPS {
        if left.amax() <= SETTLED {
            break;
        }
        let Some(step) = newton(setting, place, &stance, &left) else { break };
        (stance, left) = halved(setting, place, &stance, &left, &step);
    }
    if left.amax().is_nan() || left.amax() > GOOD_ENOUGH {
        return Err(TwoWheelError::NotSettled { front, left: left.amax() });
    }
    Ok(moving(setting, &stance, speed))
}

/// The stance on the level, laid along the chord between both wheels' places.
fn guess(setting: &Setting, front: f64) -> Five {
    let (bike, terrain) = (setting.bike, setting.terrain);
    let height = |x: f64| terrain.height(x).unwrap_or(0.0);
    let mut rear = front - bike.wheelbase;
    for _ in 0..3 {
        let slope = (height(front) - height(rear)) / (front - rear);
        rear = front - bike.wheelbase / slope.hypot(1.0);
    }
    let chord = Vec2::new(front - rear, height(front) - height(rear)).normalize();
    let up = Vec2::new(-chord.y, chord.x);
    let centre = Vec2::new(front, height(front)) - chord * bike.axles[1].ahead + up * bike.stance();
    let [rear, front] = [0, 1].map(|end| bike.axles[end].sag);
    Five::new(centre.x, centre.y, -chord.y.atan2(chord.x), rear, front)
}

/// What is left over: where the front wheel touches, pitch, suspension rear and front, and off the ground.
fn leftover(setting: &Setting, place: &Place, stance: &Five) -> Five {
    let bike = setting.bike;
    let mut y = State::zeros();
    y.fixed_rows_mut::<5>(0).copy_from(stance);
    let (t, u) = axes(stance[2]);
    // Rolling resistance and drag are there, but no bend of the ground: it goes straight on.
    (y[5], y[6]) = (t.x * place.speed, t.y * place.speed);
    let moment = bike.moment(&y, setting.terrain, 0.0);
    let normal = moment.wheels.map(|wheel| wheel.touch.map_or(u, |touch| touch.normal));
    let out = (normal[0] + normal[1]).normalize();
    let front = moment.wheels[1].touch.map_or(moment.wheels[1].hub.x, |touch| {
        moment.wheels[1].hub.x - touch.normal.x * (bike.wheel_radius - touch.depth)
    });
    let strut = |end: usize| {
        if bike.axles[end].strut.is_some() { moment.rates[8 + end] } else { stance[3 + end] }
    };
    let off = Vec2::new(moment.rates[5], moment.rates[6]).dot(&out);
    Five::new(front - place.front, moment.rates[7], strut(0), strut(1), off)
}

fn newton(setting: &Setting, place: &Place, stance: &Five, left: &Five) -> Option<Five> {
    let mut slopes = SMatrix::<f64, 5, 5>::zeros();
    for i in 0..5 {
        let (mut high, mut low) = (*stance, *stance);
        high[i] += DIFFERENCE;
        low[i] -= DIFFERENCE;
        let slope =
            (leftover(setting, place, &high) - leftover(setting, place, &low)) / (2.0 * DIFFERENCE);
        slopes.set_column(i, &slope);
    }
    slopes.lu().solve(&-left)
}

/// The stance after as much of a step as makes less left over.
fn halved(
    setting: &Setting,
    place: &Place,
    stance: &Five,
    left: &Five,
    step: &Five,
) -> (Five, Five) {
    let mut share = 1.0;
    loop {
        let next = stance + step * share;
        let less = leftover(setting, place, &next);
        if less.norm() < left.norm() || share < 1e-6 {
            return (next, less);
        }
        share *= 0.5;
    }
}

/// The stance in motion: each hub along the ground under it, the whole at `speed`.
fn moving(setting: &Setting, stance: &Five, speed: f64) -> State {
    let mut y = State::zeros();
    y.fixed_rows_mut::<5>(0).copy_from(stance);
    let wheels = setting.bike.wheels(&y, setting.terrain);
    let (t, u) = axes(stance[2]);
    let normal = |end: usize| wheels[end].touch.map_or(u, |touch| touch.normal);
    // Of a motion `v` of the centre and a rate of pitch, hubs move off the ground by v n + rate arm n.
    let arm = |end: usize| {
        let axle = &setting.bike.axles[end];
        (t * (axle.above + stance[3 + end]) - u * axle.ahead).dot(&normal(end))
    };
    let (rear, front) = (normal(0), normal(1));
    let across = rear * arm(1) - front * arm(0);
    let along = Vec2::new(across.y, -across.x).normalize();
    let along = if along.dot(&t) < 0.0 { -along } else { along };
    let velocity = along * speed;
    (y[5], y[6]) = (velocity.x, velocity.y);
    let steady = usize::from(arm(1).abs() > arm(0).abs());
    y[7] = -velocity.dot(&[rear, front][steady]) / arm(steady);
    y
}

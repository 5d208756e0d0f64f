//! Flights onto a plane by quadrature of the hodograph, in the machine's vector registers.
//!
//! Seen from the air the motion stays in one upright plane. With `u_h`, `u_z` the level and upward speed through the air
//! and `s = asinh(u_z / u_h)`, drag and gravity give
//!
//! ```text
//! 1/u_h^2 = 1/u_h0^2 + (k/g) (F(s0) - F(s)),   F = sinh(s) cosh(s) + s
//! dt = -(u_h/g) cosh(s) ds,   dx = u_h dt,   dz = u_h sinh(s) dt
//! ```
//!
//! so time and place are integrals of smooth functions of `s` (J. Bernoulli, 1719, as in A. Sommerfeld, Mechanics, 1952,
//! section 3; from memory). A guess of the touch gives the last `s`; what the guess is off is flown by a Taylor step.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::chunk::{ROWS, Starts, Touches, Vectors};
use super::closing::{Closing, Gap, Pair};
use super::march::Level;
use super::rule::{LONG, Rule, SHORT, STEEP, STRONGEST, hyperbolic};
use crate::force::Forces;
use crate::ground::Plane;
use crate::math::Vec3;
use crate::math::lanes::{Lanes, Mask};
use pulp::{Simd, WithSimd};

/// Nearer than this at the launch, it is not clear that the rider has left the ground; metres.
pub(super) const CLEAR: f64 = 1e-6;
/// The least turn: below it the quadrature is lost in rounding.
const LEAST_TURN: f64 = 1e-3;
/// The most `|u|^2 / g` for which the rules' bounds keep 1e-8 m: 22 m/s; metres.
const LONGEST: f64 = 50.0;
/// The Taylor step turns the velocity by at most this.
const MOST_STEP: f64 = 0.025;
/// The most a touch may be off the plane; metres.
pub(super) const TOUCHING: f64 = 5e-10;

/// What all flights of a batch onto one plane share.
#[derive(Debug, Clone, Copy)]
pub(super) struct Onto {
    g: f64,
    k: f64,
    wind: Vec3,
    level: Level,
}

impl Onto {
    pub(super) fn new(plane: &Plane, height: f64, forces: &Forces) -> Self {
        let level = Level::over(plane, height);
        Self { g: forces.g(), k: forces.k(), wind: forces.wind(), level }
    }

    pub(super) const fn level(&self) -> &Level {
        &self.level
    }
}

/// Flies the first rows of a chunk: `certain` says which touches stand.
pub(super) struct Fly<'a> {
    pub(super) onto: &'a Onto,
    pub(super) starts: &'a Starts,
    pub(super) touches: &'a mut Touches,
    pub(super) rows: usize,
}

impl WithSimd for Fly<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        for at in 0..self.rows.min(ROWS).div_ceil(Pair::<S>::WIDTH) {
            let start = Start::load(simd, self.starts, at, self.onto);
            let arc = Arc::guessed(&start, self.onto);
            let turn = arc.turn.lt(start.fill(STEEP.limit)).select(arc.turn, start.fill(0.0));
            let strong = arc.strength.lt(start.fill(1.0)).select(arc.strength, start.fill(0.0));
            let good = |growth: f64| (strong * start.fill(growth)).mul_add(turn, turn).greatest();
            let (flown, good) = if good(SHORT.growth) < SHORT.limit {
                (arc.flown(&SHORT, self.onto), [SHORT.growth, SHORT.limit])
            } else if good(LONG.growth) < LONG.limit {
                (arc.flown(&LONG, self.onto), [LONG.growth, LONG.limit])
            } else {
                (arc.flown(&STEEP, self.onto), [STEEP.growth, STEEP.limit])
            };
            let touch = finish(&start, &flown, self.onto);
            let stands =
                touch.stands(&start, self.onto).and(touch.within(arc.turn, good, self.onto));
            touch.store(self.touches, at);
            stands.select(start.fill(1.0), start.fill(0.0)).store(&mut self.touches.certain, at);
        }
    }
}

/// The launch, seen from the air.
#[derive(Clone, Copy)]
struct Start<S: Simd> {
    simd: S,
    place: [Pair<S>; 3],
    /// The level direction of the motion through the air.
    ahead: [Pair<S>; 2],
    /// One over the level speed.
    slowness: Pair<S>,
    u_h: Pair<S>,
    u_z: Pair<S>,
    gap: Gap<S>,
}

impl<S: Simd> Start<S> {
    #[inline(always)]
    fn load(simd: S, starts: &Starts, at: usize, onto: &Onto) -> Self {
        let fill = |x: f64| Lanes::splat(simd, x);
        let (n, wind) = (&onto.level.normal, &onto.wind);
        let place = load(simd, &starts.position, at);
        let v = load(simd, &starts.velocity, at);
        let u = [v[0] - fill(wind.x), v[1] - fill(wind.y), v[2] - fill(wind.z)];
        let u_h = u[0].mul_add(u[0], u[1] * u[1]).sqrt();
        let slowness = u_h.recip();
        let ahead = [u[0] * slowness, u[1] * slowness];
        let gap = Gap {
            start: above(onto, &place),
            drift: fill(n.dot(wind)),
            by_x: ahead[0].mul_add(fill(n.x), ahead[1] * fill(n.y)),
            by_z: fill(n.z),
        };
        Self { simd, place, ahead, slowness, u_h, u_z: u[2], gap }
    }

    #[inline(always)]
    fn fill(&self, value: f64) -> Pair<S> {
        Lanes::splat(self.simd, value)
    }
}

#[inline(always)]
fn load<S: Simd>(simd: S, parts: &Vectors, at: usize) -> [Pair<S>; 3] {
    let part = |i: usize| Lanes::load(simd, &parts[i], at);
    [part(0), part(1), part(2)]
}

/// How far centres of mass are above where they touch.
#[inline(always)]
fn above<S: Simd>(onto: &Onto, c: &[Pair<S>; 3]) -> Pair<S> {
    let [x, y, z] = c;
    let fill = |value: f64| x.filled(value);
    let n = &onto.level.normal;
    x.mul_add(fill(n.x), y.mul_add(fill(n.y), z.mul_add(fill(n.z), fill(-onto.level.height))))
}

/// The stretch of the hodograph from the launch to about the touch.
#[derive(Clone, Copy)]
struct Arc<S: Simd> {
    slope_end: Pair<S>,
    /// `cosh` and `sinh` of the middle of `s`.
    middle: [Pair<S>; 2],
    /// Half the range of `s`.
    turn: Pair<S>,
    /// `1/u_h^2` but for what a node adds, and at the end.
    base: Pair<S>,
    end: Pair<S>,
    /// The most `k |u|^2 / g` seems to be.
    strength: Pair<S>,
}

impl<S: Simd> Arc<S> {
    #[inline(always)]
    fn guessed(start: &Start<S>, onto: &Onto) -> Self {
        let one = start.fill(1.0);
        let (slope, [u_h, u_z]) = (start.u_z * start.slowness, guess(start, onto));
        let slope_end = u_z / u_h;
        let rise = slope.mul_add(slope, one).sqrt();
        let rise_end = slope_end.mul_add(slope_end, one).sqrt();
        // `exp` of `s` and of `-s`, at the launch and at the end.
        let [up, down] = [rise + slope, rise - slope];
        let [up_end, down_end] = [rise_end + slope_end, rise_end - slope_end];
        let turn = (up * down_end).ln() * start.fill(0.5);
        let up_middle = (up * up_end).sqrt();
        let down_middle = up_middle * down_end * down;
        let half = start.fill(0.5);
        let kg = start.fill(onto.k / onto.g);
        let first = start.slowness * start.slowness;
        let launch = slope.mul_add(rise, turn);
        let fastest = start.u_h.mul_add(start.u_h, start.u_z * start.u_z);
        Self {
            slope_end,
            middle: [(up_middle + down_middle) * half, (up_middle - down_middle) * half],
            turn,
            base: kg.mul_add(launch, first),
            end: kg.mul_add(launch + turn - slope_end * rise_end, first),
            strength: kg * fastest.max(u_h.mul_add(u_h, u_z * u_z)),
        }
    }

    /// Time, place and velocity at the end.
    #[inline(always)]
    fn flown<const H: usize, const T: usize>(&self, rule: &Rule<H, T>, onto: &Onto) -> Closing<S> {
        let fill = |value: f64| self.turn.filled(value);
        let (one, kg) = (fill(1.0), fill(onto.k / onto.g));
        let ([cosh_m, sinh_m], w) = (self.middle, self.turn);
        let (mut time, mut x, mut z) = (fill(0.0), fill(0.0), fill(0.0));
        for [node, weight] in &rule.nodes {
            let from = w * fill(*node);
            let square = from * from;
            let cosh = square.polynomial(const { &hyperbolic::<T>(0) });
            let sinh = square.polynomial(const { &hyperbolic::<T>(1) }) * from;
            let [cc, ss] = [cosh_m * cosh, sinh_m * sinh];
            let [cs, sc] = [cosh_m * sinh, sinh_m * cosh];
            let ([c1, c2], [s1, s2]) = ([cc + ss, cc - ss], [sc + cs, sc - cs]);
            let r1 = one / (self.base - kg * s1.mul_add(c1, from));
            let r2 = one / (self.base - kg * s2.mul_add(c2, -from));
            let [a1, a2] = [c1 * r1, c2 * r2];
            let weight = fill(*weight);
            time = weight.mul_add(c1.mul_add(r1.sqrt(), c2 * r2.sqrt()), time);
            x = weight.mul_add(a1 + a2, x);
            z = weight.mul_add(a1.mul_add(s1, a2 * s2), z);
        }
        let scale = w * fill(1.0 / onto.g);
        let u_h = one / self.end.sqrt();
        Closing { time: time * scale, x: x * scale, z: z * scale, u_h, u_z: u_h * self.slope_end }
    }
}

/// The velocity through the air at about the touch: a parabola under gravity and the drag at a third of the flight, its
/// velocity under the drag half way.
#[inline(always)]
fn guess<S: Simd>(start: &Start<S>, onto: &Onto) -> [Pair<S>; 2] {
    let (u_h, u_z, gap) = (start.u_h, start.u_z, &start.gap);
    let (g, k, two) = (start.fill(onto.g), start.fill(onto.k), start.fill(2.0));
    let rate = gap.rate(u_h, u_z);
    let fall = onto.level.normal.z * onto.g;
    let root = rate.mul_add(rate, gap.start * start.fill(2.0 * fall)).sqrt();
    let third = (rate + root) * start.fill(1.0 / (3.0 * fall));
    let u_z_third = u_z - g * third;
    let drag = u_h.mul_add(u_h, u_z_third * u_z_third).sqrt() * k;
    let [by_x, by_z] = [drag * u_h, drag * u_z_third];
    let pull = gap.by_x.mul_add(by_x, gap.by_z * by_z) + start.fill(fall);
    let time = (rate + rate.mul_add(rate, gap.start * pull * two).sqrt()) / pull;
    let half = time * start.fill(0.5);
    let u_half = [u_h - by_x * half, u_z - (g + by_z) * half];
    let drag = u_half[0].mul_add(u_half[0], u_half[1] * u_half[1]).sqrt() * k;
    [u_h - drag * u_half[0] * time, u_z - drag.mul_add(u_half[1], g) * time]
}

/// The touch as it came out.
#[derive(Clone, Copy)]
struct Found<S: Simd> {
    time: Pair<S>,
    position: [Pair<S>; 3],
    velocity: [Pair<S>; 3],
    residual: Pair<S>,
    /// What the guess was off in time.
    step: Pair<S>,
    /// The square of the speed through the air at the end, and the most it was.
    square: Pair<S>,
    fastest: Pair<S>,
}

/// Flies what the guess was off.
#[inline(always)]
fn finish<S: Simd>(start: &Start<S>, flown: &Closing<S>, onto: &Onto) -> Found<S> {
    let (fill, wind) = (|value: f64| start.fill(value), &onto.wind);
    let (step, end) = flown.close(&start.gap, onto.g, onto.k);
    let ahead = &start.ahead;
    let position = [
        start.place[0] + fill(wind.x).mul_add(end.time, ahead[0] * end.x),
        start.place[1] + fill(wind.y).mul_add(end.time, ahead[1] * end.x),
        start.place[2] + fill(wind.z).mul_add(end.time, end.z),
    ];
    let velocity = [
        end.u_h.mul_add(ahead[0], fill(wind.x)),
        end.u_h.mul_add(ahead[1], fill(wind.y)),
        end.u_z + fill(wind.z),
    ];
    let (residual, square) = (above(onto, &position), flown.square());
    let fastest = start.u_h.mul_add(start.u_h, start.u_z * start.u_z).max(square);
    Found { time: end.time, position, velocity, residual, step, square, fastest }
}

impl<S: Simd> Found<S> {
    #[inline(always)]
    fn store(&self, touches: &mut Touches, at: usize) {
        self.time.store(&mut touches.time, at);
        self.residual.store(&mut touches.residual, at);
        for i in 0..3 {
            self.position[i].store(&mut touches.position[i], at);
            self.velocity[i].store(&mut touches.velocity[i], at);
        }
    }

    /// Whether it is a touch, and the first.
    ///
    /// While drag is below half of what gravity has across the plane, the gap is concave in time: it comes down to zero
    /// once.
    #[inline(always)]
    fn stands(&self, start: &Start<S>, onto: &Onto) -> Mask<S, 2> {
        let fill = |value: f64| start.fill(value);
        let strongest = STRONGEST.min(0.5 * onto.level.normal.z);
        fill(CLEAR)
            .lt(start.gap.start)
            .and((self.step.abs() * fill(onto.g)).lt(self.square.sqrt() * fill(MOST_STEP)))
            .and(self.residual.abs().lt(fill(TOUCHING)))
            .and((self.fastest * fill(onto.k)).lt(fill(strongest * onto.g)))
    }

    /// Whether a rule with this growth and limit is good enough.
    #[inline(always)]
    fn within(&self, turn: Pair<S>, [growth, limit]: [f64; 2], onto: &Onto) -> Mask<S, 2> {
        let fill = |value: f64| turn.filled(value);
        let weighed = (self.fastest * fill(growth * onto.k / onto.g)).mul_add(turn, turn);
        fill(LEAST_TURN)
            .lt(turn)
            .and(weighed.lt(fill(limit)))
            .and(self.fastest.lt(fill(LONGEST * onto.g)))
    }
}

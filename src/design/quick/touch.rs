//! When and how flights touch the landing of a search: several at once, each by walking along it.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    Quick,
    crowd::{Crowd, GROUP, Group},
    flown::Flown,
    glance::Glance,
    solid::Solid,
};
use crate::math::lanes::{ARCH, Lanes};
use pulp::{Simd, WithSimd};

/// How closely a moment of touch is found, seconds.
const CLOSE: f64 = 1e-5;
/// How closely the tyres are then, metres.
const MET: f64 = 1e-6;
/// So long after a moment it is past, seconds.
const HAIR: f64 = 1e-4;
/// Moments at which a flight is looked at.
const MOMENTS: usize = 10;
/// Steps tried: a bracket closes in less.
const STEPS: usize = 30;

/// The touches of many paths, each quantity in a column.
#[derive(Debug, Clone, Default)]
pub(super) struct Touches {
    /// Seconds since the edge; infinite where the earth is not touched.
    pub time: Vec<f64>,
    /// The mark along and across.
    pub along: Vec<f64>,
    pub across: Vec<f64>,
    /// The square of the speed into the earth.
    pub square: Vec<f64>,
}

impl Touches {
    /// How the first so many paths of a crowd touch a face, if they do before they come to the bare ground.
    pub(super) fn of(quick: &Quick, crowd: &Crowd, paths: usize) -> Self {
        let rows = paths.next_multiple_of(GROUP);
        let mut touches = Self::room(rows);
        let mut sure = vec![0.0; rows];
        let groups = &crowd.groups[..rows / GROUP];
        ARCH.dispatch(Glance { quick, groups, touches: &mut touches, sure: &mut sure });
        touches.walk(quick, groups, &sure);
        touches
    }

    /// Walks along the landing with whom a glance was not sure of.
    fn walk(&mut self, quick: &Quick, groups: &[Group], sure: &[f64]) {
        let mut some = Group::default();
        let mut walked = Self::room(GROUP);
        let unsure: Vec<usize> = (0..sure.len()).filter(|row| sure[*row] == 0.0).collect();
        for rows in unsure.chunks(GROUP) {
            for (row, from) in rows.iter().enumerate() {
                some.take(row, &groups[from / GROUP], from % GROUP);
            }
            ARCH.dispatch(Walk { quick, group: &some, touches: &mut walked });
            self.take(&walked, rows);
        }
    }

    /// Takes touches over into some rows.
    fn take(&mut self, from: &Self, rows: &[usize]) {
        let columns = [
            (&mut self.time, &from.time),
            (&mut self.along, &from.along),
            (&mut self.across, &from.across),
            (&mut self.square, &from.square),
        ];
        for (to, from) in columns {
            for (row, value) in rows.iter().zip(from) {
                to[*row] = *value;
            }
        }
    }

    fn room(paths: usize) -> Self {
        let column = || vec![0.0; paths];
        Self { time: column(), along: column(), across: column(), square: column() }
    }

    #[inline(always)]
    pub(super) fn store<S: Simd>(
        &mut self,
        time: Lanes<S>,
        touched: [Lanes<S>; 3],
        register: usize,
    ) {
        time.store(&mut self.time, register);
        touched[0].store(&mut self.along, register);
        touched[1].store(&mut self.across, register);
        touched[2].store(&mut self.square, register);
    }
}

/// The walk of a group of flights along one face.
struct Walk<'a> {
    quick: &'a Quick,
    group: &'a Group,
    touches: &'a mut Touches,
}

impl WithSimd for Walk<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let Self { quick, group, touches } = self;
        let solid = Solid::new(simd, quick);
        let stations = Stations::new(simd, quick);
        for part in 0..GROUP / S::F64_LANES {
            let flown = Flown::load(simd, quick, group, part);
            let local = Local { solid: &solid, flown: &flown };
            let time = local.touch_time(&stations);
            let met = time.min(flown.end);
            let normal = solid.near(&flown.position(met)).normal;
            touches.store(time, normal_touch(&flown, met, &normal), part);
        }
    }
}

/// The mark along and across, and the square of the speed into the earth, where it is touched at a time with a normal.
#[inline(always)]
fn normal_touch<S: Simd>(
    flown: &Flown<S>,
    time: Lanes<S>,
    normal: &[Lanes<S>; 3],
) -> [Lanes<S>; 3] {
    let at = flown.position(time);
    let reach = flown.reach(time);
    let [along, across, up] = flown.velocity(time);
    let away = normal[0].mul_add(along, normal[1].mul_add(across, normal[2] * up));
    let into = (-away).max(time.filled(0.0));
    [at[0] - reach * normal[0], at[1] - reach * normal[1], into * into]
}

/// Where a flight is looked at: over the back, at the crest, where the face begins, and at the foot, in order along.
struct Stations<S: Simd> {
    along: [Lanes<S>; MOMENTS - 2],
    face: [f64; 2],
}

impl<S: Simd> Stations<S> {
    #[inline(always)]
    fn new(simd: S, quick: &Quick) -> Self {
        let fill = |value: f64| Lanes::splat(simd, value);
        let length = quick.landing.length();
        let back = -length * quick.grade / quick.steepest;
        let [foot_from, foot_to] = quick.foot.span();
        let [arc_from, arc_to] = quick.arc;
        Self {
            along: [
                fill(back),
                fill(0.5 * (back + arc_from)),
                fill(arc_from),
                fill(0.0),
                fill(arc_to),
                fill(foot_from),
                fill(length),
                fill(foot_to),
            ],
            face: [quick.face[0].x, quick.face[0].y],
        }
    }
}

/// A register of flights over a face.
struct Local<'a, S: Simd> {
    solid: &'a Solid<S>,
    flown: &'a Flown<S>,
}

/// Two moments between which the earth is first met, and the gaps then; `to` is infinite where it is not.
struct Bracket<S: Simd> {
    from: Lanes<S>,
    above: Lanes<S>,
    to: Lanes<S>,
    below: Lanes<S>,
}

impl<S: Simd> Local<'_, S> {
    #[inline(always)]
    fn gap(&self, time: Lanes<S>) -> Lanes<S> {
        self.solid.near(&self.flown.position(time)).distance - self.flown.reach(time)
    }

    /// The first moment within reach of the earth, or infinity where the ground comes first.
    ///
    /// Over the face the gap is concave in time, so a few moments bracket what there is.
    #[inline(always)]
    fn touch_time(&self, stations: &Stations<S>) -> Lanes<S> {
        let end = self.flown.end;
        let mut moments = [end; MOMENTS];
        for (moment, along) in moments.iter_mut().zip(&stations.along) {
            *moment = self.flown.time_at(*along);
        }
        // A hair after he comes down to the face's plane: near the foot he may be clear again soon after.
        let down = self.flown.crossing(&self.flown.over(stations.face), end);
        moments[MOMENTS - 2] = (down + end.filled(HAIR)).min(end);
        let bracket = self.bracket(&moments);
        let met = bracket.to.lt(end.filled(f64::INFINITY));
        if !met.any() {
            return bracket.to;
        }
        self.close_in(&bracket)
    }

    /// The first of some moments at which the earth is within reach, and the last one before.
    #[inline(always)]
    fn bracket(&self, moments: &[Lanes<S>; MOMENTS]) -> Bracket<S> {
        let fill = |value: f64| self.flown.end.filled(value);
        let (zero, never) = (fill(0.0), fill(f64::INFINITY));
        let mut gaps = [zero; MOMENTS];
        let (mut to, mut below) = (never, zero);
        for (gap, moment) in gaps.iter_mut().zip(moments) {
            *gap = self.gap(*moment);
            // Behind the edge nothing is met.
            let sooner = gap.lt(fill(f64::MIN_POSITIVE)).and(zero.lt(*moment)).and(moment.lt(to));
            to = sooner.select(*moment, to);
            below = sooner.select(*gap, below);
        }
        let (mut from, mut above) = (zero, self.gap(zero).max(fill(1e-9)));
        for (gap, moment) in gaps.iter().zip(moments) {
            let later = from.lt(*moment).and(moment.lt(to));
            from = later.select(*moment, from);
            above = later.select(*gap, above);
        }
        Bracket { from, above, to, below }
    }

    /// Newton's method on a bracket; the chord where it leads out of it.
    #[inline(always)]
    fn close_in(&self, bracket: &Bracket<S>) -> Lanes<S> {
        let Bracket { mut from, mut above, mut to, mut below } = *bracket;
        let end = self.flown.end;
        let zero = end.filled(0.0);
        let (never, hair, met) = (end.filled(f64::INFINITY), end.filled(CLOSE), end.filled(MET));
        let mut open = to.lt(never);
        let mut time = (from * below - to * above) / (below - above);
        for _ in 0..STEPS {
            open = open.and(hair.lt(to - from));
            if !open.any() {
                break;
            }
            let near = self.solid.near(&self.flown.position(time));
            let gap = near.distance - self.flown.reach(time);
            let over = open.and(zero.lt(gap));
            let under = open.and(gap.lt(end.filled(f64::MIN_POSITIVE)));
            (from, above) = (over.select(time, from), over.select(gap, above));
            (to, below) = (under.select(time, to), under.select(gap, below));
            let closed = open.and(gap.abs().lt(met));
            (from, to) = (closed.select(time, from), closed.select(time, to));
            let newton = time - gap / self.flown.growth(&near.normal, time);
            let chord = (from * below - to * above) / (below - above);
            time = from.lt(newton).and(newton.lt(to)).select(newton, chord);
        }
        to
    }
}

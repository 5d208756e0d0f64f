//! Where flights enter the earth of a landing, from a moment before which they are outside it.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use super::{
    glance::Known,
    planes::Flying,
    site::Site,
    solid::{Solid, dot},
    touch::touched,
    wide::Lanes,
};
use pulp::Simd;

/// Steps of Newton's method tried: at most four are taken into the rounding of a crest.
const STEPS: usize = 7;
/// How closely the tyres are at the earth then, metres.
const MET: f64 = 2e-5;

/// By Newton's method from outside: the earth is convex there, and a flight over it nearly straight.
#[inline(always)]
pub(super) fn find<S: Simd>(
    site: &Site<S>,
    solid: &Solid<S>,
    flying: &Flying<S>,
    from: Lanes<S>,
) -> Known<S> {
    let zero = from.filled(0.0);
    let (close, end) = (from.filled(MET), flying.end);
    let time = from.max(zero).min(end);
    let mut found = Known { sure: zero.lt(zero), time, touched: [zero; 3] };
    for step in 0..STEPS {
        let (at, velocity) = site.motion(flying, found.time);
        let near = solid.near(&at);
        let (length, righting) = flying.reach.righting(found.time);
        let gap = near.distance - length;
        let growth = dot(&near.normal, &velocity) - righting;
        found.sure = gap.abs().lt(close).and(growth.lt(zero));
        if step + 1 == STEPS || !(!found.sure).any() {
            let normal = solid.facets.normal(&at, &near);
            found.touched = touched(&at, &velocity, &normal, length);
            break;
        }
        let next = (found.time - gap / growth).max(zero).min(end);
        found.time = found.sure.select(found.time, next);
    }
    found
}

//! A line cut where the brake changes.

use super::brake::{Brake, Slowing};
use crate::geometry::{Line, Section};

/// Part of a line under one kind of braking.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Leg {
    pub(super) sections: Vec<Section>,
    pub(super) slowing: Slowing,
}

/// The legs of a line in order: zones, and what lies between them. Zones beyond the line's end are left out.
pub(super) fn legs(line: &Line, brake: &Brake) -> Vec<Leg> {
    let all = |slowing| vec![Leg { sections: line.sections().collect(), slowing }];
    let zones = match brake {
        Brake::None => return all(Slowing::By(0.0)),
        Brake::Constant(value) => return all(Slowing::By(*value)),
        Brake::Zones(zones) => zones,
    };
    let mut legs = Vec::new();
    let mut done = 0.0;
    for zone in zones {
        push(&mut legs, line, (done, zone.from), Slowing::By(0.0));
        push(&mut legs, line, (zone.from, zone.to), zone.slowing);
        done = zone.to;
    }
    push(&mut legs, line, (done, line.length()), Slowing::By(0.0));
    legs
}

fn push(legs: &mut Vec<Leg>, line: &Line, (from, to): (f64, f64), slowing: Slowing) {
    if from >= to.min(line.length()) {
        return;
    }
    let part = line.between(line.parameter(from), line.parameter(to));
    let sections: Vec<Section> = part.sections().collect();
    if !sections.is_empty() {
        legs.push(Leg { sections, slowing });
    }
}

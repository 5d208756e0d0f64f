//! What a candidate of the search is worth.

use super::{
    candidate::{Candidate, Fault, Range},
    plot::Plot,
    quick::{Crowd, Landings, Quick},
    scenario::worse_half,
    score::{Landed, Member},
};
use crate::{ground::Landing, math::quantile::weighted};

/// Over how much fall height, metres, and how much face, metres, a touch turns from soft to not in
/// the search: a step would give it no slope to follow.
const BLUR: [f64; 2] = [0.06, 0.06];
/// So many times as far off it still is nearly soft.
const NEARLY: f64 = 6.0;
/// So many blurs from the border a step is 0 or 1 to the last digit.
const SURE: f64 = 9.0;
/// What the 95th percentile counts beside the share caught.
const PERCENTILE_SHARE: f64 = 0.1;
/// So little of a crest over the ground is none, metres.
const SHOWS: f64 = 0.02;

/// What a candidate comes to.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Appraisal {
    /// The lower the better; candidates that are none are above 1.
    pub cost: f64,
    /// Its faces, their crests' heights settled.
    pub result: Result<Vec<Landing>, Fault>,
}

/// Who is asked, and what counts as soft.
#[derive(Debug, Clone, Copy)]
pub(super) struct Riders<'a> {
    pub crowd: &'a Crowd,
    /// How many of them, from the first.
    pub most: usize,
    pub fall_limit: f64,
    /// How many scenarios they come from.
    pub scenarios: usize,
    /// What nearly soft touches count beside soft ones.
    pub guide: f64,
    /// Over which part of the usual blur a touch turns from soft to not.
    pub blur: f64,
}

/// What a candidate comes to for these riders; the budget is cubic metres and the share within which it is met.
pub(super) fn appraise(
    range: &Range,
    plot: &Plot,
    numbers: &[f64],
    budget: (f64, f64),
    riders: Riders,
) -> Appraisal {
    let beyond: f64 = numbers.iter().map(|x| (x - x.clamp(0.0, 1.0)).abs()).sum();
    let candidate = range
        .candidate(plot, numbers, budget)
        .and_then(|found| fault(plot, &found).map_or(Ok(found.faces), Err));
    match candidate {
        Ok(faces) => Appraisal {
            cost: cost(&faces, riders) + beyond,
            result: Ok(faces.iter().map(Quick::settled).collect()),
        },
        Err(fault) => Appraisal { cost: 2.0 + fault.size() + beyond, result: Err(fault) },
    }
}

/// What stands in the way of a landing, if anything.
fn fault(plot: &Plot, candidate: &Candidate) -> Option<Fault> {
    let faces = &candidate.faces;
    let corners = faces.iter().flat_map(Quick::deck_corners);
    let outside: f64 = corners.map(|corner| plot.outside(&corner)).sum();
    if outside > 0.0 {
        return Some(Fault::Outside(outside));
    }
    let buried = (0..faces.len()).map(|which| buried(plot, faces, which)).fold(0.0, f64::max);
    if buried > 0.0 {
        return Some(Fault::Buried(buried));
    }
    if candidate.fill.unknown > 0.0 {
        return Some(Fault::Unknown(candidate.fill.unknown));
    }
    let blocked = faces.iter().map(|face| plot.blocked(face)).fold(0.0, f64::max);
    (blocked > 0.0).then_some(Fault::Blocked(blocked))
}

/// How far a face's crest lies under the ground, or its middle under the faces before it, at the deepest; metres.
fn buried(plot: &Plot, faces: &[Quick], which: usize) -> f64 {
    let face = &faces[which];
    let half = 0.5 * face.landing.width();
    let top = face.crest_height + face.top();
    let [right, middle, left] = [-half, 0.0, half].map(|across| face.landing.plan(0.0, across));
    let ground = [right, middle, left].map(|at| plot.height(&at).unwrap_or(top + 1.0));
    let others = faces[..which].iter().map(|other| other.height_at(&middle));
    ground.into_iter().chain(others).fold(f64::NEG_INFINITY, f64::max) + SHOWS - top
}

fn cost(faces: &[Quick], riders: Riders) -> f64 {
    let mut soft = vec![0.0; riders.scenarios];
    let mut total = vec![0.0; riders.scenarios];
    let mut members = Vec::with_capacity(riders.most);
    let landings = Landings::of(faces, riders.crowd, riders.most);
    for (index, flier) in riders.crowd.fliers[..riders.most].iter().enumerate() {
        let (mut worst, mut softest) = (None, 1.0_f64);
        for (member, inside) in landings.members(index) {
            softest = softest.min(softness(&member, inside, riders));
            worst = Some(worst.map_or(member, |worst: Member| worst.harder(member)));
        }
        soft[flier.scenario] += flier.weight * softest;
        total[flier.scenario] += flier.weight;
        members.extend(worst);
    }
    let shares = soft.iter().zip(&total).filter(|(_, total)| **total > 0.0);
    let caught = worse_half(&mut shares.map(|(soft, total)| soft / total).collect::<Vec<f64>>());
    let falls = members.iter().map(|member| (member.fall_height, member.weight));
    let p95 = weighted(falls, 0.95).unwrap_or(f64::INFINITY);
    1.0 - caught + weighed(p95, riders.fall_limit)
}

/// What a 95th percentile of fall height costs, in share caught.
fn weighed(p95_fall_height: f64, fall_limit: f64) -> f64 {
    PERCENTILE_SHARE * p95_fall_height.min(10.0 * fall_limit) / fall_limit
}

/// How soft a touch counts, from 0 to 1: the step of the score, blurred, and less of a wider blur.
fn softness(member: &Member, inside: f64, riders: Riders) -> f64 {
    let (below, guide) = (riders.fall_limit - member.fall_height, riders.guide);
    let blurred = |times: f64| {
        let times = times * riders.blur;
        let height = step(below / (times * BLUR[0]));
        match member.landed {
            Landed::RolledOff => height,
            Landed::OffSurvey | Landed::NoTouchdown => 0.0,
            // From the border on it is soft: on the edge of a side nobody is caught.
            _ => height * step(inside / (times * BLUR[1]) - 1.0),
        }
    };
    if guide > 0.0 { (1.0 - guide) * blurred(1.0) + guide * blurred(NEARLY) } else { blurred(1.0) }
}

/// From 0 to 1 around 0, over about 1 either way.
fn step(x: f64) -> f64 {
    if x.abs() > SURE {
        return f64::from(x > 0.0);
    }
    1.0 / (1.0 + (-4.0 * x).exp())
}

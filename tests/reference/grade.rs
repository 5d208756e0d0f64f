//! Vertical curves of roads: a smooth profile through a few of the printed heights.

use loamline::geometry::Profile;

use crate::harness::Inputs;
use crate::{Computed, FOOT};

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    let computed = match id {
        "CV01" => crest(inputs),
        "CV02" => sag(inputs),
        _ => return None,
    };
    Some(computed)
}

fn profile(inputs: &Inputs) -> Result<Profile, Box<dyn std::error::Error>> {
    let metres = |name| -> Vec<f64> { inputs.many(name).iter().map(|feet| feet * FOOT).collect() };
    Ok(Profile::smooth(&metres("station_ft"), &metres("height_ft"))?)
}

fn crest(inputs: &Inputs) -> Computed {
    let profile = profile(inputs)?;
    let &[first, second] = inputs.many("wanted_ft") else { return Err("two stations".into()) };
    Ok(vec![
        ("56+00", profile.height(first * FOOT)? / FOOT),
        ("57+00", profile.height(second * FOOT)? / FOOT),
    ])
}

fn sag(inputs: &Inputs) -> Computed {
    let profile = profile(inputs)?;
    let &[wanted] = inputs.many("wanted_ft") else { return Err("one station".into()) };
    let (first, last) = profile.span();
    let mut lowest = f64::INFINITY;
    for step in 0..=10_000 {
        let along = first + (last - first) * f64::from(step) / 10_000.0;
        lowest = lowest.min(profile.height(along)?);
    }
    Ok(vec![("90+00", profile.height(wanted * FOOT)? / FOOT), ("low_elev", lowest / FOOT)])
}

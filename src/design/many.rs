//! Thousands of landings scored at once, in closed form.

use super::{
    error::FitError,
    flier::Flier,
    quick::{Crowd, Landings, Quick},
    score::{Member, Score},
};
use crate::{
    ground::{Ground, Landing, LandingError},
    math::{parallel::Crew, range::positive},
    passes::Passes,
};

/// How each of many landings, alone on the passes' ground, takes the riders; in their order.
///
/// By the search's closed form: round arcs and cones for facets, each flight as one quintic, the way of a rider in balance
/// left out, for it comes down between the others. Shares differ from those of [`super::score`] by a percent or two; what
/// is to be built is scored exactly. A crest's height that is not given is set so that the foot meets the ground.
///
/// Errors: a limit that is not above 0, no ground under a foot, stopped by the crew's watch.
pub fn score_many(
    passes: &Passes,
    landings: &[Landing],
    fall_limit: f64,
    crew: &Crew,
) -> Result<Vec<Score>, FitError> {
    positive("fall_limit", fall_limit)?;
    let faces = landings.iter().map(|landing| face(passes.ground(), landing));
    let faces: Vec<Quick> = faces.collect::<Result<_, _>>()?;
    let (crowd, leaving) = (Crowd::new(Flier::all(passes)), passes.share_leaving());
    let everyone = crowd.fliers.len();
    let score = |index: usize| {
        let landings = Landings::of(std::slice::from_ref(&faces[index]), &crowd, everyone);
        let members: Vec<Member> =
            (0..everyone).filter_map(|flier| landings.hardest(flier)).collect();
        Score::of(&members, leaving, fall_limit)
    };
    Ok(crew.map(faces.len(), 4, score)?)
}

fn face(ground: &Ground, landing: &Landing) -> Result<Quick, LandingError> {
    let landing = landing.checked()?;
    let foot = landing.plan(landing.length(), 0.0);
    let no_ground = LandingError::NoGround { what: "foot".into(), x: foot.x, y: foot.y };
    let height = match landing.crest_height() {
        Some(height) => height,
        None => {
            ground.height(foot.x, foot.y).ok_or(no_ground)?
                + landing.length() * landing.slope().tan()
        }
    };
    let fall = ground
        .normal(foot.x, foot.y)
        .map_or(0.0, |normal| (normal.xy().dot(&landing.ahead()) / normal.z).atan());
    Ok(Quick::new(&landing, height, fall))
}

//! What passes come to, over all and by class.

use super::{Pass, Passes, Reason, reason};
use crate::math::quantile::weighted;
use crate::touchdown::TouchOutcome;
use serde::{Deserialize, Serialize};

/// Where a number lies over riders: weighted quantiles, each a value of one of them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// 5 % lie at or below.
    pub p05: f64,
    /// Half lie at or below.
    pub median: f64,
    /// 95 % lie at or below.
    pub p95: f64,
}

/// What a class's passes, or all, come to. Shares are of the passes it sums up; together with the
/// reasons' shares, which are of all passes, nobody is left out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Summary {
    /// The share of all passes that it sums up.
    pub weight: f64,
    /// How many passes that is.
    pub count: usize,
    /// The share that leaves over the edge.
    pub leaves: f64,
    /// Why the others do not, the commonest first.
    pub reasons: Vec<Reason>,
    /// How those who leave come down: each outcome there is with its share, the commonest first.
    pub outcomes: Vec<(TouchOutcome, f64)>,
    /// The tyres' speed at the wall's start, m/s, of who comes there.
    pub entry_speed: Option<Spread>,
    /// The tyres' speed at the edge, m/s, of who leaves.
    pub exit_speed: Option<Spread>,
    /// The equivalent fall height, m, of who comes down on the ground.
    pub fall_height: Option<Spread>,
    /// The level distance from the edge to the mark, m, of who comes down on the ground.
    pub distance: Option<Spread>,
}

impl Passes {
    /// What all passes come to.
    pub fn summary(&self) -> Summary {
        self.summed(|_| true)
    }

    /// What the passes of one class come to; nothing for a name that is no class.
    pub fn summary_of(&self, class: &str) -> Option<Summary> {
        let who = self.classes.iter().position(|name| name == class)?;
        Some(self.summed(|pass| pass.drawn.who == who))
    }

    fn summed(&self, counts: impl Fn(&Pass) -> bool) -> Summary {
        let passes: Vec<&Pass> = self.members.iter().filter(|pass| counts(pass)).collect();
        let weight: f64 = passes.iter().map(|pass| pass.drawn.weight).sum();
        let share = |holds: &dyn Fn(&Pass) -> bool| {
            let held = passes.iter().filter(|pass| holds(pass));
            held.map(|pass| pass.drawn.weight).sum::<f64>() / weight.max(f64::MIN_POSITIVE)
        };
        let spread = |value: fn(&Pass) -> Option<f64>| spread(&passes, value);
        Summary {
            weight,
            count: passes.len(),
            leaves: share(&Pass::leaves),
            reasons: reason::reasons(passes.iter().copied(), &self.classes),
            outcomes: outcomes(&passes, share),
            entry_speed: spread(|pass| pass.entry_speed),
            exit_speed: spread(|pass| Some(pass.hardest()?.exit_speed)),
            fall_height: spread(|pass| Some(pass.contact()?.fall_height)),
            distance: spread(|pass| Some(pass.contact()?.distance)),
        }
    }
}

fn outcomes(
    passes: &[&Pass],
    share: impl Fn(&dyn Fn(&Pass) -> bool) -> f64,
) -> Vec<(TouchOutcome, f64)> {
    let mut seen: Vec<TouchOutcome> = Vec::new();
    for outcome in passes.iter().filter_map(|pass| Some(pass.touchdown()?.outcome)) {
        if !seen.contains(&outcome) {
            seen.push(outcome);
        }
    }
    let came = |pass: &Pass, outcome| {
        pass.touchdown().is_some_and(|touchdown| touchdown.outcome == outcome)
    };
    let mut shares: Vec<(TouchOutcome, f64)> =
        seen.into_iter().map(|outcome| (outcome, share(&|pass| came(pass, outcome)))).collect();
    shares.sort_by(|a, b| b.1.total_cmp(&a.1));
    shares
}

fn spread(passes: &[&Pass], value: fn(&Pass) -> Option<f64>) -> Option<Spread> {
    let values: Vec<(f64, f64)> =
        passes.iter().filter_map(|pass| Some((value(pass)?, pass.drawn.weight))).collect();
    let at = |share| weighted(values.iter().copied(), share);
    Some(Spread { p05: at(0.05)?, median: at(0.5)?, p95: at(0.95)? })
}

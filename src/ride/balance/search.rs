//! How far a leaning ride goes: to the line's end, or to where it stalls or leaves the surface.
//!
//! A ride's last metres depend on where it ends, for the lean is bound from there. So a ride that ends early is
//! solved on the part ridden: its end is moved until the ride just stalls or just leaves the surface there.

use super::chain::{Chain, Problem};
use super::mesh::{Domain, Guess, SHORTEST, Stretch, lay, refined};
use super::panel::Panel;
use super::solved::{Margins, Solved};
use crate::ride::events::Ending;
use crate::ride::panel::BASIS;
use crate::ride::resolved::Resolved;

/// Rounds of cutting rough panels in two.
const MOST_ROUNDS: usize = 30;
/// Panels beyond this are not worth their time.
const MOST_PANELS: usize = 2000;
/// A crawl over a whole line takes more panels than this: where it seems to end early, that is tried first.
const MANY: usize = 8;
/// How much of the way that a ride may come is tried first where the whole has no solution.
const FIRST_TRY: f64 = 0.7;
/// Tries at the place where a ride ends.
const MOST_TRIES: usize = 40;
/// Joints that a ride's end may move over while it is looked for.
const MOST_JOINTS: usize = 4;
/// How small a step is the last, in the line's parameter.
const CLOSE: f64 = 1e-11;
/// A load of this share of the weight is none.
const LIGHT: f64 = 1e-6;
/// From this near, the end itself is looked for.
const NEAR: f64 = 1.0;
/// What happens this near to an end happens there, in the line's parameter.
const AT_END: f64 = 1e-7;
/// A hollow may be this tight, times the height of the centre of mass.
const TIGHTEST: f64 = 0.5;

/// A line, its brakes, and who rides it how.
#[derive(Clone, Copy)]
pub(super) struct Task<'a> {
    pub(super) problem: Problem<'a>,
    pub(super) stretches: &'a [Stretch],
    pub(super) timed: bool,
}

/// How far a ride went.
pub(super) enum Found {
    /// To the end.
    Reached(Chain),
    /// To where it ends by itself.
    Ended(Chain, Ending),
    /// Nowhere: what the rest of the line asks of the first moment, a swing into a lean, takes the load off at once.
    AtOnce(Ending),
    /// To a hollow that is too tight for the model: how tight.
    TooTight(Chain, f64),
    /// No solution beyond this.
    Unresolved(Option<Chain>),
}

/// What became of one try.
enum Tried {
    /// Nothing ends the ride before the domain does.
    Sound(Chain),
    /// The ride ends within the domain, at this parameter.
    Ends(Chain, f64),
    /// Not solved.
    Failed,
}

impl Task<'_> {
    fn start(&self) -> f64 {
        self.stretches.first().map_or(0.0, |stretch| stretch.section.from)
    }

    fn end(&self) -> f64 {
        self.stretches.last().map_or(0.0, |stretch| stretch.section.to)
    }

    pub(super) fn solved<'c>(&'c self, chain: &'c Chain) -> Vec<Solved<'c>> {
        chain
            .panels
            .iter()
            .map(|panel| Solved::new(self.problem.line, self.problem.model, panel))
            .collect()
    }

    /// The ride as far as it goes.
    pub(super) fn find(&self) -> Found {
        let laid = lay(
            &self.domain(self.end(), false),
            self.problem.model,
            self.problem.entry,
            Guess::Static,
        );
        let tight = self.tight(&laid.panels);
        let falters = laid.falters;
        let end = tight.map_or(self.end(), |(at, _)| at);
        // Where a guess comes to rest says little, but about how far to try first.
        let far = falters.filter(|at| *at < end);
        let first_try = |far: f64| self.start() + FIRST_TRY * (far - self.start());
        let mut narrowed = None;
        if let Some(far) = far
            && laid.panels.len() > MANY
        {
            match self.narrow(end, first_try(far)) {
                found @ Found::Ended(..) => return found,
                other => narrowed = Some(other),
            }
        }
        let first = match tight {
            None => self.settle(Chain { panels: laid.panels, ending: None }),
            Some(_) => self.attempt(end, None, None),
        };
        match (first, tight) {
            (Tried::Ends(chain, at), _) if at - self.start() <= AT_END => self.at_once(chain),
            (Tried::Sound(chain), None) => self.unless_tight(chain),
            (Tried::Sound(chain), Some((_, towards))) => Found::TooTight(chain, towards),
            (Tried::Ends(chain, at), _) => {
                self.end_at(at, Ending::Lift, &chain).unwrap_or_else(|| self.narrow(end, at))
            }
            (Tried::Failed, _) => {
                narrowed.unwrap_or_else(|| self.narrow(end, first_try(far.unwrap_or(end))))
            }
        }
    }

    fn domain(&self, until: f64, to_rest: bool) -> Domain<'_> {
        Domain { line: self.problem.line, stretches: self.stretches, until, to_rest }
    }

    /// The first place where the hollow is too tight for a rider square to it, and the curvature there.
    fn tight(&self, panels: &[Panel]) -> Option<(f64, f64)> {
        panels.iter().find_map(|panel| {
            let h = self.problem.model.com_height;
            let bed = &panel.bed;
            let spare = bed.footings.each_ref().map(|f| TIGHTEST + 1e-12 - h * f.hollow);
            let x = BASIS.first_not_positive(&spare)?;
            let at = bed.span.parameter(x);
            let (footing, _) = super::footing::Footing::at(self.problem.line, bed.span.piece, at);
            Some((at, footing.hollow))
        })
    }

    /// The ride, unless it leans into a curve too tight for the model.
    fn unless_tight(&self, chain: Chain) -> Found {
        let h = self.problem.model.com_height;
        for (k, panel) in chain.panels.iter().enumerate() {
            let towards: [f64; crate::ride::panel::NODES] =
                std::array::from_fn(|i| panel.bed.footings[i].towards(panel.states[i].lean));
            if let Some(i) = towards.iter().position(|towards| h * towards > TIGHTEST) {
                let mut panels = chain.panels;
                panels.truncate(k);
                return Found::TooTight(Chain { panels, ending: None }, towards[i]);
            }
        }
        Found::Reached(chain)
    }

    /// Solves over the domain up to `until`, or to where `ending` ends the ride, near there.
    fn attempt(&self, until: f64, ending: Option<Ending>, from: Option<&Chain>) -> Tried {
        let solved = from.map(|chain| self.solved(chain));
        let guess = solved.as_ref().map_or(Guess::Static, |solved| Guess::Ride(solved));
        let domain = self.domain(until, ending == Some(Ending::Stall));
        let laid = lay(&domain, self.problem.model, self.problem.entry, guess);
        self.settle(Chain { panels: laid.panels, ending })
    }

    /// Solves and cuts finer until nothing is rough.
    fn settle(&self, mut chain: Chain) -> Tried {
        for _ in 0..=MOST_ROUNDS {
            let Some(solution) = chain.solve(&self.problem) else {
                return Tried::Failed;
            };
            chain = solution;
            let solved = self.solved(&chain);
            let rough: Vec<bool> = solved
                .iter()
                .map(|s| s.roughness(self.timed) > 1.0 && s.panel.bed.span.width > SHORTEST)
                .collect();
            if !rough.contains(&true) {
                let end = solved.last().map_or(0.0, |s| s.panel.bed.span.parameter(1.0));
                let ending = solved
                    .iter()
                    .find_map(|s| s.ending().map(|(_, x)| s.panel.bed.span.parameter(x)));
                return match ending {
                    Some(at) if chain.ending.is_none() || at < end - AT_END => {
                        Tried::Ends(chain, at)
                    }
                    _ => Tried::Sound(chain),
                };
            }
            if solved.len() > MOST_PANELS {
                return Tried::Failed;
            }
            let panels = refined(self.problem.line, &solved, &rough);
            chain = Chain { panels, ..chain };
        }
        Tried::Failed
    }

    /// Looks for the end of a ride that does not come to `bad`, first at `next`.
    fn narrow(&self, bad: f64, next: f64) -> Found {
        let (mut low, mut high, mut next) = (self.start(), bad, next);
        let mut best: Option<Chain> = None;
        // The shortest ride seen to leave the surface before its end, and where.
        let mut lifted: Option<(Chain, f64)> = None;
        for _ in 0..MOST_TRIES {
            if next - low <= CLOSE {
                break;
            }
            let tried = self.attempt(next, None, best.as_ref());
            match tried {
                Tried::Sound(chain) => {
                    low = next;
                    let (ending, way) = self.margins(&chain).nearest();
                    if way < NEAR
                        && let Some(found) = self.end_at(low + way, ending, &chain)
                    {
                        return found;
                    }
                    best = Some(chain);
                    next = low + (0.7 * way).min(0.5 * (high - low));
                }
                Tried::Ends(chain, at) => {
                    if let Some(found) = self.end_at(at, Ending::Lift, &chain) {
                        return found;
                    }
                    high = next;
                    next = if at > low + CLOSE { at } else { 0.5 * (low + high) };
                    lifted = Some((chain, at));
                }
                // Not that there is no ride, only none found from here.
                Tried::Failed => next = 0.5 * (low + next),
            }
        }
        match lifted {
            Some((chain, at)) if at - self.start() <= AT_END => self.at_once(chain),
            // No ride ends just as it leaves the surface: who goes on far enough to need that has left it before.
            Some((chain, at)) => match self.unless_tight(self.cut(&chain, at)) {
                Found::Reached(chain) if self.is_unloaded(&chain) => {
                    Found::Ended(chain, Ending::Lift)
                }
                Found::Reached(_) => Found::Unresolved(best),
                tight => tight,
            },
            None => Found::Unresolved(best),
        }
    }

    /// A ride that leaves the surface where it begins, unless the model does not hold on it.
    fn at_once(&self, chain: Chain) -> Found {
        match self.unless_tight(chain) {
            Found::Reached(_) => Found::AtOnce(Ending::Lift),
            tight => tight,
        }
    }

    /// Whether nothing presses where a ride ends.
    fn is_unloaded(&self, chain: &Chain) -> bool {
        let solved = self.solved(chain);
        let press = solved.last().map(|last| last.moment(1.0).loads.normal);
        press.is_some_and(|press| press.abs() <= LIGHT * self.problem.model.equation.g())
    }

    /// The part of a ride before `at`.
    fn cut(&self, chain: &Chain, at: f64) -> Chain {
        let solved = self.solved(chain);
        let before = solved.iter().take_while(|solved| solved.panel.bed.span.from < at);
        let mut panels: Vec<Panel> = before.clone().map(|solved| solved.panel.clone()).collect();
        if let (Some(panel), Some(last)) = (panels.last_mut(), before.last()) {
            *panel = last.until(at);
        }
        Chain { panels, ending: Some(Ending::Lift) }
    }

    /// The ride that ends near `at` by itself, from one that goes about as far.
    fn end_at(&self, mut at: f64, ending: Ending, from: &Chain) -> Option<Found> {
        for _ in 0..MOST_JOINTS {
            let tried = self.attempt(at.min(self.end()), Some(ending), Some(from));
            let Tried::Sound(chain) = tried else {
                return None;
            };
            let span = chain.panels.last()?.bed.span;
            let end = span.parameter(1.0);
            if end <= self.joint_after(span.from) + AT_END {
                return (end > self.start()).then_some(Found::Ended(chain, ending));
            }
            // The end has moved over a joint, beyond which the line or its brake is another.
            at = end;
        }
        None
    }

    /// Where the stretch ends in which a panel begins.
    fn joint_after(&self, from: f64) -> f64 {
        let mut ends = self.stretches.iter().map(|stretch| stretch.section.to);
        ends.find(|to| from < *to).unwrap_or(self.end())
    }

    fn margins(&self, chain: &Chain) -> Margins {
        let last = chain
            .panels
            .last()
            .map(|panel| Solved::new(self.problem.line, self.problem.model, panel));
        last.map_or(Margins::ENDLESS, |last| last.margins())
    }
}

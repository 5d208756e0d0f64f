//! The demo's landing: better than the best of 2,000 random ones of the same earth, better with more earth, and
//! nearly the same from other seeds.
#![allow(clippy::unwrap_used, reason = "a test that cannot make its site fails by panicking")]

use loamline::design::{Fit, Score, fit_landing, score};
use loamline::files::demo_site;
use loamline::ground::{BuiltLanding, Landing};
use loamline::math::parallel::Crew;
use loamline::math::sampling::Sequence;
use loamline::math::{Vec2, Vec3};
use loamline::passes::Passes;
use loamline::site::{Interval, Site};

const CREW: Crew<'static> = Crew { threads: None, watch: None };
/// One thread each where landings themselves are spread over the threads.
const ALONE: Crew<'static> = Crew { threads: Some(1), watch: None };
const LIMIT: f64 = 1.0;
const TRIALS: usize = 600;

fn demo(n: usize) -> (Site, Passes) {
    let site = demo_site().unwrap();
    let passes = site.passes(n, 1, &CREW).unwrap();
    (site, passes)
}

fn fit(site: &Site, passes: &Passes, volume: f64, seed: u64) -> Fit {
    fit_landing(passes, site, volume, LIMIT, seed, &CREW).unwrap()
}

/// A landing near a mark with all else at random within the site's bounds, its length as the earth reaches.
struct Chance<'a> {
    site: &'a Site,
    passes: &'a Passes,
    marks: Vec<Vec2>,
    volume: f64,
}

impl Chance<'_> {
    fn landing(&self, index: u64) -> Option<BuiltLanding> {
        let sequence = Sequence::new(77, &["mark", "back", "heading", "slope", "width"]);
        let u = |name| sequence.uniform(index, name);
        let between = |name, range: Interval| range.low + u(name) * (range.high - range.low);
        let bounds = &self.site.landing;
        let rank = u("mark") * self.marks.len() as f64;
        let mark = self.marks.iter().zip(1..).find(|(_, i)| f64::from(*i) > rank)?.0;
        let heading = between("heading", bounds.heading);
        let batter = self.site.soil.stand_up().value();
        let slope = Interval::new(bounds.slope.low, bounds.slope.high.min(batter - 0.02));
        let (slope, width) = (between("slope", slope), between("width", bounds.width));
        let crest = mark - Vec2::new(heading.cos(), heading.sin()) * (3.0 * u("back"));
        self.as_long_as_the_earth(|length| {
            let landing = Landing::new(crest, heading, slope, length, width).ok()?;
            landing.with_batter(batter).ok()?.resolve(self.passes.ground()).ok()
        })
    }

    /// The longest of a bisection that takes no more than the earth.
    fn as_long_as_the_earth(
        &self,
        built: impl Fn(f64) -> Option<BuiltLanding>,
    ) -> Option<BuiltLanding> {
        let Interval { low, high } = self.site.landing.length;
        let enough = |landing: &BuiltLanding| {
            landing.volume().is_ok_and(|volume| volume.fill <= self.volume)
        };
        let (mut low, mut high) = (low, high);
        let mut best = built(low).filter(enough)?;
        for _ in 0..6 {
            let middle = 0.5 * (low + high);
            match built(middle).filter(enough) {
                Some(landing) => (low, best) = (middle, landing),
                None => high = middle,
            }
        }
        self.keeps(&best).then_some(best)
    }

    /// Whether the toe keeps clear of edge and obstacles and the deck lies in the area's box.
    fn keeps(&self, built: &BuiltLanding) -> bool {
        let bounds = &self.site.landing;
        let toe: Vec<Vec2> = built.toe().iter().map(Vec3::xy).collect();
        let clear = |at: &Vec2, radius: f64| toe.iter().all(|p| (p - at).norm() > radius);
        let [from, to] = self.site.takeoff.edge_ends().map(|end| end.xy());
        (0..=10).all(|i| clear(&from.lerp(&to, f64::from(i) / 10.0), bounds.edge_clearance))
            && bounds.obstacles.iter().all(|o| clear(&o.position, o.radius))
    }

    fn score(&self, index: u64) -> Option<Score> {
        let built = self.landing(index)?;
        let landed = self.passes.on(&self.passes.ground().with_built(&built), &ALONE).ok()?;
        Some(score(&landed, &[*built.landing()], LIMIT))
    }
}

#[test]
fn no_random_landing_of_the_same_earth_is_better() {
    let (site, passes) = demo(256);
    // Little enough earth that not everyone can be caught.
    let fit = fit(&site, &passes, 1.3, 1);
    let marks = passes.members().iter().filter_map(|p| Some(p.contact()?.mark.xy())).collect();
    let chance = Chance { site: &site, passes: &passes, marks, volume: fit.volume };
    let scores = CREW.map(TRIALS, 4, |index| chance.score(index as u64)).unwrap();
    let able: Vec<Score> = scores.into_iter().flatten().collect();
    assert!(able.len() > TRIALS / 20, "only {} could be built", able.len());
    let best = able.iter().reduce(|a, b| if b.is_better_than(a) { b } else { a }).unwrap();
    assert!(!best.is_better_than(&fit.score), "{best:?} against {:?}", fit.score);
}

#[test]
fn more_earth_is_better() {
    let (site, passes) = demo(1024);
    let (little, much) = (fit(&site, &passes, 1.1, 1), fit(&site, &passes, 2.4, 1));
    assert!(much.score.is_better_than(&little.score), "{much:?} {little:?}");
    assert!(much.score.p95_fall_height < little.score.p95_fall_height);
}

#[test]
fn earth_to_spare_does_no_harm() {
    let (site, passes) = demo(256);
    let fits = [6.0, 12.0, 24.0].map(|volume| fit(&site, &passes, volume, 1));
    for pair in fits.windows(2) {
        assert!(pair[1].score.caught >= pair[0].score.caught - 0.005, "{fits:?}");
    }
}

#[test]
fn other_seeds_change_little() {
    let (site, passes) = demo(1024);
    let fits = [1, 2, 3].map(|seed| fit(&site, &passes, 2.4, seed).score);
    let span = |of: fn(&Score) -> f64| {
        let most = fits.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        (most, fits.iter().map(of).fold(f64::INFINITY, f64::min))
    };
    let (most, least) = span(|score| score.caught);
    assert!(most - least <= 0.02, "{fits:?}");
    let (most, least) = span(|score| score.p95_fall_height);
    assert!(most <= 1.03 * least, "{fits:?}");
}

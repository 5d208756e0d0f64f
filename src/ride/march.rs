//! From panel to panel along a line, until it ends or the ride does.

use super::answers::Answering;
use super::error::RideError;
use super::events::{Ending, Event, Ridden, Setting};
use super::outcome::Outcome;
use super::panel::{BASIS, Bed, Pace, Panel, Span, stretch};
use super::record::Record;
use super::station::Station;
use crate::geometry::Section;
use crate::math::legendre;

/// The first and the longest panel, in the line's parameter (metres or nearly so).
const FIRST: f64 = 0.8;
const LONGEST: f64 = 6.0;
/// The most panels tried on a ride: one takes tens. Where air at rest over the rider puts a kink into the equation
/// that the ride stays at, panels would only shrink for ever.
const MOST_TRIES: usize = 10_000;
/// Panels are halved no further than this: a jump that the line does not own up to is crossed by such a one.
const SHORTEST: f64 = 1e-7;
/// From a crawl, time wants shorter ones yet.
const SHORTEST_IN_TIME: f64 = 1e-11;
/// A rest is looked for within so many widths of a panel that was too rough, in so many steps, and found to this share of
/// the way there.
const REACH: f64 = 3.0;
const MOST_STEPS_TO_REST: usize = 12;
/// Who comes to rest within this way has a time that does not matter, in the line's parameter.
const CRAWL: f64 = 0.01;
const CLOSE: f64 = 1e-12;
/// A start from rest this little before a joint is at it, in the line's parameter: energies there are what rounding leaves.
const AT_JOINT: f64 = 1e-10;
/// A panel that ends this near to where the drive changes its bound has met it: the two bounds are one there.
const DRIVE_MET: f64 = 1.0 - 1e-9;

/// Where a ride is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct State {
    /// `E + g c_z`.
    pub(super) sum: f64,
    pub(super) at_rest: bool,
    /// The track's piece and parameter.
    pub(super) piece: usize,
    pub(super) parameter: f64,
}

/// A ride under way.
pub(super) struct March<'a> {
    pub(super) setting: Setting<'a>,
    pub(super) state: State,
    pub(super) record: Record,
    /// How the ride answers, where that is asked for.
    pub(super) answering: Option<Answering>,
    width: f64,
    /// From where a rest was last looked for ahead.
    looked_from: f64,
    /// Whether the drive's bound has changed where the ride is.
    drive_changed: bool,
    /// How many panels have been tried.
    tries: usize,
}

/// What became of one try at a panel.
enum Step {
    /// Ridden to its end: how long the next one may be.
    Done(f64),
    /// Not resolved, or not seen to the end: how long the next try is to be.
    Again(f64),
    /// The ride is over.
    Over(Outcome),
}

impl<'a> March<'a> {
    pub(super) fn new(setting: Setting<'a>, spacing: Option<f64>, state: State) -> Self {
        Self {
            setting,
            state,
            record: Record::new(spacing),
            answering: None,
            width: FIRST,
            looked_from: f64::NAN,
            drive_changed: false,
            tries: 0,
        }
    }

    /// Rides the sections under a brake; gives the outcome where the ride ends on them.
    pub(super) fn ride(
        &mut self,
        sections: &[Section],
        asked: f64,
    ) -> Result<Option<Outcome>, RideError> {
        let last = sections.last().map_or(0.0, |section| section.to);
        for section in sections {
            self.choose_drive(section);
            let mut from = section.from;
            if self.state.at_rest && section.to - from <= AT_JOINT && section.to < last {
                self.start_at(section.piece, section.to);
                continue;
            }
            while from < section.to {
                self.tries += 1;
                if self.tries > MOST_TRIES {
                    return Err(RideError::Unresolved { station: self.record.station });
                }
                let width = self.width.min(section.to - from);
                let pace = if self.state.at_rest { Pace::FromRest } else { Pace::Even };
                let span = Span { piece: section.piece, from, width, pace };
                match self.step(span, section.to - from, asked)? {
                    Step::Done(next) => {
                        let end = from + width;
                        from = if end >= section.to - 1e-14 * width { section.to } else { end };
                        // A panel cut short by its section says little of the next one.
                        let uncut = if from < section.to { 0.0 } else { self.width };
                        self.width = next.max(uncut).min(LONGEST);
                    }
                    Step::Again(width) => self.width = width,
                    Step::Over(outcome) => return Ok(Some(outcome)),
                }
            }
        }
        Ok(None)
    }

    /// The same rest, so little farther on.
    fn start_at(&mut self, piece: usize, parameter: f64) {
        let (frame, _) = self.setting.line.at(piece, parameter);
        let station = Station::new(&frame, &self.setting.body);
        let sum = self.setting.equation.g() * station.centre.z;
        self.state = State { sum, at_rest: true, piece, parameter };
    }

    /// One try at a panel, with so much of the section left.
    fn step(&mut self, span: Span, room: f64, asked: f64) -> Result<Step, RideError> {
        let is_shortest = span.width <= SHORTEST;
        let again = |roughness: f64| Step::Again(span.width * stretch(roughness).min(0.7));
        let bed = Bed::new(self.setting.line, &self.setting.body, span);
        let rough_bed = bed.roughness();
        if rough_bed > 1.0 && !is_shortest {
            return Ok(again(rough_bed));
        }
        self.check_hollow(&bed)?;
        let Some(panel) = Panel::solve(&bed, &self.setting.equation, self.state.sum, asked) else {
            let station = self.record.station;
            if is_shortest {
                return Err(RideError::Unresolved { station });
            }
            return Ok(self.come_to_rest(span, room, asked).unwrap_or_else(|| again(1e3)));
        };
        let rough = panel.roughness();
        if rough > 1.0 && !is_shortest {
            return Ok(self.come_to_rest(span, room, asked).unwrap_or_else(|| again(rough)));
        }
        let drive_changes = match self.setting.event(&panel, asked, self.drive_changed) {
            Some((Event::End(ending), x)) => return Ok(self.finish(span, ending, x, asked)),
            Some((Event::Drive, x)) if x < DRIVE_MET => return Ok(self.change_drive(span, x)),
            event => event.is_some(),
        };
        let rough_time = self.rough_time(&panel);
        // Not a number where a speed is zero: too rough as well.
        let is_timed = rough_time <= 1.0;
        if !is_timed && span.width > SHORTEST_IN_TIME {
            return Ok(self.come_to_rest(span, room, asked).unwrap_or_else(|| again(rough_time)));
        }
        self.accept(&panel, asked);
        if drive_changes {
            self.take_other_drive();
        }
        Ok(Step::Done(span.width * stretch(rough_bed.max(rough).max(rough_time))))
    }

    /// What holds pedalling back where a section begins: a joint may jump in speed.
    fn choose_drive(&mut self, section: &Section) {
        if self.setting.equation.power == 0.0 {
            return;
        }
        let (frame, _) = self.setting.line.at(section.piece, section.from);
        let station = Station::new(&frame, &self.setting.body);
        let energy = self.state.sum - self.setting.equation.g() * station.centre.z;
        let square = 2.0 * energy / station.inertia;
        self.setting.equation.drive = self.setting.equation.drive_at(square);
        self.drive_changed = false;
    }

    /// A panel up to where pedalling meets its other bound; from there by that one.
    fn change_drive(&mut self, span: Span, x: f64) -> Step {
        let width = span.width * span.pace.place(x).0;
        if width > SHORTEST_IN_TIME {
            return Step::Again(width);
        }
        self.take_other_drive();
        Step::Again(span.width)
    }

    fn take_other_drive(&mut self) {
        let drive = &mut self.setting.equation.drive;
        *drive = drive.other();
        self.drive_changed = true;
    }

    /// The last panel of a ride that seems to come to rest about where a panel was too rough, its width found by Newton's
    /// method; looked for once from each place. Panels that only shrink towards a rest never get there, and in wind, whose
    /// drag goes with the speed and not with its square, none can pass it.
    fn come_to_rest(&mut self, span: Span, room: f64, asked: f64) -> Option<Step> {
        let looked = std::mem::replace(&mut self.looked_from, span.from);
        if looked.to_bits() == span.from.to_bits() || self.state.at_rest {
            return None;
        }
        let Setting { line, body, equation } = self.setting;
        let mut width = self.way_to_rest(span.piece, span.from, self.state.sum, asked)?;
        for _ in 0..MOST_STEPS_TO_REST {
            if !(width > SHORTEST_IN_TIME && width <= room.min(REACH * span.width)) {
                return None;
            }
            let bed = Bed::new(line, &body, Span { width, pace: Pace::ToRest, ..span });
            let panel = Panel::solve(&bed, &equation, self.state.sum, asked)?;
            let end = bed.span.parameter(1.0);
            let more = self.way_to_rest(span.piece, end, panel.end, asked)?;
            if more.abs() <= CLOSE * width {
                let rough = bed.roughness().max(panel.roughness());
                // So near to rest the speed is only what rounding leaves of the energy.
                let is_timed = self.rough_time(&panel) <= 1.0 || width <= CRAWL;
                let is_sound =
                    is_timed && self.setting.event(&panel, asked, self.drive_changed).is_none();
                return (rough <= 1.0 && is_sound).then(|| {
                    self.accept(&panel, asked);
                    Step::Over(Outcome::Stalled { station: self.record.station })
                });
            }
            width += more;
        }
        None
    }

    /// How far on a ride with this sum of energies would come to rest, at the rate at which it slows; none where it does
    /// not slow. In the line's parameter.
    fn way_to_rest(&self, piece: usize, parameter: f64, sum: f64, asked: f64) -> Option<f64> {
        let Setting { line, body, equation } = self.setting;
        let (frame, stretch) = line.at(piece, parameter);
        let station = Station::new(&frame, &body);
        let energy = sum - equation.g() * station.centre.z;
        let loads = equation.loads(&station, energy.max(0.0), asked);
        let rate = loads.gain() - equation.g() * station.dc.z;
        (rate < 0.0).then(|| -energy / (rate * stretch))
    }

    /// Rides the last bit, up to `x` of the span where the ride ends.
    fn finish(&mut self, span: Span, ending: Ending, x: f64, asked: f64) -> Step {
        let width = span.width * span.pace.place(x).0;
        let over = |station| match ending {
            Ending::Stall => Step::Over(Outcome::Stalled { station }),
            Ending::Lift => Step::Over(Outcome::LeftSurface { station }),
        };
        if width <= SHORTEST_IN_TIME {
            return over(self.record.station);
        }
        let pace = match (ending, span.pace) {
            (Ending::Lift, pace) => pace,
            (Ending::Stall, Pace::Even | Pace::ToRest) => Pace::ToRest,
            // From rest to rest: the two ends want a panel each.
            (Ending::Stall, Pace::FromRest) => return Step::Again(0.5 * width),
        };
        let bed = Bed::new(self.setting.line, &self.setting.body, Span { width, pace, ..span });
        let panel = Panel::solve(&bed, &self.setting.equation, self.state.sum, asked);
        let is_shortest = width <= SHORTEST;
        let Some(panel) = panel.filter(|panel| is_shortest || panel.roughness() <= 1.0) else {
            return Step::Again(0.5 * width);
        };
        if self.rough_time(&panel) > 1.0 && !is_shortest {
            return Step::Again(0.5 * width);
        }
        self.accept(&panel, asked);
        over(self.record.station)
    }

    /// How much too rough time is for the panel, where it is kept.
    fn rough_time(&self, panel: &Panel) -> f64 {
        self.record.spacing.map_or(0.0, |_| panel.rough_time())
    }

    fn check_hollow(&self, bed: &Bed) -> Result<(), RideError> {
        let Some(x) = self.setting.too_tight(&bed.stations) else {
            return Ok(());
        };
        let way = legendre::integral(&BASIS.coefficients(&bed.metres), x);
        let (frame, _) = self.setting.line.at(bed.span.piece, bed.span.parameter(x));
        Err(RideError::TooTight {
            station: self.record.station + way,
            radius: frame.normal_curvature().recip(),
            com_height: self.setting.body.com_height,
        })
    }

    fn accept(&mut self, panel: &Panel, asked: f64) {
        let Setting { equation, body, .. } = self.setting;
        let ridden = Ridden { setting: &self.setting, panel, asked };
        self.record.take(&ridden, &equation, body.rotating);
        if let Some(answering) = &mut self.answering {
            answering.take(&self.setting, panel, asked);
        }
        self.drive_changed = false;
        self.state = State {
            sum: panel.end,
            at_rest: false,
            piece: panel.bed.span.piece,
            parameter: panel.bed.span.parameter(1.0),
        };
    }
}

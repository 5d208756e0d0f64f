//! A swept wall: a panel carried along a plan curve, banked to the outside of the turn.

use super::bank::Bank;
use super::error::WallError;
use super::height::Height;
use super::panel::Strip;
use super::surface::SurfacePoint;
use super::wall_line::WallLine;
use crate::geometry::{Contact, Line, Plan, Turn, Uphill};
use crate::math::Vec3;
use crate::math::jet::{Jet, Jet3};
use crate::math::range::{OutOfRange, coordinate, finite, positive, within};
use crate::math::spline::Spline;
use serde::{Deserialize, Serialize};

/// The most that an end edge may be skewed, degrees.
const MOST_SKEW_DEG: f64 = 60.0;
/// The widest that a panel may be, metres: no timber is meant beyond.
const WIDEST: f64 = 1000.0;
/// How far the last point of a line may lie off the end edge, metres.
const EDGE_SLACK: f64 = 1e-6;
/// How finely a line through points is searched for places off the panel, a piece.
const CHECKS_PER_PIECE: usize = 16;

/// What a wall is given by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Drawing {
    plan: Plan,
    bank: Bank,
    width: f64,
    grade: f64,
    position: Vec3,
    heading: f64,
    end_skew: f64,
    /// None where the panel is flat across.
    hollow_radius: Option<f64>,
}

/// A panel carried along its foot line and banked to the outside of the turn.
///
/// `P(s, q) = C(s) + q (cos b(s) o(s) + sin b(s) k)`, `s` metres along the foot seen from above, `q` metres up the
/// panel, `b` the bank, `o` level to the outside, `k` up. An even bank is a wall ride, a growing one a steepening wall,
/// a small one on a turn a berm (common practice). A hollow panel bends up across by a radius `r`: `q` up it the bank
/// is `b(s) + q / r`, and `q` stays the distance along the panel. Derivatives are exact.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Drawing", into = "Drawing")]
pub struct Wall(Drawing);

impl TryFrom<Drawing> for Wall {
    type Error = WallError;
    fn try_from(drawing: Drawing) -> Result<Self, WallError> {
        Self(drawing).checked()
    }
}

impl From<Wall> for Drawing {
    fn from(wall: Wall) -> Self {
        wall.0
    }
}

impl Wall {
    /// The wall with this plan of its foot, bank, and width of panel (metres, above 0).
    ///
    /// Level, at the origin, starting along `+x`, with its end edge square to the foot, flat across, unless said
    /// otherwise.
    pub fn new(plan: Plan, bank: Bank, width: f64) -> Result<Self, WallError> {
        let position = Vec3::zeros();
        let (grade, heading, end_skew, hollow_radius) = (0.0, 0.0, 0.0, None);
        Self(Drawing { plan, bank, width, grade, position, heading, end_skew, hollow_radius })
            .checked()
    }

    /// The same wall with its foot rising by `grade` metres a metre of plan, from -1 to 1.
    pub fn with_grade(self, grade: f64) -> Result<Self, WallError> {
        Self(Drawing { grade, ..self.0 }).checked()
    }

    /// The same wall with the start of its foot at `position`, along `heading` (radians from `+x`).
    pub fn placed(self, position: Vec3, heading: f64) -> Result<Self, WallError> {
        Self(Drawing { position, heading, ..self.0 }).checked()
    }

    /// The same wall with its end edge skewed by an angle, radians: positive where the top reaches further on.
    pub fn with_end_skew(self, end_skew: f64) -> Result<Self, WallError> {
        Self(Drawing { end_skew, ..self.0 }).checked()
    }

    /// The same wall with its panel bent up across by `radius`, metres, above 0; infinite is flat.
    ///
    /// The bank is that of the foot; at the top, `width / radius` steeper, it is at most a right angle.
    pub fn with_hollow(self, radius: f64) -> Result<Self, WallError> {
        let hollow_radius = (radius != f64::INFINITY).then_some(radius);
        Self(Drawing { hollow_radius, ..self.0 }).checked()
    }

    fn checked(self) -> Result<Self, WallError> {
        let d = &self.0;
        within("width", positive("width", d.width)?, 0.0, WIDEST)?;
        within("grade", d.grade, -1.0, 1.0)?;
        for x in d.position.iter() {
            coordinate("position", *x)?;
        }
        finite("heading_deg", d.heading.to_degrees())?;
        d.hollow_radius.map_or(Ok(0.0), |radius| positive("hollow_radius", radius))?;
        let skew = d.end_skew.to_degrees();
        within("end_skew_deg", skew, -MOST_SKEW_DEG, MOST_SKEW_DEG)?;
        if self.end_station(d.width) <= 0.0 {
            let text = "so much that some of the top edge is left";
            return Err(OutOfRange::new("end_skew_deg", skew, text).into());
        }
        let reach = self.length().max(self.end_station(d.width));
        d.bank.check(self.length(), reach)?;
        if let Some(radius) = d.hollow_radius {
            d.bank.check_top(self.length(), reach, d.width, radius)?;
        }
        Ok(self)
    }

    /// The length of the foot seen from above, metres.
    pub fn length(&self) -> f64 {
        self.0.plan.length()
    }

    /// The width of the panel from its foot up, metres.
    pub fn width(&self) -> f64 {
        self.0.width
    }

    /// The rise of the foot over its run.
    pub fn grade(&self) -> f64 {
        self.0.grade
    }

    /// The plan of the foot.
    pub fn plan(&self) -> &Plan {
        &self.0.plan
    }

    /// The bank angle along it.
    pub fn bank(&self) -> &Bank {
        &self.0.bank
    }

    /// Where the foot starts, metres.
    pub fn position(&self) -> Vec3 {
        self.0.position
    }

    /// The heading of the foot where it starts, radians from `+x`.
    pub fn heading(&self) -> f64 {
        self.0.heading
    }

    /// The skew of the end edge, radians.
    pub fn end_skew(&self) -> f64 {
        self.0.end_skew
    }

    /// The radius by which the panel bends up across, metres; none for a flat one.
    pub fn hollow_radius(&self) -> Option<f64> {
        self.0.hollow_radius
    }

    /// The bank angle at a station along the foot, radians; that of the foot itself for a hollow panel.
    pub fn bank_at(&self, station: f64) -> f64 {
        self.0.bank.at(self.0.bank.piece(station), station, self.length()).value()
    }

    /// The station of the end edge at a height `q` up the panel, metres along the foot.
    pub fn end_station(&self, q: f64) -> f64 {
        self.length() + q * self.0.end_skew.tan()
    }

    /// The point of the end edge at a height `q` up the panel, metres.
    pub fn edge(&self, q: f64) -> Vec3 {
        self.surface(self.end_station(q), q).point
    }

    /// The surface at station `s` along the foot and `q` up the panel, continued as it bends beyond its edges.
    pub fn surface(&self, s: f64, q: f64) -> SurfacePoint {
        self.strip_at(s).surface(q)
    }

    /// Point and normal along any curve on the panel: `s` along the foot and `q` up the panel, both by one variable.
    ///
    /// Exact to the third derivative of the point and the second of the normal; continued as [`surface`](Self::surface).
    pub fn contact(&self, s: Jet, q: Jet) -> Contact {
        self.strip_at(s.value()).of(&s).contact(q)
    }

    /// Points of the panel for a picture: `rows` along by `columns` up, row after row, at least two of each.
    pub fn mesh(&self, rows: usize, columns: usize) -> Vec<Vec3> {
        let share = |i: usize, n: usize| i as f64 / (n - 1) as f64;
        let (rows, columns) = (rows.max(2), columns.max(2));
        let point = |i, j| {
            let q = self.width() * share(j, columns);
            self.surface(self.end_station(q) * share(i, rows), q).point
        };
        (0..rows).flat_map(|i| (0..columns).map(move |j| point(i, j))).collect()
    }

    /// The line from `enter` to `leave`, both metres up the panel, level along it at both ends.
    pub fn line(&self, enter: f64, leave: f64) -> Result<Line, WallError> {
        within("enter", enter, 0.0, self.width())?;
        within("leave", leave, 0.0, self.width())?;
        let length = self.end_station(leave);
        Ok(self.along(Height::Quintic { enter, leave, length }, 0.0, length))
    }

    /// The smooth line through rows of station along the foot and height up the panel, metres.
    ///
    /// Stations rise from 0 or later to the end edge; between rows the line must stay on the panel.
    pub fn line_through(&self, points: &[(f64, f64)]) -> Result<Line, WallError> {
        let (stations, heights): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
        let spline = Spline::through(&stations, &heights).map_err(WallError::Points)?;
        let (first, last) = (stations[0], stations[stations.len() - 1]);
        within("points", first, 0.0, self.length())?;
        let edge = self.end_station(heights[heights.len() - 1]);
        if (last - edge).abs() > EDGE_SLACK {
            return Err(WallError::NotAtEdge { last, edge });
        }
        let height = Height::Through(spline);
        let checks = CHECKS_PER_PIECE * points.len();
        for i in 0..=checks {
            let station = first + (last - first) * i as f64 / checks as f64;
            let q = height.at(height.piece(station), station).value();
            if !(-1e-9..=self.width() + 1e-9).contains(&q) {
                return Err(WallError::OffPanel { station, height: q, width: self.width() });
            }
        }
        Ok(self.along(height, first, last))
    }

    fn along(&self, height: Height, from: f64, to: f64) -> Line {
        let up = match self.0.plan.turn() {
            Turn::Left => Turn::Right,
            Turn::Right => Turn::Left,
        };
        Line::along(WallLine::new(self.clone(), height, from, to), Uphill::To(up))
    }

    fn strip_at(&self, s: f64) -> Strip {
        self.strip(self.0.plan.piece(s), self.0.bank.piece(s), s)
    }

    /// The panel at a station, by the station, on given pieces of plan and bank.
    pub(super) fn strip(&self, plan_piece: usize, bank_piece: usize, s: f64) -> Strip {
        let d = &self.0;
        let at = d.plan.at(plan_piece, s);
        let (sin, cos) = d.heading.sin_cos();
        let turned = |x: Jet, y: Jet| (x * cos - y * sin, x * sin + y * cos);
        let (x, y) = turned(at.x, at.y);
        let z = Jet::new(d.position.z + d.grade * s, d.grade, 0.0, 0.0);
        let place = |jet: Jet, by: f64| jet + Jet::constant(by);
        let foot = Jet3::new(place(x, d.position.x), place(y, d.position.y), z);
        let (ahead, aside) = turned(at.cos, at.sin);
        let side = d.plan.turn().sign();
        // To the outside of the turn: right of the heading for a left turn.
        let out = Jet3::new(aside * side, -ahead * side, Jet::default());
        let bank = d.bank.at(bank_piece, s, self.length());
        Strip {
            foot,
            dfoot: foot.derivative(),
            out,
            dout: out.derivative(),
            bank,
            dbank: bank.derivative(),
            hollow: d.hollow_radius.map_or(0.0, f64::recip),
            side,
        }
    }
}

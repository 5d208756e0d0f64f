//! The last wheelbase of a line, seen from the side: what the rear wheel still follows when the front has left.

use crate::geometry::{Frame, Line, Section};
use crate::math::Vec3;
use crate::rider::Rider;
use serde::{Deserialize, Serialize};

/// Into how many equal parts the last wheelbase is cut.
const PARTS: usize = 8;

/// The sizes of bike and rider that matter while only one wheel is on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Bike {
    /// From contact to contact, metres.
    pub wheelbase: f64,
    /// How far the centre of mass is ahead of the rear contact, metres.
    pub rear_to_com: f64,
    /// The wheels' radius, metres.
    pub wheel_radius: f64,
    /// The square of the radius of gyration in pitch, square metres.
    pub pitch: f64,
    /// The square of the radius of gyration in yaw, square metres.
    pub yaw: f64,
}

impl Bike {
    pub(super) fn of(rider: &Rider) -> Self {
        let inertia = rider.inertia();
        Self {
            wheelbase: rider.wheelbase(),
            rear_to_com: rider.rear_to_com(),
            wheel_radius: rider.wheel_radius(),
            pitch: inertia.pitch() / rider.mass(),
            yaw: inertia.yaw() / rider.mass(),
        }
    }
}

/// Direction and curvature of a line in the vertical plane of its end, at one place.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Bend {
    /// The line's direction, radians from that at its end, towards the normal there.
    pub direction: f64,
    /// How it changes, one over metres: positive in a hollow.
    pub curvature: f64,
}

/// The last wheelbase of a line in the plane of the tangent and the normal at its end.
///
/// Between its nodes the direction follows cubics that meet direction and curvature: exact for straights and arcs.
/// Where a line is shorter than that it is taken to begin straight.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Edge {
    length: f64,
    nodes: [Bend; PARTS + 1],
}

impl Edge {
    /// The last `length` metres of a line, with the frame at its end.
    pub(super) fn of(line: &Line, end: &Frame, length: f64) -> Self {
        let mut nodes = [Bend::default(); PARTS + 1];
        let mut way = WayBack::from_end(line);
        for node in nodes.iter_mut().rev() {
            *node = way.frame.map_or_else(Bend::default, |frame| bend(&frame, end));
            if way.is_over {
                node.curvature = 0.0;
            }
            way.step(length / PARTS as f64);
        }
        Self { length, nodes }
    }

    /// How long it is, metres: the wheelbase.
    pub const fn length(&self) -> f64 {
        self.length
    }

    /// The length of the parts over which it is smooth, metres.
    pub fn part(&self) -> f64 {
        self.length / PARTS as f64
    }

    /// The next end of such a part, metres from its start; none at its end.
    pub fn joint_after(&self, way: f64) -> Option<f64> {
        let mut joints = (1..=PARTS).map(|i| self.length * (i as f64 / PARTS as f64));
        joints.find(|joint| *joint > way)
    }

    /// Direction and curvature `way` metres from its start.
    pub fn at(&self, way: f64) -> Bend {
        let part = self.part();
        let i = (1..PARTS).take_while(|i| part * *i as f64 <= way).count();
        let (a, b) = (self.nodes[i], self.nodes[i + 1]);
        let x = (way / part - i as f64).clamp(0.0, 1.0);
        let extra = 6.0 * ((b.direction - a.direction) / part - 0.5 * (a.curvature + b.curvature));
        let linear = a.curvature * (1.0 - 0.5 * x) + b.curvature * 0.5 * x;
        let bump = extra * x * (0.5 - x / 3.0);
        Bend {
            direction: a.direction + part * x * (linear + bump),
            curvature: a.curvature * (1.0 - x) + b.curvature * x + extra * x * (1.0 - x),
        }
    }
}

/// How the line goes in the plane of the end's tangent and normal.
fn bend(frame: &Frame, end: &Frame) -> Bend {
    let in_plane = |v: &Vec3| (v.dot(&end.tangent), v.dot(&end.normal));
    let ((x, z), (dx, dz)) = (in_plane(&frame.tangent), in_plane(&frame.curvature));
    let square = x * x + z * z;
    // A line that turns square to the plane within a wheelbase has no direction in it.
    let curvature = if square > 0.0 { (x * dz - z * dx) / square } else { 0.0 };
    Bend { direction: z.atan2(x), curvature }
}

/// A walk back along a line from its end, by the track's own parameter.
struct WayBack<'a> {
    line: &'a Line,
    sections: Vec<Section>,
    parameter: f64,
    frame: Option<Frame>,
    is_over: bool,
}

impl<'a> WayBack<'a> {
    fn from_end(line: &'a Line) -> Self {
        let sections: Vec<Section> = line.sections().collect();
        let parameter = sections.last().map_or(0.0, |section| section.to);
        let mut way = Self { line, sections, parameter, frame: None, is_over: false };
        way.look();
        way
    }

    fn look(&mut self) {
        let here = self.sections.last().map(|section| (section.piece, self.parameter));
        self.frame = here.map(|(piece, parameter)| self.line.at(piece, parameter).0);
    }

    /// Goes `length` metres back, to the third order in it; not past the line's start.
    fn step(&mut self, mut length: f64) {
        while let Some(section) = self.sections.last().copied() {
            let stretch = |parameter: f64| self.line.at(section.piece, parameter).1;
            let middle = self.parameter - 0.5 * length / stretch(self.parameter);
            let rate = stretch(middle.max(section.from));
            if self.parameter - length / rate >= section.from {
                self.parameter -= length / rate;
                break;
            }
            length -= (self.parameter - section.from) * rate;
            self.parameter = section.from;
            if self.sections.len() == 1 {
                self.is_over = true;
                break;
            }
            self.sections.pop();
        }
        self.look();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Profile;
    use approx::assert_relative_eq;

    fn edge(line: &Line, length: f64) -> Edge {
        Edge::of(line, &line.frame(line.length()), length)
    }

    #[test]
    fn an_arc_bends_evenly() {
        let profile = Profile::cornered(&[0.0, 10.0, 16.0], &[0.0, 0.0, 6.0], 8.0).unwrap();
        let line = profile.line();
        let arc = line.tail(line.length() - line.joints()[0]).unwrap();
        // Half of the arc, its straight cut off.
        let arc = arc.between(arc.parameter(0.0), arc.parameter(3.0));
        let edge = edge(&arc, 1.2);
        for way in [0.0, 0.3, 0.77, 1.2] {
            assert_relative_eq!(edge.at(way).direction, (way - 1.2) / 8.0, epsilon = 1e-5);
            assert_relative_eq!(edge.at(way).curvature, 1.0 / 8.0, epsilon = 1e-4);
        }
    }

    #[test]
    fn a_joint_within_it_is_seen_and_a_short_line_begins_straight() {
        let profile = Profile::cornered(&[0.0, 10.0, 12.0], &[0.0, 0.0, 1.2], 2.0).unwrap();
        let line = profile.line();
        let straight = line.length() - line.joints()[1];
        let edge = edge(&line, straight + 0.4);
        assert_relative_eq!(edge.at(0.0).direction, -0.2, epsilon = 1e-3);
        assert_relative_eq!(edge.at(0.1).curvature, 0.5, epsilon = 1e-2);
        assert_relative_eq!(edge.at(1.0).direction, 0.0, epsilon = 1e-12);
        let stub = edge_of_stub();
        assert_eq!(stub.at(0.0), stub.at(0.5));
    }

    fn edge_of_stub() -> Edge {
        let line = Profile::smooth(&[0.0, 0.5], &[0.0, 0.1]).unwrap().line();
        edge(&line, 1.2)
    }
}

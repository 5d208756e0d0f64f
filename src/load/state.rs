//! Where a chain is: every mass's place and speed, and how every member holds.

use super::chain::{Chain, Link};
use super::part::{Part, STOP_RETURN, Stop, Strut};

/// How a strut holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Grip {
    /// Not touched: its end goes back to its length.
    Open,
    /// Spring and damper are pressed together.
    Stick,
    /// It yields.
    Slip,
}

/// Which way a suspension goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    In,
    Out,
}

/// How a stop is touched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Touch {
    Clear,
    Pressed,
    /// Going back slowly enough to be pushed still.
    Returning,
    /// Going back faster than the stop does.
    Left,
}

/// A member's own state. What was before the last change is kept for one piece: a function that has just come down to
/// zero starts at zero, whatever rounding says.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hold {
    /// How far a strut's spring is pressed together, m.
    pub(super) pressed: f64,
    /// How much shorter it got by yielding, m.
    pub(super) set: f64,
    pub(super) grip: Grip,
    pub(super) grip_was: Option<Grip>,
    pub(super) way: Way,
    pub(super) way_is_new: bool,
    pub(super) touch: [Touch; 2],
    pub(super) touch_was: [Option<Touch>; 2],
}

impl Hold {
    fn just_touching() -> Self {
        Self {
            pressed: 0.0,
            set: 0.0,
            grip: Grip::Stick,
            grip_was: None,
            way: Way::In,
            way_is_new: false,
            touch: [Touch::Clear; 2],
            touch_was: [None; 2],
        }
    }

    /// The changes of the last border are old now.
    pub(super) fn settle(&mut self) {
        self.grip_was = None;
        self.way_is_new = false;
        self.touch_was = [None; 2];
    }
}

/// What changes at a border between two pieces of motion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Change {
    Grip(Grip),
    Way(Way),
    Touch(usize, Touch),
}

/// A mass's way down from where it was at the first touch, its speed down, and the member below it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    pub(super) place: f64,
    pub(super) speed: f64,
    pub(super) hold: Hold,
}

/// The whole chain at one moment.
#[derive(Debug, Clone)]
pub(super) struct State {
    pub(super) nodes: Vec<Node>,
}

impl State {
    /// Just touching, unloaded, everything at one speed.
    pub(super) fn start(chain: &Chain, speed: f64) -> Self {
        let node = Node { place: 0.0, speed, hold: Hold::just_touching() };
        Self { nodes: vec![node; chain.links.len()] }
    }

    /// How far a member is pressed together, m.
    pub(super) fn compression(&self, at: usize) -> f64 {
        self.nodes[at].place - if at == 0 { 0.0 } else { self.nodes[at - 1].place }
    }

    /// Changes how a member holds.
    pub(super) fn apply(&mut self, at: usize, change: Change) {
        let hold = &mut self.nodes[at].hold;
        match change {
            Change::Grip(grip) => hold.grip_was = Some(std::mem::replace(&mut hold.grip, grip)),
            Change::Way(way) => (hold.way, hold.way_is_new) = (way, true),
            Change::Touch(stop, touch) => {
                hold.touch_was[stop] = Some(std::mem::replace(&mut hold.touch[stop], touch));
            }
        }
    }

    /// The momentum of the chain, downwards, N s.
    pub(super) fn momentum(&self, chain: &Chain) -> f64 {
        self.with(chain).map(|(node, link)| link.mass * node.speed).sum()
    }

    /// Its kinetic energy, J.
    pub(super) fn kinetic(&self, chain: &Chain) -> f64 {
        self.with(chain).map(|(node, link)| 0.5 * link.mass * node.speed * node.speed).sum()
    }

    /// How far gravity has moved it, kg m.
    pub(super) fn moment(&self, chain: &Chain) -> f64 {
        self.with(chain).map(|(node, link)| link.mass * node.place).sum()
    }

    /// What its springs and stops hold, J.
    pub(super) fn stored(&self, chain: &Chain) -> f64 {
        let of = |(at, (node, link)): (usize, (&Node, &Link))| {
            let pressed = self.compression(at);
            match &link.part {
                Part::Strut(strut) => {
                    0.5 * strut.stiffness * node.hold.pressed.powi(2)
                        + strut.stop.map_or(0.0, |stop| stop.energy(pressed - stop.at))
                }
                Part::Suspension(part) => {
                    part.spring.energy(pressed)
                        + part.stops[0].energy(pressed - part.stops[0].at)
                        + part.stops[1].energy(-pressed)
                }
            }
        };
        self.with(chain).enumerate().map(of).sum()
    }

    fn with<'a>(&'a self, chain: &'a Chain) -> impl Iterator<Item = (&'a Node, &'a Link)> {
        self.nodes.iter().zip(&chain.links)
    }
}

impl Stop {
    fn energy(&self, depth: f64) -> f64 {
        0.5 * self.stiffness * depth.max(0.0).powi(2)
    }

    /// The power lost in it, W, at a depth and a speed inwards.
    pub(super) fn lost(&self, touch: Touch, depth: f64, speed: f64) -> f64 {
        let share = match touch {
            Touch::Clear | Touch::Pressed => 0.0,
            Touch::Returning => speed / STOP_RETURN,
            Touch::Left => -1.0,
        };
        self.stiffness * depth * speed * share
    }
}

impl Strut {
    /// How fast the spring is pressed together where that does not follow from the masses: open, or yielding.
    pub(super) fn own_rate(&self, grip: Grip, pressed: f64) -> f64 {
        let force = match grip {
            Grip::Slip => self.yields_at.unwrap_or(0.0),
            Grip::Open | Grip::Stick => 0.0,
        };
        if self.damping > 0.0 { (force - self.stiffness * pressed) / self.damping } else { 0.0 }
    }
}

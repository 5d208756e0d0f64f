//! Many flights at once: the same physics as one flight, in the machine's vector registers.
//!
//! The batch answers only where it is certain, by bounds, to agree with one flight: within 1e-8 m on a plane, 1e-6 m on a
//! grid or a survey and the landings on it. All else, a launch on the ground, a crest that is grazed, takes the way of one
//! flight. So do all flights onto other grounds: landings on a plane, the higher of two grids.

mod alone;
mod arc;
mod blocks;
mod chunk;
mod closing;
mod driven;
mod field;
mod first;
mod fly;
mod hodograph;
mod march;
mod near;
mod onward;
mod order;
mod rule;
mod sampled;
mod sheet;
mod stages;
mod track;

pub(super) use alone::touch;
pub use chunk::{Column, Fate, ROWS, Starts, Touches, Vectors};
pub use driven::Driven;

use super::error::FlightError;
use super::path::FlightPath;
use crate::air::Air;
use crate::force::Forces;
use crate::ground::{End, Ground, Reach, Search, Surface};
use crate::math::Vec3;
use crate::math::lanes::ARCH;
use crate::rider::Rider;
use field::{Field, Relief};
use fly::Fly;
use hodograph::Onto;
use onward::Onward;
use order::Order;
use std::sync::Arc;

/// What all flights of a batch share: who flies through what onto what. By hand: without attitude.
#[derive(Debug, Clone)]
pub struct Batch {
    ground: Ground,
    forces: Forces,
    reach: Reach,
    way: Way,
}

/// The way that most flights take.
#[derive(Debug, Clone)]
enum Way {
    Plane(Onto),
    /// To planes about which the ground lies, one after another as long as flights are open, and on to the ground.
    Uneven(Arc<Field>, Vec<(Onto, Relief)>),
    OneByOne,
}

impl Way {
    fn uneven(
        field: Arc<Field>,
        reliefs: impl Iterator<Item = Relief>,
        height: f64,
        forces: &Forces,
    ) -> Self {
        let onto = |one: Relief| (Onto::new(&one.plane, height, forces), one);
        Self::Uneven(field, reliefs.map(onto).collect())
    }
}

impl Batch {
    /// Flights of this rider through this air onto this ground.
    pub fn new(ground: &Ground, rider: &Rider, air: &Air) -> Result<Self, FlightError> {
        let (forces, height) = (Forces::new(rider, air), rider.com_height_landing());
        let reach = Reach::upright(height)?;
        let way = match ground.surfaces() {
            [Surface::Plane(plane)] => Way::Plane(Onto::new(plane, height, &forces)),
            _ => Field::new(ground, height).map_or(Way::OneByOne, |(field, reliefs)| {
                Way::uneven(Arc::new(field), reliefs.into_iter(), height, &forces)
            }),
        };
        Ok(Self { ground: ground.clone(), forces, reach, way })
    }

    /// Flights of another rider, through another air, onto the same ground. What there is to know of a ground before it is
    /// flown onto is known already where the rider is as high over his tyres.
    pub fn with(&self, rider: &Rider, air: &Air) -> Result<Self, FlightError> {
        let (forces, height) = (Forces::new(rider, air), rider.com_height_landing());
        match &self.way {
            Way::Uneven(field, planes) if height.total_cmp(&self.height()).is_eq() => {
                let reliefs = planes.iter().map(|(_, relief)| relief.clone());
                let way = Way::uneven(field.clone(), reliefs, height, &forces);
                Ok(Self { ground: self.ground.clone(), forces, reach: self.reach, way })
            }
            _ => Self::new(&self.ground, rider, air),
        }
    }

    /// What is flown onto.
    pub const fn ground(&self) -> &Ground {
        &self.ground
    }

    /// What moves the rider.
    pub const fn forces(&self) -> &Forces {
        &self.forces
    }

    /// The height of the centre of mass over the tyres at touchdown, metres.
    pub fn height(&self) -> f64 {
        self.reach.height()
    }

    /// Flies the first `rows` launches of a chunk. The rest of its columns is left undefined.
    pub fn fly(&self, starts: &Starts, rows: usize, touches: &mut Touches) {
        let rows = rows.min(ROWS);
        match &self.way {
            Way::Plane(onto) => {
                touches.level_with(&onto.level().normal);
                self.fly_to(onto, starts, rows, touches);
            }
            Way::Uneven(field, planes) => self.fly_by(field, planes, starts, rows, touches),
            Way::OneByOne => touches.certain.fill(0.0),
        }
        for row in 0..rows {
            if touches.certain[row] > 0.0 {
                touches.fate[row] = Fate::Touched;
            } else {
                touches.set(row, &self.fly_one(starts, row));
            }
        }
    }

    /// Flies to the first plane and on to the ground; what is open after that to the next, and on.
    fn fly_by(
        &self,
        field: &Field,
        planes: &[(Onto, Relief)],
        starts: &Starts,
        rows: usize,
        touches: &mut Touches,
    ) {
        let fly = |(onto, relief): &(Onto, Relief),
                   starts: &Starts,
                   rows,
                   touches: &mut Touches| {
            self.fly_to(onto, starts, rows, touches);
            ARCH.dispatch(Onward { field, relief, forces: &self.forces, starts, touches, rows });
        };
        touches.certain.fill(0.0);
        for (at, onto) in planes.iter().enumerate() {
            let certain = touches.certain;
            let order = Order::by_length(|row| (certain[row] < 1.0).then_some(0), rows);
            if at == 0 {
                fly(onto, starts, rows, touches);
            } else if order.count > 0 {
                let mut found = Touches::new();
                fly(onto, &order.starts(starts), order.count, &mut found);
                touches.take(&order, &found);
            }
        }
    }

    /// Flies to a plane: by the hodograph, and step by step where that is of no use, near rest in the air.
    fn fly_to(&self, onto: &Onto, starts: &Starts, rows: usize, touches: &mut Touches) {
        ARCH.dispatch(Fly { onto, starts, touches, rows });
        let certain = touches.certain;
        let open = |row: usize| certain[row] < 1.0;
        if (0..rows).any(open) {
            march::fly(&self.forces, onto.level(), starts, open, rows, touches);
        }
    }

    /// One flight the way of one flight.
    fn fly_one(&self, starts: &Starts, row: usize) -> Result<(End, Vec3), FlightError> {
        let (position, velocity) = (starts.position(row), starts.velocity(row));
        let mut path = FlightPath::start(position, velocity, self.forces)?;
        let end = path.fly_to(&mut Search::new(&self.ground, self.reach))?;
        Ok((end, path.motion(end.time()).velocity))
    }
}

#[cfg(test)]
mod tests;

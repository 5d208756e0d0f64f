//! What stands behind a two-wheel ride.

use super::result::TwoWheelRide;
use crate::explain::Explanation;

impl TwoWheelRide {
    /// The model, what went in, the sources and the limits.
    pub fn explain(&self) -> Explanation {
        let (rider, absorber) = (&self.rider, self.rider.absorber());
        Explanation::new(
            "A rigid body (rider and what is sprung of the bike) in the plane of travel, on two hubs that each move along \
             a straight guide up through the bike against spring, damper and stops, and on tyres that only push, each \
             where the wheel's circle meets the ground. Newton's and Euler's equations, integrated by Dormand and \
             Prince 5(4), restarted where a wheel leaves or meets the ground or another part of it, where a damper turns \
             and where a stop is met. Masses, springs, dampers and tyres are shared out by the load that each end carries \
             at rest on the level.",
            "The body is rigid: legs and arms that give, pull up or pump are not in it, so loads on the body are upper \
             bounds and pitch is what a passive rider gets. No steering or leaning, no spin of the wheels (about 2 % of \
             the energy of motion, and the pitch that braking a spinning wheel in the air would give), no chain or brake \
             forces through the linkage, guides straight and without friction, tyres linear, without damping and with no \
             rim inside. The ground is rigid. Ends count as lost by the pitch limit alone.",
        )
        .with_input("mass", rider.mass(), "kg")
        .with_input("pitch inertia", rider.inertia().pitch(), "kg m^2")
        .with_input("com_height", rider.com_height(), "m")
        .with_input("wheelbase", rider.wheelbase(), "m")
        .with_input("rear_to_com", rider.rear_to_com(), "m")
        .with_input("wheel_radius", rider.wheel_radius(), "m")
        .with_input("travel", absorber.travel.unwrap_or(0.0), "m")
        .with_input("sag", absorber.sag, "")
        .with_input("tyre_stiffness", absorber.tyre_stiffness, "N/m")
        .with_input("tolerance", self.options.tolerance, "")
        .with_source(
            "The equations of planar rigid bodies (any textbook of mechanics; d'Alembert's principle along the guides)",
        )
        .with_source(
            "Dormand and Prince 1980, A family of embedded Runge-Kutta formulae, J. Comp. Appl. Math. 6:19-26",
        )
        .with_source("Chainring's place and the tyre's height: common practice")
    }
}

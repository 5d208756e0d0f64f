//! Rider and bike together.

use crate::absorber::Absorber;
use crate::air::Air;
use crate::arrays::{Triple, vector};
use crate::errors::Failure;
use crate::loads::{Loads, Told};
use crate::pickle::pickled;
use crate::text as words;
use crate::touchdown::Touchdown;
use crate::two_wheel::{self, Terrain, TwoWheelRide};
use loamline::Rider as Core;
use loamline::rider::Inertia;
use nalgebra::Vector3;
use numpy::PyArray1;
use pyo3::prelude::*;

/// Rider and bike together, ready to ride.
///
/// Args:
///     mass: of rider and bike, kg, above 0.
///     cda: drag area, m^2, at least 0.
///     crr: coefficient of rolling resistance, at least 0.
///     grip: what tyre and surface carry sideways over the load on them, above 0; `float("inf")`
///         never slides.
///     com_height: height of the centre of mass above the tyres when riding, m, at least 0.
///     com_height_landing: the same at touchdown, m; None keeps `com_height`.
///     wheelbase: m, above 0.
///     wheel_radius: m, above 0.
///     wheel_inertia: spin inertia of each wheel, kg m^2, at least 0.
///     inertia: in roll, pitch and yaw about the centre of mass, kg m^2, each above 0 and none
///         above the sum of the others; None takes (13, 18, 8).
///     absorber: what takes up a landing; None takes `Absorber()`.
///     rear_to_com: the centre of mass ahead of the rear contact, m, from 0 to the wheelbase;
///         None takes 0.4 of the wheelbase.
///
/// Raises:
///     InputError: a number outside its range.
///
/// >>> import loamline as ll
/// >>> ll.Rider(mass=80.0).mass
/// 80.0
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct Rider {
    /// The core's rider.
    pub core: Core,
}

#[pymethods]
impl Rider {
    #[new]
    #[pyo3(
        signature = (
            mass=90.0, cda=0.55, crr=0.03, grip=0.6, com_height=1.0, com_height_landing=None,
            wheelbase=1.2, wheel_radius=0.35, wheel_inertia=0.0, inertia=None, absorber=None,
            rear_to_com=None,
        )
    )]
    fn new(
        mass: f64,
        cda: f64,
        crr: f64,
        grip: f64,
        com_height: f64,
        com_height_landing: Option<f64>,
        wheelbase: f64,
        wheel_radius: f64,
        wheel_inertia: f64,
        inertia: Option<Triple>,
        absorber: Option<PyRef<'_, Absorber>>,
        rear_to_com: Option<f64>,
    ) -> Result<Self, Failure> {
        let mut core = Core::default()
            .with_mass(mass)?
            .with_cda(cda)?
            .with_crr(crr)?
            .with_grip(grip)?
            .with_com_height(com_height)?
            .with_com_height_landing(com_height_landing)?
            .with_wheelbase(wheelbase)?
            .with_rear_to_com(rear_to_com)?
            .with_wheel_radius(wheel_radius)?
            .with_wheel_inertia(wheel_inertia)?;
        if let Some(inertia) = inertia {
            let about = inertia.named("inertia")?;
            core = core.with_inertia(Inertia::new(about.x, about.y, about.z)?);
        }
        if let Some(absorber) = absorber {
            core = core.with_absorber(absorber.core)?;
        }
        Ok(Self { core })
    }

    /// The rider on a trail bike that body mass and height suggest.
    ///
    /// Mass and inertia from body segments (de Leva 1996) and a measured bike (Moore 2012), drag by
    /// body surface (Du Bois 1916); posture is common practice. Other postures differ by 20 % and more.
    ///
    /// Args:
    ///     body_mass: kg, from 20 to 200.
    ///     body_height: m, from 1.0 to 2.3.
    ///
    /// Raises:
    ///     InputError: a number outside its range.
    ///
    /// >>> import loamline as ll
    /// >>> round(ll.Rider.typical(body_mass=75, body_height=1.75).mass, 6)
    /// 90.0
    #[staticmethod]
    #[pyo3(signature = (body_mass=75.0, body_height=1.75))]
    fn typical(body_mass: f64, body_height: f64) -> Result<Self, Failure> {
        Ok(Self { core: Core::typical(body_mass, body_height)? })
    }

    /// What bike and body take in a landing: of a touchdown, or by fall height or speed, and slope.
    ///
    /// Args:
    ///     touchdown: the moment of landing; its slope and gravity count. Or, one of:
    ///     fall_height: equivalent fall height, m, at least 0.
    ///     normal_speed: speed into the surface, m/s, at least 0.
    ///     slope_deg: of the surface, degrees, 0 to 90; None is level.
    ///     gravity: m/s^2; None is standard gravity.
    ///     chain: "bike", or "legs" for the body alone, landing on its feet.
    ///     ground_stiffness: of the ground, N/m, above 0; None is rigid.
    ///     crush_force: at which the ground is crushed and does not come back, N; None never.
    ///
    /// Raises:
    ///     InputError: a number outside its range, a touchdown without a touch, or a rider no heavier
    ///         than the bike.
    ///
    /// >>> import loamline as ll
    /// >>> round(ll.Rider().loads(fall_height=0.6).peak_bodyweights, 3)
    /// 3.2
    #[pyo3(
        signature = (
            touchdown=None, *, fall_height=None, normal_speed=None, slope_deg=None, gravity=None,
            chain="bike", ground_stiffness=None, crush_force=None,
        )
    )]
    fn loads(
        &self,
        touchdown: Option<PyRef<'_, Touchdown>>,
        fall_height: Option<f64>,
        normal_speed: Option<f64>,
        slope_deg: Option<f64>,
        gravity: Option<f64>,
        chain: &str,
        ground_stiffness: Option<f64>,
        crush_force: Option<f64>,
    ) -> Result<Loads, Failure> {
        let touchdown = touchdown.as_deref();
        Told {
            touchdown,
            fall_height,
            normal_speed,
            slope_deg,
            gravity,
            ground_stiffness,
            crush_force,
        }
        .loads(self, chain)
    }

    /// The ride over a terrain of a rigid body on two wheels with suspension and tyres.
    ///
    /// Bike and rider pitch, squat and leave the ground as the wheels do, in the plane of travel;
    /// nothing is steered, pumped or pulled up, and legs and arms do not give: loads are upper
    /// bounds.
    ///
    /// Args:
    ///     terrain: what is ridden.
    ///     air: through what.
    ///     start: level distance, m, at which the front wheel touches, settled on both wheels; or a
    ///         pose as a dict of `centre` (x, z), `pitch_deg`, `velocity` (x, z), `pitch_rate_deg`
    ///         and `travel` (rear, front), of which only `centre` is needed.
    ///     speed: along the ground at that start, m/s, from 0 to 100; a pose brings its own.
    ///     brake: (from, to, deceleration), level metres of the centre of mass and m/s^2 on the
    ///         level, each wheel by its load and no more than the grip.
    ///     tolerance: error allowed a step, from 1e-12 to 1e-3.
    ///
    /// Raises:
    ///     InputError: a hollow tighter than the wheels, a run-in shorter than the wheelbase, a
    ///         number outside its range.
    ///     RideError: numbers that do not resolve.
    ///
    /// >>> import loamline as ll
    /// >>> hill = ll.Terrain.polyline([0, 40], [4.0, 0.0])
    /// >>> ll.Rider().two_wheel_ride(hill, ll.Air(), start=2.0, speed=5.0).outcome
    /// 'rode_out'
    #[pyo3(signature = (terrain, air, *, start, speed=0.0, brake=None, tolerance=1e-9))]
    fn two_wheel_ride(
        &self,
        py: Python<'_>,
        terrain: &Terrain,
        air: &Air,
        start: &Bound<'_, PyAny>,
        speed: f64,
        brake: Option<&Bound<'_, PyAny>>,
        tolerance: f64,
    ) -> Result<TwoWheelRide, Failure> {
        let options = two_wheel::options(start, speed, brake, tolerance)?;
        let core = py.detach(|| self.core.two_wheel_ride(&terrain.core, &air.core, &options))?;
        Ok(TwoWheelRide { core })
    }

    /// Mass of rider and bike, kg.
    #[getter]
    fn mass(&self) -> f64 {
        self.core.mass()
    }

    /// Drag area, m^2.
    #[getter]
    fn cda(&self) -> f64 {
        self.core.cda()
    }

    /// Coefficient of rolling resistance.
    #[getter]
    fn crr(&self) -> f64 {
        self.core.crr()
    }

    /// Grip between tyre and surface: the side or braking force it carries over the load on it.
    #[getter]
    fn grip(&self) -> f64 {
        self.core.grip()
    }

    /// Height of the centre of mass above the tyres when riding, m.
    #[getter]
    fn com_height(&self) -> f64 {
        self.core.com_height()
    }

    /// Height of the centre of mass above the tyres at touchdown, m.
    #[getter]
    fn com_height_landing(&self) -> f64 {
        self.core.com_height_landing()
    }

    /// Wheelbase, m.
    #[getter]
    fn wheelbase(&self) -> f64 {
        self.core.wheelbase()
    }

    /// How far the centre of mass is ahead of the rear contact, m.
    #[getter]
    fn rear_to_com(&self) -> f64 {
        self.core.rear_to_com()
    }

    /// The wheels' radius, m.
    #[getter]
    fn wheel_radius(&self) -> f64 {
        self.core.wheel_radius()
    }

    /// Spin inertia of each wheel, kg m^2.
    #[getter]
    fn wheel_inertia(&self) -> f64 {
        self.core.wheel_inertia()
    }

    /// Inertia in roll, pitch and yaw about the centre of mass, kg m^2, an array of three.
    #[getter]
    fn inertia<'py>(&self, py: Python<'py>) -> Bound<'py, PyArray1<f64>> {
        vector(py, &moments(&self.core))
    }

    /// What takes up a landing between the tyres and the rider's mass.
    #[getter]
    fn absorber(&self) -> Absorber {
        Absorber { core: *self.core.absorber() }
    }

    fn __repr__(&self) -> String {
        text(&self.core)
    }
}

fn moments(core: &Core) -> Vector3<f64> {
    let inertia = core.inertia();
    Vector3::new(inertia.roll(), inertia.pitch(), inertia.yaw())
}

/// What `repr` shows of a rider.
pub fn text(core: &Core) -> String {
    words::call(
        "Rider",
        &[
            ("mass", words::float(core.mass())),
            ("cda", words::float(core.cda())),
            ("crr", words::float(core.crr())),
            ("grip", words::float(core.grip())),
            ("com_height", words::float(core.com_height())),
            ("com_height_landing", words::maybe(core.given_com_height_landing())),
            ("wheelbase", words::float(core.wheelbase())),
            ("wheel_radius", words::float(core.wheel_radius())),
            ("wheel_inertia", words::float(core.wheel_inertia())),
            ("inertia", words::tuple(moments(core).iter())),
            ("absorber", Absorber { core: *core.absorber() }.text()),
            ("rear_to_com", words::maybe(core.given_rear_to_com())),
        ],
    )
}

pickled!(Rider, Core);

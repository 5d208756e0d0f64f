//! What crosses as plain values: air, rider, launch, landing, touchdown.

use crate::border::{Failure, LoamlineStatus, guard, write};
use loamline::ground::Landing;
use loamline::launch::Launch;
use loamline::math::{Vec2, Vec3};
use loamline::touchdown::{TouchOutcome, Touchdown};
use loamline::{Air, Rider};

/// The air and gravity at a site. Not-a-number stands for "not given".
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoamlineAir {
    /// Above the sea, m, from -5000 to 11000.
    pub elevation: f64,
    /// Degrees Celsius, from -90 to 60; NaN takes the standard atmosphere's.
    pub temperature_c: f64,
    /// kg/m^3; NaN follows elevation and temperature (ISO 2533).
    pub density: f64,
    /// The air's velocity, m/s: where it blows to.
    pub wind: [f64; 3],
    /// m/s^2.
    pub gravity: f64,
}

/// Rider and bike together. Not-a-number stands for "not given".
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoamlineRider {
    /// Of rider and bike, kg.
    pub mass: f64,
    /// Drag area, m^2.
    pub cda: f64,
    /// Coefficient of rolling resistance.
    pub crr: f64,
    /// Side force over load that tyre and surface carry; infinity never slides.
    pub grip: f64,
    /// Height of the centre of mass above the tyres when riding, m.
    pub com_height: f64,
    /// The same at touchdown, m; NaN keeps that when riding.
    pub com_height_landing: f64,
    /// m.
    pub wheelbase: f64,
    /// m.
    pub wheel_radius: f64,
}

/// A launch by hand: place and velocity of the centre of mass.
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoamlineLaunch {
    /// m.
    pub position: [f64; 3],
    /// m/s.
    pub velocity: [f64; 3],
}

/// An earth landing: a straight face under a crest line.
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoamlineLanding {
    /// Middle of the crest line, x and y, m.
    pub crest: [f64; 2],
    /// In which the face falls, radians.
    pub heading: f64,
    /// Of the face below level, radians.
    pub slope: f64,
    /// Level, from crest line to foot, m.
    pub length: f64,
    /// Of the face, m.
    pub width: f64,
}

/// How a flight came out.
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoamlineOutcome {
    /// Touched ground without a landing on it.
    Landed = 0,
    /// Touched the landing's face.
    Caught = 1,
    /// Touched before the landing's crest.
    Short = 2,
    /// Touched past the landing's foot.
    Long = 3,
    /// Touched beside the landing's face.
    Wide = 4,
    /// Never cleared the ground at the launch.
    RolledOff = 5,
    /// Left the plan in which the ground is known.
    OffSurvey = 6,
    /// Found no ground within 60 s.
    NoTouchdown = 7,
    /// The launch has a number that is not finite, or no path could be computed.
    BadLaunch = 8,
}

/// The moment of landing. Numbers are NaN where there was no touch.
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoamlineTouchdown {
    /// How the flight came out.
    pub outcome: LoamlineOutcome,
    /// From the launch to the end, s.
    pub time: f64,
    /// The tyres' mark, where a flag would be planted, m.
    pub mark: [f64; 3],
    /// Of the centre of mass, m/s.
    pub velocity: [f64; 3],
    /// Unit vector from the touched place to the centre of mass.
    pub normal: [f64; 3],
    /// Into the surface, m/s.
    pub normal_speed: f64,
    /// Equivalent fall height, m: the plain drop onto level ground that comes down as hard.
    pub fall_height: f64,
    /// Between path and surface, radians.
    pub angle: f64,
    /// Level, from the launch to the mark, m.
    pub distance: f64,
    /// How far the mark is below the launch, m.
    pub drop: f64,
}

/// Writes the standard atmosphere at sea level without wind.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_air_default(out: *mut LoamlineAir) -> LoamlineStatus {
    let air = Air::standard();
    let value = LoamlineAir {
        elevation: 0.0,
        temperature_c: f64::NAN,
        density: f64::NAN,
        wind: [0.0; 3],
        gravity: air.gravity(),
    };
    // SAFETY: the contract of this crate.
    guard(|| unsafe { write(out, "out", value) })
}

/// Writes the rider that a first look needs: 90 kg with the bike.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_rider_default(out: *mut LoamlineRider) -> LoamlineStatus {
    // SAFETY: the contract of this crate.
    guard(|| unsafe { write(out, "out", LoamlineRider::of(&Rider::default())) })
}

/// Writes the rider on a trail bike that body mass, kg, and height, m, suggest.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_rider_typical(
    body_mass: f64,
    body_height: f64,
    out: *mut LoamlineRider,
) -> LoamlineStatus {
    guard(|| {
        let rider = Rider::typical(body_mass, body_height).map_err(Failure::bad_input)?;
        // SAFETY: the contract of this crate.
        unsafe { write(out, "out", LoamlineRider::of(&rider)) }
    })
}

impl LoamlineAir {
    pub(crate) fn core(&self) -> Result<Air, Failure> {
        let air = Air::standard()
            .with_elevation(self.elevation)
            .and_then(|air| air.with_wind(Vec3::from(self.wind)))
            .and_then(|air| air.with_gravity(self.gravity));
        let air = match given(self.temperature_c) {
            Some(celsius) => air.and_then(|air| air.with_temperature_c(celsius)),
            None => air,
        };
        let air = match given(self.density) {
            Some(density) => air.and_then(|air| air.with_density(density)),
            None => air,
        };
        air.map_err(Failure::bad_input)
    }
}

impl LoamlineRider {
    fn of(rider: &Rider) -> Self {
        Self {
            mass: rider.mass(),
            cda: rider.cda(),
            crr: rider.crr(),
            grip: rider.grip(),
            com_height: rider.com_height(),
            com_height_landing: f64::NAN,
            wheelbase: rider.wheelbase(),
            wheel_radius: rider.wheel_radius(),
        }
    }

    pub(crate) fn core(&self) -> Result<Rider, Failure> {
        Rider::default()
            .with_mass(self.mass)
            .and_then(|rider| rider.with_cda(self.cda))
            .and_then(|rider| rider.with_crr(self.crr))
            .and_then(|rider| rider.with_grip(self.grip))
            .and_then(|rider| rider.with_com_height(self.com_height))
            .and_then(|rider| rider.with_com_height_landing(given(self.com_height_landing)))
            .and_then(|rider| rider.with_wheelbase(self.wheelbase))
            .and_then(|rider| rider.with_wheel_radius(self.wheel_radius))
            .map_err(Failure::bad_input)
    }
}

impl LoamlineLaunch {
    pub(crate) fn core(&self) -> Result<Launch, Failure> {
        Launch::by_hand(self.position.into(), self.velocity.into()).map_err(Failure::bad_input)
    }
}

impl LoamlineLanding {
    pub(crate) fn core(&self) -> Result<Landing, Failure> {
        let crest = Vec2::from(self.crest);
        Landing::new(crest, self.heading, self.slope, self.length, self.width)
            .map_err(Failure::bad_input)
    }
}

impl LoamlineTouchdown {
    /// A row that has no touch.
    pub(crate) const fn none(outcome: LoamlineOutcome, time: f64) -> Self {
        let nothing = [f64::NAN; 3];
        Self {
            outcome,
            time,
            mark: nothing,
            velocity: nothing,
            normal: nothing,
            normal_speed: f64::NAN,
            fall_height: f64::NAN,
            angle: f64::NAN,
            distance: f64::NAN,
            drop: f64::NAN,
        }
    }

    pub(crate) fn of(touchdown: &Touchdown) -> Self {
        let none = Self::none(LoamlineOutcome::of(touchdown.outcome), touchdown.time);
        let Some(contact) = &touchdown.contact else { return none };
        Self {
            mark: contact.mark.into(),
            velocity: contact.velocity.into(),
            normal: contact.normal.into(),
            normal_speed: contact.normal_speed,
            fall_height: contact.fall_height,
            angle: contact.angle,
            distance: contact.distance,
            drop: contact.drop,
            ..none
        }
    }
}

impl LoamlineOutcome {
    fn of(outcome: TouchOutcome) -> Self {
        match outcome {
            TouchOutcome::Landed => Self::Landed,
            TouchOutcome::Caught => Self::Caught,
            TouchOutcome::Short => Self::Short,
            TouchOutcome::Long => Self::Long,
            TouchOutcome::Wide => Self::Wide,
            TouchOutcome::RolledOff => Self::RolledOff,
            TouchOutcome::OffSurvey => Self::OffSurvey,
            // The core's outcomes may grow; a new one has no touch until it is named here.
            _ => Self::NoTouchdown,
        }
    }
}

fn given(value: f64) -> Option<f64> {
    (!value.is_nan()).then_some(value)
}

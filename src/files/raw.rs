//! A site file as it is written: the keys of the TOML, and by derivation the JSON Schema.

use super::fault::Fault;
use super::quantity::{Length, Metres, Reach, Speed};
use crate::math::Vec3;
use crate::site::{self, Site};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use absorber::Absorber;
use air::Air;
use deck::Drop;
use landing::Landing;
use lip::Lip;
use piece::Piece;
use riders::Riders;
use soil::{Barrows, Soil};
use spread::Value;
use takeoff::Tables;
use wall::Wall;

mod absorber;
mod air;
mod deck;
mod landing;
mod lip;
mod piece;
mod riders;
mod soil;
mod spread;
mod takeoff;
mod wall;

/// The version of the format that this release reads and writes.
pub(super) const VERSION: i64 = 1;

/// A site: its ground, its takeoff, its riders, and what there is to build a landing with.
///
/// Lengths in metres, masses in kilograms, times in seconds; angles in degrees, in keys that end in `_deg`.
/// The site frame is right-handed with z up; headings turn counter-clockwise from the x axis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Loamline site file")]
pub(super) struct SiteFile {
    /// The version of the format.
    #[schemars(extend("minimum" = 1, "maximum" = 1))]
    pub(super) version: i64,
    /// What the site is called.
    pub(super) site: Head,
    /// The air; without it the standard atmosphere at sea level, no wind.
    #[serde(default)]
    pub(super) air: Air,
    /// Named marks on the site, such as stakes to tape from.
    #[serde(default, rename = "mark", skip_serializing_if = "Vec::is_empty")]
    pub(super) marks: Vec<Mark>,
    /// The ground as surveyed.
    pub(super) survey: Survey,
    /// The run-in from the hill to the takeoff.
    pub(super) run_in: RunIn,
    /// The wall that is ridden and left; or give `lip` or `drop`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) wall: Option<Wall>,
    /// The lip that is ridden and left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) lip: Option<Lip>,
    /// The drop that is ridden and left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) drop: Option<Drop>,
    /// How a wall is ridden; only with a wall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) ride: Option<Ride>,
    /// The classes of riders who come down the hill; their weights add up to 1.
    #[schemars(length(min = 1))]
    pub(super) riders: Vec<Riders>,
    /// The earth.
    #[serde(default)]
    pub(super) soil: Soil,
    /// The earth at hand, by the barrow.
    pub(super) barrows: Barrows,
    /// What a landing may be.
    pub(super) landing: Landing,
}

/// What a site is called and what is to be known about it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Head {
    /// The name of the site.
    pub(super) name: String,
    /// What is to be known about the site, in words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) note: String,
    /// Whether the site is invented: an example, not a place.
    #[serde(default)]
    pub(super) invented: bool,
}

/// A named mark: a nail, a stake, a painted stone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Mark {
    /// Its name, as painted on it.
    pub(super) name: String,
    /// Where it stands: x, y, z.
    pub(super) position: [Metres; 3],
}

/// The ground as surveyed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Survey {
    /// The table of points, header `x,y,z`, relative to the site file's folder.
    pub(super) points: String,
}

/// The run-in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct RunIn {
    /// The table of the profile, header `distance,height`, relative to the site file's folder: level distance along the
    /// travel and height, from the top to the takeoff. Only differences of height count: the end is set where the tyres come
    /// onto it.
    pub(super) profile: String,
    /// The radius that rounds straight pieces between the points; a smooth curve through them where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) corner_radius: Option<Length>,
    /// The speed above which nobody comes onto the takeoff, m/s: what a speed check before it holds everybody to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) speed_check: Option<Speed>,
}

/// How the wall is ridden.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Ride {
    /// How far up the panel from its foot the tyres come onto the wall.
    pub(super) enter: Reach,
    /// How far up the panel from its foot riders leave at most: what a rail or a painted line there holds them to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) leave_at_most: Option<Length>,
}

impl SiteFile {
    /// The keys for a site whose tables go by these names.
    pub(super) fn of(site: &Site, survey: &str, profile: &str) -> Self {
        let mark = |mark: &site::Mark| Mark {
            name: mark.name.clone(),
            position: <[f64; 3]>::from(mark.position).map(Metres),
        };
        let takeoff = Tables::of(site);
        Self {
            version: VERSION,
            site: Head {
                name: site.name.clone(),
                note: site.note.clone(),
                invented: site.invented,
            },
            air: Air::of(&site.air, site.wind.as_ref()),
            marks: site.marks.iter().map(mark).collect(),
            survey: Survey { points: survey.into() },
            run_in: RunIn {
                profile: profile.into(),
                corner_radius: site.run_in.corner_radius.map(Length),
                speed_check: site.run_in.speed_check.map(Speed),
            },
            wall: takeoff.wall,
            lip: takeoff.lip,
            drop: takeoff.drop,
            ride: takeoff.ride,
            riders: site.classes.iter().map(Riders::of).collect(),
            soil: Soil::of(&site.soil),
            barrows: Barrows::of(site.barrow, site.barrow_count),
            landing: Landing::of(&site.landing, site.fall_limit),
        }
    }

    /// The site, with the points of its tables.
    pub(super) fn site(
        &self,
        survey: Vec<Vec3>,
        (distance, height): (Vec<f64>, Vec<f64>),
    ) -> Result<Site, Fault> {
        let mark = |mark: &Mark| site::Mark {
            name: mark.name.clone(),
            position: Vec3::from(mark.position.map(f64::from)),
        };
        let (takeoff, enter) = self.takeoff()?;
        let class = |(at, riders): (usize, &Riders)| {
            riders.class(&takeoff).map_err(|fault| fault.within(&format!("riders[{at}]")))
        };
        let classes = self.riders.iter().enumerate().map(class).collect::<Result<_, _>>()?;
        let (air, wind) = self.air.air().map_err(|fault| fault.within("air"))?;
        let corner_radius = self.run_in.corner_radius.map(f64::from);
        let speed_check = self.run_in.speed_check.map(f64::from);
        Ok(Site {
            name: self.site.name.clone(),
            note: self.site.note.clone(),
            invented: self.site.invented,
            air,
            wind,
            marks: self.marks.iter().map(mark).collect(),
            survey,
            run_in: site::RunIn { distance, height, corner_radius, speed_check },
            takeoff,
            enter,
            leave_at_most: self.ride.as_ref().and_then(|ride| ride.leave_at_most).map(f64::from),
            classes,
            soil: self.soil.soil().map_err(|fault| fault.within("soil"))?,
            barrow: self.barrows.barrow().map_err(|fault| fault.within("barrows"))?,
            barrow_count: self.barrows.count,
            landing: self.landing.bounds().map_err(|fault| fault.within("landing"))?,
            fall_limit: self.landing.fall_limit.0,
        })
    }

    /// The names of a kind of things, in order: marks, classes, keep-outs, or else obstacles; empty of what has none.
    pub(super) fn names(&self, kind: &str) -> Vec<&str> {
        match kind {
            "keep-out" => {
                let outs = self.landing.keep_outs.iter();
                outs.map(|keep_out| keep_out.name.as_deref().unwrap_or_default()).collect()
            }
            "mark" => self.marks.iter().map(|mark| mark.name.as_str()).collect(),
            "class" => self.riders.iter().map(|riders| riders.name.as_str()).collect(),
            _ => self.landing.obstacles.iter().map(|obstacle| obstacle.name.as_str()).collect(),
        }
    }
}

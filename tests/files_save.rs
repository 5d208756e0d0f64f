//! Sites written and read back, and what a landing is written as.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use loamline::earth::Spread;
use loamline::feature::{Bank, Drop, Lip, Wall};
use loamline::files::{demo_site, load_site, save_site, site_schema, write_stakes};
use loamline::geometry::{Bend, Piece, Plan, Turn, VerticalCurve};
use loamline::ground::{BuiltLanding, Landing};
use loamline::math::{Vec2, Vec3};
use loamline::rider::{Absorber, Inertia};
use loamline::site::{Dist, KeepOut, Site, Takeoff};
use std::fs;
use std::path::Path;

fn there_and_back(site: &Site) -> Site {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("saved.toml");
    save_site(&path, site).unwrap();
    assert_eq!(names_in(folder.path()), ["saved-run-in.csv", "saved-survey.csv", "saved.toml"]);
    load_site(&path).unwrap()
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<_> =
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// A site with every key that the demo does without.
fn unlike_the_demo() -> Site {
    let mut site = demo_site().unwrap();
    let deg = f64::to_radians;
    let pieces = vec![
        Piece::Straight { length: 1.5 },
        Piece::Clothoid { length: 2.0, radius_start: f64::INFINITY, radius_end: 7.5 },
        Piece::Arc { radius: 7.5, angle: deg(41.3) },
    ];
    let plan = Plan::new(pieces, Turn::Left).unwrap();
    let rows = [(0.0, deg(20.1)), (4.0, deg(40.0)), (12.0, deg(66.6))];
    let wall = Wall::new(plan, Bank::stations(&rows).unwrap(), 2.6).unwrap();
    site.takeoff = wall.with_end_skew(deg(-7.3)).unwrap().with_hollow(7.25).unwrap().into();
    site.wind = None;
    let air = site.air.with_wind([1.5, -0.3, 0.0].into()).unwrap();
    site.air = air.with_density(1.19).unwrap().with_gravity(9.81).unwrap();
    site.run_in.corner_radius = Some(4.0);
    let swell = Spread::new(0.2, 0.1, 0.3).unwrap();
    let stand_up = Spread::new(deg(33.0), deg(21.0), deg(45.5)).unwrap();
    site.soil = site.soil.with_swell(swell).unwrap().with_stand_up(stand_up).unwrap();
    site.landing.area.clear();
    let corner = |x, y| Vec2::new(x, y);
    let around = vec![corner(8.0, -5.0), corner(12.0, -5.0), corner(9.5, -1.25)];
    site.landing.keep_outs = vec![
        KeepOut { name: Some("roots".into()), corners: around.clone() },
        KeepOut { name: None, corners: around },
    ];
    let class = &mut site.classes[1];
    class.brake = Dist::Normal { mean: 0.3, sd: 0.1, low: Some(0.0), high: None };
    class.pop = Dist::Fixed(0.25);
    let absorber = Absorber { leg_stroke: 0.41, ..Absorber::rigid() };
    let rider = class.rider.clone().with_absorber(absorber).unwrap();
    let rider = rider.with_inertia(Inertia::new(12.5, 17.0, 9.0).unwrap());
    let rider = rider.with_grip(f64::INFINITY).unwrap().with_rear_to_com(Some(0.5)).unwrap();
    class.rider = rider.with_com_height_landing(Some(0.93)).unwrap();
    site
}

#[test]
fn a_site_comes_back_as_it_was() {
    let demo = demo_site().unwrap();
    assert_eq!(there_and_back(&demo), demo);
    let other = unlike_the_demo();
    assert_eq!(there_and_back(&other), other);
}

/// The demo with another takeoff, given as `takeoff` says in degrees.
fn with_takeoff(takeoff: impl Into<Takeoff>) -> Site {
    let mut site = demo_site().unwrap();
    site.takeoff = takeoff.into();
    site.enter = 0.0;
    for class in &mut site.classes {
        class.leave = Dist::Uniform { low: -0.25, high: 0.3 };
    }
    site
}

#[test]
fn a_site_with_a_lip_or_a_drop_comes_back_as_it_was() {
    let deg = f64::to_radians;
    let place = |x: f64| Vec3::new(x, -0.6, 0.05);
    let arc = VerticalCurve::arc(0.0, 5.2, deg(23.3)).unwrap();
    let arc = Lip::new(arc, 1.6).unwrap().placed(place(-2.1), deg(14.2)).unwrap();
    let pieces = vec![
        (Bend::Up, Piece::Clothoid { length: 1.1, radius_start: f64::INFINITY, radius_end: 4.5 }),
        (Bend::Up, Piece::Arc { radius: 4.5, angle: deg(13.7) }),
        (Bend::Up, Piece::Straight { length: 0.4 }),
        (Bend::Down, Piece::Arc { radius: 8.0, angle: deg(1.3) }),
    ];
    let shaped = Lip::new(VerticalCurve::new(-0.07, pieces).unwrap(), 1.8).unwrap();
    let shaped = shaped.with_hip(deg(-21.1)).unwrap().with_end_skew(deg(9.4)).unwrap();
    let drop = Drop::new(2.4, 1.2, -0.03).unwrap().placed(place(-2.0), deg(14.2)).unwrap();
    for takeoff in [
        Takeoff::from(arc.clone()),
        arc.with_tilt(deg(5.5), deg(5.5)).unwrap().into(),
        shaped.with_tilt(deg(0.0), deg(12.3)).unwrap().into(),
        drop.clone().into(),
        drop.with_end_skew(deg(-31.0)).unwrap().into(),
    ] {
        let site = with_takeoff(takeoff);
        assert_eq!(there_and_back(&site), site);
    }
}

#[test]
fn a_site_that_is_none_leaves_no_file_and_keeps_the_old_ones() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("saved.toml");
    let mut site = demo_site().unwrap();
    site.fall_limit = f64::NAN;
    let error = save_site(&path, &site).unwrap_err().to_string();
    assert!(error.contains("landing.fall_limit = NaN") && error.contains("above 0"), "{error}");
    assert!(names_in(folder.path()).is_empty());
    save_site(&path, &demo_site().unwrap()).unwrap();
    let before = fs::read_to_string(&path).unwrap();
    assert!(save_site(&path, &site).is_err());
    assert_eq!(fs::read_to_string(&path).unwrap(), before);
}

#[test]
fn a_place_that_cannot_be_written_leaves_no_file_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("saved.toml");
    fs::create_dir(&path).unwrap();
    let error = save_site(&path, &demo_site().unwrap()).unwrap_err().to_string();
    assert!(error.contains("saved.toml: cannot be written: a folder stands"), "{error}");
    assert_eq!(names_in(folder.path()), ["saved.toml"]);
}

#[test]
fn the_schema_in_the_tree_is_the_one_the_code_prints() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/files/site.schema.json");
    let printed = site_schema();
    if std::env::var_os("LOAMLINE_WRITE_SCHEMA").is_some() {
        loamline::files::write_text(path, &printed).unwrap();
    }
    assert_eq!(fs::read_to_string(path).unwrap(), printed);
    let schema: serde_json::Value = serde_json::from_str(&printed).unwrap();
    let wall = &schema["$defs"]["Wall"]["properties"];
    assert!(wall["radius"].is_object() && wall["bank_deg"].is_object());
}

fn built() -> (Site, BuiltLanding) {
    let site = demo_site().unwrap();
    let heading = 10_f64.to_radians();
    let landing = Landing::new(Vec2::new(3.0, 0.0), heading, 20_f64.to_radians(), 3.0, 2.0);
    let built = landing.unwrap().resolve(&site.ground().unwrap()).unwrap();
    (site, built)
}

#[test]
fn stakes_can_be_taped_from_both_marks() {
    let (site, built) = built();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stakes.csv");
    write_stakes(&path, &built, &site, ["oak peg", "iron pin"], 1.0).unwrap();
    let mut table = csv::Reader::from_path(&path).unwrap();
    let header = table.headers().unwrap().iter().collect::<Vec<_>>().join(",");
    let wanted = "marks,station,offset,height,ground,fill,cut,from oak peg,from iron pin";
    assert_eq!(header, wanted);
    let rows: Vec<Vec<f64>> = table
        .records()
        .map(|row| row.unwrap().iter().skip(1).map(|field| field.parse().unwrap()).collect())
        .collect();
    assert_eq!(rows.len(), built.stakes(1.0).unwrap().len());
    for row in rows {
        let place = built.landing().plan(row[0], row[1]);
        for (mark, tape) in site.marks.iter().zip(&row[6..]) {
            assert!(((mark.position.xy() - place).norm() - tape).abs() < 2e-3);
        }
        assert!((row[2] - row[3] - row[4] + row[5]).abs() < 2e-3, "{row:?}");
        assert!(row[4] >= 0.0 && row[5] >= 0.0 && row[4].min(row[5]) < 1e-9);
    }
}

#[test]
fn stakes_that_cannot_be_taped_are_refused_and_leave_no_file() {
    let (site, built) = built();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stakes.csv");
    let told =
        |from, spacing| write_stakes(&path, &built, &site, from, spacing).unwrap_err().to_string();
    let unknown = told(["oak peg", "elm"], 1.0);
    assert!(unknown.contains("mark \"elm\"") && unknown.contains("\"painted stone\""), "{unknown}");
    assert!(told(["oak peg", "oak peg"], 1.0).contains("0 m apart: expected at least 0.1 m"));
    assert!(told(["oak peg", "iron pin"], 0.0).contains("spacing = 0 is out of range"));
    assert!(names_in(folder.path()).is_empty());
}

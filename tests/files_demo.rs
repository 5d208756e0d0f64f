//! The demo site: what it promises to hold, and what comes down on it.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use loamline::files::{demo_files, demo_site, load_site};
use loamline::math::parallel::Crew;
use loamline::passes::{Passes, Way};
use loamline::ride::Lean;
use loamline::site::Site;
use std::fs;

const CREW: Crew = Crew { threads: None, watch: None };

fn passes(site: &Site) -> Passes {
    site.passes(1000, 5, &CREW).unwrap()
}

#[test]
fn it_has_its_points_its_barrows_and_its_classes() {
    let site = demo_site().unwrap();
    assert_eq!((site.survey.len(), site.barrow_count, site.classes.len()), (61, 48, 3));
    assert!(site.invented && site.note.contains("Invented"));
    assert!((site.fall_limit - 1.0).abs() < 1e-12);
    assert!(site.marks.len() >= 2 && !site.landing.obstacles.is_empty());
}

#[test]
fn nearly_all_leave_and_come_down_on_the_survey() {
    let site = demo_site().unwrap();
    let passes = passes(&site);
    let leaving = passes.share_leaving();
    assert!(leaving >= 0.95, "{leaving} leave: {:?}", passes.reasons());
    let landed = passes.members().iter().filter(|pass| pass.contact().is_some());
    let landed: f64 = landed.map(|pass| pass.drawn.weight).sum();
    assert!(landed >= 0.99 * leaving, "{landed} of {leaving} come down on the survey");
}

#[test]
fn on_the_bare_ground_they_come_down_hard_and_some_metres_off() {
    let site = demo_site().unwrap();
    let ground = site.ground().unwrap();
    for pass in passes(&site).members() {
        let (Some(contact), Some(leave)) = (pass.contact(), pass.leave) else { continue };
        let deck = pass.way(Lean::Deck).and_then(Way::contact).unwrap().fall_height;
        assert!((0.7..2.3).contains(&deck), "falls {deck}");
        assert!((deck..2.6).contains(&contact.fall_height), "falls {}", contact.fall_height);
        assert!((2.5..8.0).contains(&contact.distance), "flies {}", contact.distance);
        let edge = site.takeoff.edge(leave);
        let height = edge.z - ground.height(edge.x, edge.y).unwrap();
        assert!((0.6..1.9).contains(&height), "leaves {height} above the ground");
    }
}

#[test]
fn marks_and_what_stays_stand_on_the_survey() {
    let site = demo_site().unwrap();
    let ground = site.ground().unwrap();
    for mark in &site.marks {
        let over = mark.position.z - ground.height(mark.position.x, mark.position.y).unwrap();
        assert!((0.0..0.15).contains(&over), "{} stands {over} m over the ground", mark.name);
    }
    let stays = |place: &loamline::math::Vec2| ground.contains(place.x, place.y);
    assert!(site.landing.obstacles.iter().all(|obstacle| stays(&obstacle.position)));
    assert!(site.landing.area.iter().all(stays));
}

#[test]
fn its_files_in_a_folder_load_as_the_same_site() {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in demo_files() {
        fs::write(folder.path().join(name), text).unwrap();
    }
    let loaded = load_site(folder.path().join(demo_files()[0].0)).unwrap();
    assert_eq!(loaded, demo_site().unwrap());
}

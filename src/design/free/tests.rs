use super::patch::Patch;
use super::pull::{Pull, Ways};
use super::*;
use crate::air::Air;
use crate::flight::Flight;
use crate::launch::Launch;
use crate::math::Vec3;
use crate::rider::Rider;
use approx::assert_relative_eq;

const COUNT: i32 = 120;

/// Flights of many speeds and headings over a slope, invented.
fn launches() -> Vec<Launch> {
    let launch = |i: i32| {
        let (i, j) = (f64::from(i) / f64::from(COUNT), f64::from(i % 7) / 7.0);
        let velocity = Vec3::new(3.5 + 3.0 * i, 1.4 * j - 0.7, 1.0 + 0.5 * j);
        Launch::by_hand(Vec3::new(0.0, 0.0, 2.0), velocity).unwrap()
    };
    (0..COUNT).map(launch).collect()
}

fn flown(ground: &Ground) -> Vec<Flight> {
    let rider = Rider::default().with_com_height_landing(Some(0.8)).unwrap();
    let fly = |launch: &Launch| launch.flight(ground, &rider, &Air::standard()).unwrap();
    launches().iter().map(fly).collect()
}

fn fall_heights(flights: &[Flight]) -> Vec<f64> {
    flights.iter().map(|flight| flight.touchdown().contact.unwrap().fall_height).collect()
}

fn slope() -> Ground {
    Ground::plane(Vec3::new(0.0, 0.0, -0.4), 0.1, 0.2).unwrap()
}

/// A patch over where they come down, and lumpy earth on it: cells, edges and corners are all touched.
fn lumpy() -> (Patch, Vec<f64>) {
    let marks: Vec<Vec2> = flown(&slope())
        .iter()
        .map(|flight| flight.touchdown().contact.unwrap().mark.xy())
        .collect();
    let patch = Patch::around(&marks, &slope(), None, &FreeOptions::new(1.0).unwrap()).unwrap();
    let lump = |node: usize| {
        let at = patch.place(node);
        0.12 + 0.05 * (2.1 * at.x).sin() * (1.7 * at.y + 0.4).cos()
    };
    let earth = (0..patch.bare().len()).map(|node| patch.unknown(node).map_or(0.0, |_| lump(node)));
    let earth = earth.collect();
    (patch, earth)
}

/// The derivative of the sum of squares along a direction, against central differences of whole flights.
#[test]
fn the_gradient_is_that_of_whole_flights() {
    let (patch, earth) = lumpy();
    let flights = flown(&patch.built(&slope(), &earth).unwrap());
    let pulls: Vec<Pull> =
        flights.iter().map(|flight| Pull::of(flight, &patch, &earth).unwrap()).collect();
    let edges = pulls.iter().filter(|pull| pull.by_node.len() == 2).count();
    assert!(edges > 5, "{edges} on edges");
    for turn in 0..5 {
        let way = |unknown: usize| (1.3 * unknown as f64 + f64::from(turn)).sin();
        let step: Vec<f64> = (0..patch.unknowns()).map(way).collect();
        let square = |pull: &Pull| 2.0 * pull.fall_height * pull.change(&step);
        let along = pulls.iter().map(square).sum::<f64>() / f64::from(COUNT);
        let severity = |by: f64| {
            let moved = earth.iter().enumerate().map(|(node, earth)| {
                earth + patch.unknown(node).map_or(0.0, |unknown| by * way(unknown))
            });
            let ground = patch.built(&slope(), &moved.collect::<Vec<f64>>()).unwrap();
            let falls = fall_heights(&flown(&ground));
            falls.iter().map(|fall| fall * fall).sum::<f64>() / f64::from(COUNT)
        };
        // Fourth order, so that the difference's own error does not count.
        let by = 1e-5;
        let central = |by: f64| (severity(by) - severity(-by)) / (2.0 * by);
        let found = (4.0 * central(by) - central(2.0 * by)) / 3.0;
        assert_relative_eq!(along, found, max_relative = 1e-6, epsilon = 1e-8);
    }
}

#[test]
fn a_step_keeps_to_what_is_allowed() {
    let (patch, _) = lumpy();
    let options = FreeOptions::new(0.4).unwrap().with_radius(3.0).unwrap();
    let bare = vec![0.0; patch.bare().len()];
    let flights = flown(&patch.built(&slope(), &bare).unwrap());
    let rider = |flight: &Flight| Ways {
        ways: vec![Pull::of(flight, &patch, &bare).unwrap()],
        share: 1.0 / f64::from(COUNT),
    };
    let riders: Vec<Ways> = flights.iter().map(rider).collect();
    let step = program::step(&patch, &options, &bare, &riders, 0.05).unwrap();
    let now: f64 = riders.iter().map(Ways::severity).sum();
    assert!(program::expected(&riders, &step) < 0.98 * now);
    assert!(step.iter().all(|d| (-1e-7..=0.05 + 1e-7).contains(d)));
    let square = patch.spacing() * patch.spacing();
    let volume = step.iter().sum::<f64>() * square;
    assert!(volume <= 0.4 + 1e-6, "{volume}");
    let at = |node: Option<usize>| {
        node.and_then(|node| patch.unknown(node)).map_or(0.0, |unknown| step[unknown])
    };
    for node in 0..bare.len() {
        for way in [(1, 0), (0, 1)] {
            let back = patch.stepped(node, (-way.0, -way.1));
            let bend = at(back) - 2.0 * at(Some(node)) + at(patch.stepped(node, way));
            assert!(bend.abs() <= square / 3.0 + 1e-6, "{bend}");
        }
    }
}

#[test]
fn wrong_numbers_are_named() {
    let plain = FreeOptions::new(1.0).unwrap();
    for wrong in [f64::NAN, -1.0, 0.0, f64::INFINITY] {
        assert_eq!(FreeOptions::new(wrong).unwrap_err().field, "volume");
        assert_eq!(plain.with_spacing(wrong).unwrap_err().field, "spacing");
        assert_eq!(plain.with_radius(wrong).unwrap_err().field, "radius");
        assert_eq!(plain.with_steepest(wrong).unwrap_err().field, "steepest");
        assert_eq!(plain.with_margin(wrong).unwrap_err().field, "margin");
    }
    assert_eq!(plain.with_steps(0).unwrap_err().field, "steps");
    let marks = [Vec2::zeros(), Vec2::new(300.0, 300.0)];
    let fine = Patch::around(&marks, &slope(), None, &plain).unwrap_err();
    assert!(matches!(fine, FreeLandingError::TooFine { .. }));
    let table = Ground::grid(Vec2::zeros(), Vec2::repeat(0.1), 3, 3, vec![0.0; 9]).unwrap();
    let small = Patch::around(&[Vec2::repeat(0.1)], &table, None, &plain).unwrap_err();
    assert!(matches!(small, FreeLandingError::NoRoom { .. }));
    // Known ground on one side only: the grid ends where it does.
    let half = Ground::grid(Vec2::new(0.0, -9.0), Vec2::repeat(9.0), 3, 3, vec![0.0; 9]).unwrap();
    let trimmed = Patch::around(&[Vec2::new(0.5, 0.0)], &half, None, &plain).unwrap();
    assert!(trimmed.origin().x >= 0.0 && trimmed.unknowns() > 10);
}

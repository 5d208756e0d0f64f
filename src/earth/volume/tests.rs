use super::*;
use crate::{ground::Landing, math::Vec3};
use std::f64::consts::PI;

fn level() -> Ground {
    Ground::plane(Vec3::zeros(), 0.0, 0.0).expect("a plane")
}

fn landing(slope: f64, length: f64, width: f64) -> Landing {
    Landing::new(Vec2::new(3.0, -2.0), 0.7, slope, length, width)
        .and_then(|l| l.with_crest_radius(0.0))
        .expect("a landing")
}

/// A grid of heights from a function, as a ground.
fn grid(step: f64, cells: usize, height: impl Fn(f64, f64) -> f64) -> Ground {
    let low = -0.5 * step * cells as f64;
    let mut heights = Vec::new();
    for row in 0..=cells {
        for column in 0..=cells {
            heights.push(height(low + step * column as f64, low + step * row as f64));
        }
    }
    Ground::grid(Vec2::repeat(low), Vec2::repeat(step), cells + 1, cells + 1, heights)
        .expect("a grid")
}

/// The area of a cone's base between facets that touch it 4 degrees apart, over its square radius.
fn facet_area(turn: f64) -> f64 {
    let pieces = (turn / crate::ground::landing::FACET).ceil();
    pieces * (0.5 * turn / pieces).tan()
}

/// A flat deck `h` above level ground with batters all round: box, four wedges and a cone.
#[test]
fn plateau_is_box_wedges_and_cone() {
    let (h, length, width, batter) = (1.3, 4.0, 2.5, 0.6_f64);
    let landing = landing(0.0, length, width)
        .with_batter(batter)
        .and_then(|l| l.with_crest_height(Some(h)))
        .expect("a landing");
    let reach = h / batter.tan();
    let cone = 4.0 * facet_area(0.5 * PI) * reach * reach * h / 3.0;
    let by_hand = length * width * h + (length + width) * reach * h + cone;
    let built = landing.resolve(&level()).expect("built");
    let volume = built.volume().expect("a volume");
    assert!((volume.fill - by_hand).abs() < 1e-10 * by_hand, "{} {by_hand}", volume.fill);
    assert!(volume.cut.abs() < 1e-12);
    let base = length * width
        + 2.0 * (length + width) * reach
        + 4.0 * facet_area(0.5 * PI) * reach * reach;
    assert!((volume.fill_area - base).abs() < 1e-9 * base);
    assert!(
        (cone / (PI * reach * reach * h / 3.0) - 1.0).abs() < 5e-4,
        "a round cone but for facets"
    );
}

/// A sharp crest on level ground whose foot meets it: wedge of the face, wedge of the back, and
/// a pyramid and part cones on each side.
#[test]
fn wedge_with_sides_by_hand() {
    let (slope, length, width, batter) = (0.4_f64, 5.0, 3.0, 0.6_f64);
    let landing = landing(slope, length, width).with_batter(batter).expect("a landing");
    let (h, reach) = (length * slope.tan(), length * slope.tan() / batter.tan());
    let turn = (slope.tan() / batter.tan()).asin();
    let middle = 0.5 * width * h * (length + reach);
    // Beside the face: a pyramid on the ground between crest, contact of the crest's last ray, and foot.
    let side_pyramid = length * reach * turn.cos() * h / 6.0;
    let side_cone = facet_area(0.5 * PI + turn) * reach * reach * h / 3.0;
    let by_hand = middle + 2.0 * (side_pyramid + side_cone);
    let volume = landing.resolve(&level()).expect("built").volume().expect("a volume");
    assert!((volume.fill - by_hand).abs() < 1e-9 * by_hand, "{} {by_hand}", volume.fill);
}

/// A triangulated survey of a plane and the plane give the same landing and volume.
#[test]
fn plane_survey_and_grid_of_the_same_ground_agree() {
    let (slope, heading) = (0.12_f64, 2.0_f64);
    let plane = Ground::plane(Vec3::new(1.0, 1.0, 5.0), slope, heading).expect("a plane");
    let height = |x: f64, y: f64| plane.height(x, y).expect("a plane has heights");
    let gridded = grid(0.7, 60, height);
    let landing = landing(0.4, 5.0, 3.0);
    let volume =
        |ground: &Ground| landing.resolve(ground).expect("built").volume().expect("a volume").fill;
    let exact = volume(&plane);
    assert!((volume(&gridded) - exact).abs() < 1e-9 * exact);
}

/// Landing over a twisted grid against a brute sum over small squares.
#[test]
fn twisted_ground_against_a_brute_sum() {
    let bumpy = grid(1.0, 40, |x, y| 0.05 * (0.9 * x).sin() * (1.1 * y).cos() - 0.08 * x);
    let built = landing(0.4, 5.0, 3.0).resolve(&bumpy).expect("built");
    let exact = built.volume().expect("a volume").fill;
    let (step, mut sum) = (0.01, 0.0);
    for i in -1000..1600 {
        for j in -1400..1200 {
            let (x, y) = (step * (f64::from(i) + 0.5), step * (f64::from(j) + 0.5));
            if let (Some(a), Some(b)) = (built.mesh().height(x, y), bumpy.height(x, y)) {
                sum += (a - b).max(0.0) * step * step;
            }
        }
    }
    assert!((exact / sum - 1.0).abs() < 1e-4, "{exact} {sum}");
}

/// A ground and itself lowered by a wedge: cut and fill apart, and the same as by hand.
#[test]
fn cut_and_fill_are_kept_apart() {
    let before = grid(1.0, 10, |_, _| 0.0);
    let after = grid(0.7, 10, |x, _| 0.1 * x);
    let volume = volume(&before, &after).expect("a volume");
    let side = 0.5 * 0.1 * 3.5 * 3.5 * 7.0;
    assert!((volume.fill - side).abs() < 1e-10 && (volume.cut - side).abs() < 1e-10);
    assert!((volume.net()).abs() < 1e-10 && (volume.fill_area - 24.5).abs() < 1e-9);
}

#[test]
fn a_second_landing_adds_only_what_is_new() {
    let ground = level();
    let first = landing(0.4, 5.0, 3.0);
    let one = ground.with_landing(&first).expect("built");
    let same = one.with_landing(&first.with_crest_height(Some(5.0 * 0.4_f64.tan())).expect("ok"));
    let again = volume(&one, &same.expect("built")).expect("a volume");
    assert!(again.fill.abs() < 1e-9 && again.cut.abs() < 1e-9, "{again:?}");
    let wider = landing(0.4, 5.0, 4.0).with_crest_height(Some(5.0 * 0.4_f64.tan())).expect("ok");
    let both = one.with_landing(&wider).expect("built");
    let whole = volume(&ground, &both).expect("a volume").fill;
    let alone = wider.resolve(&ground).expect("built").volume().expect("a volume").fill;
    assert!((whole - alone).abs() < 1e-9 * alone, "the wider one holds the first");
}

#[test]
fn grounds_that_do_not_meet_have_no_volume() {
    let plane = Ground::plane(Vec3::zeros(), 0.1, 0.0).expect("a plane");
    assert_eq!(volume(&level(), &plane), Err(VolumeError::Unbounded));
    let far = Ground::grid(Vec2::repeat(100.0), Vec2::repeat(1.0), 2, 2, vec![0.0; 4]).expect("ok");
    assert_eq!(volume(&grid(1.0, 4, |_, _| 0.0), &far), Err(VolumeError::Apart));
    assert_eq!(volume(&plane, &plane), Ok(Volume::default()));
}

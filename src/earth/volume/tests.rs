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

/// A box: two levels over one rectangle, as grids of different cells and as a survey.
#[test]
fn a_box_is_length_by_width_by_height() {
    let (low, high) = (grid(1.0, 6, |_, _| 0.25), grid(0.75, 8, |_, _| 1.75));
    let corners = [[-3.0, -3.0], [3.0, -3.0], [3.0, 3.0], [-3.0, 3.0]];
    let flat = corners.map(|[x, y]| Vec3::new(x, y, 1.75));
    for after in [high, Ground::survey(&flat).expect("a survey")] {
        let volume = volume(&low, &after).expect("a volume");
        assert!((volume.fill - 36.0 * 1.5).abs() < 1e-10, "{}", volume.fill);
        assert!(volume.cut.abs() < 1e-12 && (volume.fill_area - 36.0).abs() < 1e-9);
    }
}

/// The frustum of a pyramid of many sides is `h/3 (A + B + sqrt(A B))`, and comes to a cone's.
#[test]
fn a_cone_frustum() {
    let (foot, top, height) = (3.0, 1.2, 1.4);
    for (sides, off) in [(12_u32, 0.05), (48, 0.003), (192, 2e-4)] {
        let ring = |radius: f64, z: f64| {
            (0..sides).map(move |i| {
                let (sine, cosine) = (2.0 * PI * f64::from(i) / f64::from(sides)).sin_cos();
                Vec3::new(radius * cosine, radius * sine, z)
            })
        };
        let points: Vec<Vec3> = ring(foot, 0.0).chain(ring(top, height)).collect();
        let cone = Ground::survey(&points).expect("a survey");
        let share = 0.5 * f64::from(sides) * (2.0 * PI / f64::from(sides)).sin();
        let frustum = height / 3.0 * (foot * foot + top * top + foot * top);
        let volume = volume(&level(), &cone).expect("a volume").fill;
        assert!((volume - share * frustum).abs() < 1e-9, "{sides} {volume}");
        assert!((volume / (PI * frustum) - 1.0).abs() < off);
    }
}

/// A hyperbolic paraboloid is bilinear: a grid of it is exact, whatever its cells.
#[test]
fn a_saddle_on_a_grid_is_exact() {
    let half = 3.0_f64;
    for cells in [2, 6, 15] {
        let saddle = grid(2.0 * half / cells as f64, cells, |x, y| 0.2 * x * y);
        let volume = volume(&grid(half, 2, |_, _| 0.0), &saddle).expect("a volume");
        let by_hand = 2.0 * 0.2 * (0.5 * half * half).powi(2);
        assert!((volume.fill - by_hand).abs() < 1e-6, "{cells} {}", volume.fill);
        assert!((volume.cut - by_hand).abs() < 1e-6 && volume.net().abs() < 1e-6);
    }
}

/// A round paraboloid over a square: by corners of cells of side `s` it has the trapezoidal rule's error, `s^2` over
/// twelve for each second derivative, exactly; and by triangles between the same points the same, for the halves' sum.
#[test]
fn a_paraboloid_by_grid_and_by_triangles() {
    let (half, height) = (2.0_f64, 1.0);
    let bowl = |x: f64, y: f64| height - 0.1 * (x * x + y * y);
    let whole = 4.0 * half * half * (height - 0.1 * 2.0 * half * half / 3.0);
    for cells in [4_usize, 16] {
        let step = 2.0 * half / cells as f64;
        let by_grid = volume(&level(), &grid(step, cells, bowl)).expect("a volume").fill;
        let trapezoids = whole - 4.0 * half * half * step * step / 12.0 * 0.4;
        assert!((by_grid - trapezoids).abs() < 1e-9, "{cells} {by_grid} {trapezoids}");
        let lattice = (0..=cells).flat_map(|i| (0..=cells).map(move |j| (i, j)));
        let at = |i: usize| -half + step * i as f64;
        let points: Vec<Vec3> =
            lattice.map(|(i, j)| Vec3::new(at(i), at(j), bowl(at(i), at(j)))).collect();
        let survey = Ground::survey(&points).expect("a survey");
        let by_triangles = volume(&level(), &survey).expect("a volume").fill;
        // Either diagonal of a cell has the mean of its own two corners in it twice; by symmetry they differ by little.
        assert!((by_triangles - by_grid).abs() < 0.4 * step * step, "{by_triangles}");
        let both = volume(&grid(step, cells, bowl), &survey).expect("a volume");
        assert!((both.net() - (by_triangles - by_grid)).abs() < 1e-9);
    }
}

/// Over one and the same plane, triangles and grid give one and the same volume to rounding.
#[test]
fn triangles_and_grid_of_one_surface_agree() {
    let plane = |x: f64, y: f64| 0.4 + 0.07 * x - 0.03 * y;
    let scattered: Vec<Vec3> = (1..=200)
        .map(|i| {
            let (x, y) = ((f64::from(i) * 0.754_877).fract(), (f64::from(i) * 0.569_840).fract());
            Vec3::new(6.0 * x - 3.0, 6.0 * y - 3.0, plane(6.0 * x - 3.0, 6.0 * y - 3.0))
        })
        .chain(
            [(-3.0, -3.0), (3.0, -3.0), (3.0, 3.0), (-3.0, 3.0)]
                .map(|(x, y)| Vec3::new(x, y, plane(x, y))),
        )
        .collect();
    let survey = Ground::survey(&scattered).expect("a survey");
    let gridded = grid(0.5, 12, plane);
    let fill = |after: &Ground| volume(&level(), after).expect("a volume").fill;
    assert!((fill(&survey) - fill(&gridded)).abs() < 1e-9);
    assert!(
        (fill(&survey) - 36.0 * 0.4).abs() < 1e-9,
        "above 0 all over: 0.4 less 0.3 at the corner"
    );
    let between = volume(&survey, &gridded).expect("a volume");
    assert!(between.fill < 1e-9 && between.cut < 1e-9);
}

use super::*;
use proptest::prelude::*;

fn grid(heights: Vec<f64>) -> Grid {
    Grid::new(Vec2::new(-1.0, 2.0), Vec2::new(0.7, 0.4), 6, 5, heights).unwrap()
}

fn heights() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(-1.0..1.0f64, 30)
}

proptest! {
    #[test]
    fn nearest_is_the_least_over_all_cells_and_samples(
        heights in heights(),
        c in (-2.0..4.0f64, 1.0..5.0f64, -1.0..3.0f64),
    ) {
        let grid = grid(heights);
        let c = Vec3::new(c.0, c.1, c.2);
        let found = grid.nearest_above(c, f64::INFINITY).unwrap();
        let brute = (0..grid.cells())
            .map(|i| (grid.patch(i).nearest(&c).point - c).norm())
            .fold(f64::INFINITY, f64::min);
        prop_assert!((found.distance - brute).abs() < 1e-12);
        for i in 0..=3600 {
            let (x, y) = (-1.0 + 3.5 * f64::from(i % 61) / 60.0, 2.0 + 1.6 * f64::from(i / 61) / 60.0);
            let sample = Vec3::new(x, y, grid.height(x, y).unwrap());
            prop_assert!((sample - c).norm() >= found.distance - 1e-12);
        }
        prop_assert!((found.point + found.normal * found.distance - c).norm() < 1e-6);
        prop_assert!((grid.height(found.point.x, found.point.y).unwrap() - found.point.z).abs() < 1e-9);
    }

    #[test]
    fn height_meets_the_corners(heights in heights()) {
        let grid = grid(heights);
        for row in 0..5 {
            for column in 0..6 {
                let p = grid.corner(column, row).unwrap();
                prop_assert!((grid.height(p.x, p.y).unwrap() - p.z).abs() < 1e-12);
            }
        }
    }
}

#[test]
fn beside_the_grid_nothing_is_known() {
    let grid = grid(vec![0.0; 30]);
    assert_eq!(grid.height(-1.001, 3.0), None);
    assert_eq!(grid.normal(0.0, 3.601), None);
    assert!(grid.height(2.5, 3.6).is_some());
    assert_eq!(grid.corner(6, 0), None);
    assert_eq!(grid.rim().len(), 18);
    assert_eq!(grid.halved_cells().len(), 40);
}

#[test]
fn wrong_grids_say_what_is_wrong() {
    let (origin, spacing) = (Vec2::zeros(), Vec2::new(1.0, 1.0));
    let made = |nx, ny, z| Grid::new(origin, spacing, nx, ny, z);
    assert!(matches!(made(1, 3, vec![0.0; 3]), Err(GroundError::Value(_))));
    assert_eq!(
        made(2, 2, vec![0.0; 5]),
        Err(GroundError::HeightCount { given: 5, rows: 2, columns: 2 })
    );
    assert!(matches!(
        made(2, 2, vec![0.0, 0.0, f64::INFINITY, 0.0]),
        Err(GroundError::HeightNotFinite { row: 1, column: 0, .. })
    ));
    let flat = Grid::new(origin, Vec2::new(0.0, 1.0), 2, 2, vec![0.0; 4]);
    assert!(matches!(flat, Err(GroundError::Value(_))));
}

/// Rough ground, every height for itself: what is found in a window is what the tree over all cells finds.
#[test]
fn the_nearest_in_a_window_is_the_nearest_of_all() {
    let (columns, rows, spacing) = (40, 30, Vec2::new(0.2, 0.3));
    let part = |at: usize, prime: f64| ((at + 1) as f64 * prime.sqrt()).fract();
    let z = (0..columns * rows).map(|at| 0.25 * part(at, 2.0)).collect();
    let grid = Grid::new(Vec2::new(3.0, -2.0), spacing, columns, rows, z).unwrap();
    let mut seen = 0;
    for at in 0..400 {
        let (x, y) = (3.0 + 7.8 * part(at, 3.0), -2.0 + 8.7 * part(at, 5.0));
        let c = Vec3::new(x, y, grid.height(x, y).unwrap() + 2.5 * part(at, 7.0));
        for within in [0.5, 1.5, f64::INFINITY] {
            let Some(found) = grid.nearest_in_window(c, within) else { continue };
            let mut quest = Closest { grid: &grid, c, limit: within.next_up(), found: None };
            grid.tree.search(&mut quest);
            match (found.seen(), quest.seen()) {
                (Some(found), Some(wanted)) => {
                    assert!((found.distance - wanted.distance).abs() < 1e-14);
                    seen += 1;
                }
                (found, wanted) => assert_eq!(found, wanted),
            }
            assert!(
                grid.nearest_about(c).unwrap().distance >= grid.nearest(c, 9.0).unwrap().distance
            );
        }
    }
    assert!(seen > 600, "{seen}");
    // Beside the grid, and where too much of it is near, there is no window.
    assert!(grid.nearest_in_window(Vec3::new(0.0, 0.0, 1.0), 9.0).is_none());
    assert!(grid.nearest_in_window(Vec3::new(6.0, 1.0, 99.0), f64::INFINITY).is_none());
}

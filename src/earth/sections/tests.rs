use super::*;

/// Wikibooks, Fundamentals of Transportation, Earthwork: fill 4087.5 m3 and cut 1058.3 m3.
#[test]
fn end_areas_with_pyramids() {
    let fill = along(
        &[0.0, 50.0, 75.0, 100.0, 115.0],
        &[60.0, 50.0, 25.0, 5.0, 0.0],
        Between::EndAreasAndPyramids,
    );
    assert!((fill.expect("fill") - 4087.5).abs() < 1e-9);
    let stations = [75.0, 100.0, 115.0, 150.0];
    let areas = [0.0, 10.0, 15.0, 30.0];
    let cut = along(&stations, &areas, Between::EndAreasAndPyramids).expect("cut");
    assert!((cut - 1058.3).abs() < 0.05);
    assert!((along(&stations, &areas, Between::EndAreas).expect("cut") - 1100.0).abs() < 1e-9);
}

/// W. L. Webb, *Railroad Construction*, art. 110: the end areas of a pyramid give half as much again.
#[test]
fn end_areas_of_a_pyramid() {
    let by = |between| along(&[0.0, 9.0], &[6.0, 0.0], between).expect("volume");
    assert!((by(Between::EndAreas) - 27.0).abs() < 1e-12);
    assert!((by(Between::EndAreasAndPyramids) - 18.0).abs() < 1e-12);
    assert!((by(Between::Frusta) - 18.0).abs() < 1e-12);
    assert!((prismoid(6.0, 1.5, 0.0, 9.0).expect("volume") - 18.0).abs() < 1e-12);
}

/// Areas and height of M. R. Lindeburg, *Civil PE Sample Examination*, construction question 42; volumes ours.
#[test]
fn frustum_between_two_contours() {
    let volume = along(&[0.0, 7.0], &[1200.0, 1800.0], Between::Frusta).expect("volume");
    assert!((volume - 10429.286).abs() < 1e-3);
}

/// An embankment 7.5 m wide with sides of 2 to 1 on five sections; volumes reckoned by hand.
#[test]
fn simpson_and_trapezoids_of_an_embankment() {
    let areas = [1.8, 2.175, 2.55, 2.925, 3.0].map(|h: f64| h * (7.5 + 2.0 * h));
    assert!((simpson(&areas, 30.0).expect("volume") - 3840.3).abs() < 1e-9);
    assert!((trapezoidal(&areas, 30.0).expect("volume") - 3815.775).abs() < 1e-9);
}

#[test]
fn three_sections() {
    let areas = [40.0, 50.0, 80.0];
    assert!((trapezoidal(&areas, 20.0).expect("volume") - 2200.0).abs() < 1e-12);
    assert!((simpson(&areas, 20.0).expect("volume") - 6400.0 / 3.0).abs() < 1e-9);
}

/// The sum over cells equals the sum of depths weighted by 1, 2 and 4 cells.
#[test]
fn borrow_pit_weights() {
    let depths = [1.0, 1.1, 1.2, 0.9, 1.02, 1.0, 0.8, 1.05, 1.1];
    let corners: f64 = 1.0 + 1.2 + 0.8 + 1.1;
    let edges: f64 = 1.1 + 0.9 + 1.0 + 1.05;
    let weighted = corners + 2.0 * edges + 4.0 * 1.02;
    assert!((grid(&depths, 3, 2.0, 2.0).expect("volume") - weighted).abs() < 1e-12);
    assert!((weighted - 16.28).abs() < 1e-12);
}

/// The triangular prism of W. F. Uren and J. Price, *Surveying for Engineers*, from memory.
#[test]
fn prism_under_a_triangle() {
    let volume = prism([[0.0, 0.0], [3.0, 0.0], [0.0, 4.0]], [1.0, 2.0, 3.0]);
    assert!((volume.expect("volume") - 12.0).abs() < 1e-12);
}

#[test]
fn wrong_lists_are_named() {
    assert_eq!(simpson(&[1.0; 4], 1.0), Err(SectionError::Even { given: 4 }));
    assert!(matches!(trapezoidal(&[1.0], 1.0), Err(SectionError::TooFew { given: 1, needed: 2 })));
    let order = along(&[0.0, 0.0], &[1.0, 1.0], Between::EndAreas);
    assert!(matches!(order, Err(SectionError::Order { .. })));
    let lengths = along(&[0.0, 1.0, 2.0], &[1.0, 1.0], Between::EndAreas);
    assert!(matches!(lengths, Err(SectionError::Lengths { left: 3, right: 2 })));
    assert!(trapezoidal(&[1.0, -1.0], 1.0).is_err());
    assert!(grid(&[1.0; 5], 2, 1.0, 1.0).is_err());
}

use super::*;
use pulp::WithSimd;

/// Several numbers: a whole number of registers on every machine.
/// As many as two of the widest registers hold.
type Several = [f64; 16];

/// One of the functions, at eight places.
struct At<'a> {
    places: &'a Several,
    function: Function,
}

#[derive(Clone, Copy)]
enum Function {
    Ln,
    Atan,
    Cos,
    Sin,
    Capped,
    Either,
    Mixed,
}

impl WithSimd for At<'_> {
    type Output = Several;
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Several {
        let mut out = Several::default();
        for i in 0..out.len() / Lanes::<S, 2>::WIDTH {
            let x = Lanes::<S, 2>::load(simd, self.places, i);
            let two = Lanes::splat(simd, 2.0);
            let y = match self.function {
                Function::Ln => x.ln(),
                Function::Atan => x.atan(),
                Function::Cos => x.cos(),
                Function::Sin => x.sin(),
                Function::Either => two.lt(x).or(x.lt(-two)).select(two, x),
                Function::Capped => x.lt(two).and((-two).lt(x)).select(x, two),
                Function::Mixed => (x.abs().min(two).max(-x) + two).recip(),
            };
            y.store(&mut out, i);
        }
        out
    }
}

fn at(places: &Several, function: Function) -> Several {
    ARCH.dispatch(At { places, function })
}

#[test]
fn logarithms_are_those_of_the_standard_library() {
    for decade in -300..=300 {
        let places = std::array::from_fn(|i| 10f64.powi(decade) * (1.0 + 0.13 * i as f64));
        for (x, y) in places.iter().zip(at(&places, Function::Ln)) {
            assert!((y - x.ln()).abs() <= 3e-16 * y.abs().max(1.0), "{x}: {y}");
        }
    }
}

#[test]
fn angles_are_those_of_the_standard_library() {
    for step in 0..125_usize {
        let places = std::array::from_fn(|i| (8 * step + i).min(999) as f64 / 999.0);
        for (x, y) in places.iter().zip(at(&places, Function::Atan)) {
            assert!((y - x.atan()).abs() <= 4e-15, "{x}: {y}");
        }
    }
}

#[test]
fn sines_and_cosines_are_those_of_the_standard_library() {
    for step in 0..125_usize {
        let places = std::array::from_fn(|i| {
            (8 * step + i).min(999) as f64 * std::f64::consts::FRAC_PI_2 / 999.0
        });
        for (x, y) in places.iter().zip(at(&places, Function::Cos)) {
            assert!((y - x.cos()).abs() <= 1e-12, "{x}: {y}");
        }
        for (x, y) in places.iter().zip(at(&places, Function::Sin)) {
            assert!((y - x.sin()).abs() <= 1e-13, "{x}: {y}");
        }
    }
}

#[test]
#[allow(clippy::float_cmp, reason = "what is exact is asked exactly")]
fn choices_and_arithmetic_are_those_of_single_numbers() {
    let eight = [-3.0, -2.0, -0.5, 0.0, 1.5, 2.0, 7.0, f64::NAN];
    let places = std::array::from_fn(|i| eight[i % 8]);
    let capped = at(&places, Function::Capped);
    assert_eq!(capped[..8], [2.0, 2.0, -0.5, 0.0, 1.5, 2.0, 2.0, 2.0]);
    assert_eq!(capped[..8], capped[8..]);
    assert_eq!(at(&places, Function::Either)[..7], [2.0, -2.0, -0.5, 0.0, 1.5, 2.0, 2.0]);
    let mixed = at(&places, Function::Mixed);
    assert_eq!(mixed[..7], [0.2, 0.25, 0.4, 0.5, 1.0 / 3.5, 0.25, 0.25]);
}

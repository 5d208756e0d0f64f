//! The lowest value between two places.

/// The golden section.
const GOLDEN: f64 = 0.618_033_988_749_894_8;

/// A place between two others and the cost there, lowest to `steps` steps of the golden section: each narrows what is left
/// to 0.62 of it and asks for one cost more. Of several valleys it finds one.
///
/// Errors: the first of `cost`. J. Kiefer, *Proceedings of the American Mathematical Society* 4 (1953). Our own, for its
/// costs may fail, each a whole ride.
pub fn lowest<E>(
    cost: impl Fn(f64) -> Result<f64, E>,
    (mut low, mut high): (f64, f64),
    steps: usize,
) -> Result<(f64, f64), E> {
    let at = |low: f64, high: f64, share: f64| {
        let x = low + share * (high - low);
        Ok((x, cost(x)?))
    };
    let (mut a, mut b) = (at(low, high, 1.0 - GOLDEN)?, at(low, high, GOLDEN)?);
    for _ in 0..steps {
        if a.1 <= b.1 {
            (high, b) = (b.0, a);
            a = at(low, high, 1.0 - GOLDEN)?;
        } else {
            (low, a) = (a.0, b);
            b = at(low, high, GOLDEN)?;
        }
    }
    Ok(if a.1 <= b.1 { a } else { b })
}

#[cfg(test)]
mod tests {
    use super::lowest;
    use std::convert::Infallible;

    #[test]
    fn the_bottom_is_found_also_at_an_end() {
        let cost = |x: f64| Ok::<_, Infallible>((x - 0.3).powi(2));
        let (x, least) = lowest(cost, (-1.0, 2.0), 60).expect("no error");
        assert!((x - 0.3).abs() < 1e-7 && least < 1e-14, "{x}");
        let (x, _) = lowest(cost, (1.0, 2.0), 60).expect("no error");
        assert!((x - 1.0).abs() < 1e-9, "{x}");
    }

    #[test]
    fn an_error_comes_through() {
        assert_eq!(lowest(|_| Err::<f64, _>("none"), (0.0, 1.0), 9), Err("none"));
    }
}

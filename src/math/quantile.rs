//! Quantiles of weighted values.

/// The least value at or below which lies at least the share `share` of all weight, `share` from 0
/// to 1; `None` where there is no weight at all.
///
/// The inverse of the weighted step distribution: always one of the values given, never between
/// two. Infinite values count; values that are not a number and weights that are not above 0 do not.
pub fn weighted(values: impl IntoIterator<Item = (f64, f64)>, share: f64) -> Option<f64> {
    let mut left: Vec<(f64, f64)> =
        values.into_iter().filter(|(value, weight)| !value.is_nan() && *weight > 0.0).collect();
    let total: f64 = left.iter().map(|(_, weight)| weight).sum();
    // Equal weights seldom add up to the exact share: a quantile must not jump for rounding.
    let wanted = share * total * (1.0 - 1e-12);
    select(&mut left, wanted)
}

/// The least value up to which all weights add up to what is wanted: by halves, for all need not be sorted.
fn select(mut values: &mut [(f64, f64)], mut wanted: f64) -> Option<f64> {
    while values.len() > 1 {
        let middle = values.len() / 2;
        values.select_nth_unstable_by(middle, |a, b| a.0.total_cmp(&b.0));
        let (low, high) = values.split_at_mut(middle);
        let below: f64 = low.iter().map(|(_, weight)| weight).sum();
        if below >= wanted {
            values = low;
        } else {
            (values, wanted) = (high, wanted - below);
        }
    }
    values.first().map(|(value, _)| *value)
}

#[cfg(test)]
mod tests {
    use super::weighted;

    fn alike(values: &[f64], share: f64) -> Option<f64> {
        weighted(values.iter().map(|value| (*value, 0.1)), share)
    }

    #[test]
    fn quantiles_are_values_given() {
        let values = [5.0, 1.0, 4.0, 2.0, 3.0];
        assert_eq!(alike(&values, 0.0), Some(1.0));
        assert_eq!(alike(&values, 0.2), Some(1.0));
        assert_eq!(alike(&values, 0.21), Some(2.0));
        assert_eq!(alike(&values, 0.5), Some(3.0));
        assert_eq!(alike(&values, 0.95), Some(5.0));
        assert_eq!(alike(&values, 1.0), Some(5.0));
        assert_eq!(alike(&[], 0.5), None);
    }

    #[test]
    fn weight_counts_and_nothing_else_does() {
        let values = [(1.0, 3.0), (2.0, 1.0), (f64::NAN, 9.0), (7.0, 0.0)];
        assert_eq!(weighted(values, 0.75), Some(1.0));
        assert_eq!(weighted(values, 0.76), Some(2.0));
        assert_eq!(weighted([(f64::INFINITY, 1.0)], 0.5), Some(f64::INFINITY));
    }
}

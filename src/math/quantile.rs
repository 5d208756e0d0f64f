//! Quantiles of weighted values.

/// The least value at or below which lies at least the share `share` of all weight, `share` from 0
/// to 1; `None` where there is no weight at all.
///
/// The inverse of the weighted step distribution: always one of the values given, never between
/// two. Infinite values count; values that are not a number and weights that are not above 0 do not.
pub fn weighted(values: impl IntoIterator<Item = (f64, f64)>, share: f64) -> Option<f64> {
    let mut sorted: Vec<(f64, f64)> =
        values.into_iter().filter(|(value, weight)| !value.is_nan() && *weight > 0.0).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total: f64 = sorted.iter().map(|(_, weight)| weight).sum();
    // Equal weights seldom add up to the exact share: a quantile must not jump for rounding.
    let wanted = share * total * (1.0 - 1e-12);
    let mut below = 0.0;
    for (value, weight) in &sorted {
        below += weight;
        if below >= wanted {
            return Some(*value);
        }
    }
    sorted.last().map(|(value, _)| *value)
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

//! Counts from numbers.

/// The whole number below a number, or the largest there is; 0 for what is below 0 or no number.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates: that is what it is for"
)]
pub const fn whole(value: f64) -> usize {
    value as usize
}

#[cfg(test)]
mod tests {
    use super::whole;

    #[test]
    fn counts_saturate() {
        assert_eq!([whole(2.9), whole(-3.0), whole(f64::NAN)], [2, 0, 0]);
        assert_eq!(whole(f64::INFINITY), usize::MAX);
    }
}

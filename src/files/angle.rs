//! Radians as the degrees that a site file says them in.

/// The most digits after the first that tell two numbers apart.
const DIGITS: usize = 16;

/// The shortest number of degrees that reads back as the same radians, to the last bit where there is one.
///
/// Between degrees a bit apart lie radians that no degrees give: those come back a bit off.
pub(super) fn degrees(radians: f64) -> f64 {
    let exact = radians.to_degrees();
    let shortened = |digits: usize| format!("{exact:.digits$e}").parse::<f64>().ok();
    let same = |degrees: &f64| degrees.to_radians().to_bits() == radians.to_bits();
    (0..=DIGITS).filter_map(shortened).find(same).unwrap_or(exact)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_come_back_as_written() {
        for written in [0.0, 90.0, 0.1, 33.3, -14.25, 62.7, 359.999, 1e-3] {
            assert_eq!(degrees(f64::to_radians(written)).to_bits(), written.to_bits());
        }
    }

    #[test]
    fn other_radians_come_back_to_a_bit() {
        for radians in [0.1, 0.7, 1.0, -2.3] {
            assert!((degrees(radians).to_radians() - radians).abs() <= radians.abs() * 2.3e-16);
        }
    }
}

//! The earth between two stations.

use super::station::Station;

/// Height, slope, launch speed or another number at two stations of the earth, joined smoothly.
#[derive(Debug, Clone, Copy)]
pub(super) struct Span<'a> {
    near: &'a Station,
    far: &'a Station,
}

/// A height at a place, with its first and second derivative by the distance out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shape {
    pub height: f64,
    pub slope: f64,
    pub bend: f64,
}

impl<'a> Span<'a> {
    /// The span of rising stations that holds `x`, or the first or last.
    pub(super) fn around(stations: &'a [Station], x: f64) -> Option<Self> {
        let last = stations.len().checked_sub(1)?;
        let after = stations.partition_point(|s| s.earth.x <= x).clamp(1, last.max(1));
        Some(Self { near: &stations[after - 1], far: stations.get(after)? })
    }

    /// The earth's height, seen in the flights' plane: the quintic that meets height, slope and curvature at both ends.
    pub(super) fn height(&self, x: f64) -> Shape {
        let ends = [self.near, self.far].map(|s| {
            let (slope, square) = (-s.angle.tan(), s.angle.cos().powi(2));
            Shape { height: s.earth.y, slope, bend: -s.bend / (square * s.scale) }
        });
        self.quintic(ends, x)
    }

    /// The launch speed of the flight that lands there: the cubic that meets speed and its growth at both ends.
    pub(super) fn speed(&self, x: f64) -> f64 {
        let [a, b] = [self.near, self.far].map(|s| (s.speed, s.speed_rate / s.scale));
        let (h, t) = self.place(x);
        let rise = b.0 - a.0;
        let (from, to) = (h * a.1 - rise, rise - h * b.1);
        a.0 + t * rise + t * (1.0 - t) * ((1.0 - t) * from + t * to)
    }

    fn place(&self, x: f64) -> (f64, f64) {
        let h = self.far.earth.x - self.near.earth.x;
        (h, (x - self.near.earth.x) / h)
    }

    /// As powers of the share `t` of the span: what the start alone does not foresee goes into the upper three.
    fn quintic(&self, [a, b]: [Shape; 2], x: f64) -> Shape {
        let (h, t) = self.place(x);
        let start = [a.height, h * a.slope, 0.5 * h * h * a.bend];
        let place = b.height - start[0] - start[1] - start[2];
        let slope = h * b.slope - start[1] - 2.0 * start[2];
        let bend = h * h * b.bend - 2.0 * start[2];
        let terms = [
            start[0],
            start[1],
            start[2],
            10.0 * place - 4.0 * slope + 0.5 * bend,
            -15.0 * place + 7.0 * slope - bend,
            6.0 * place - 3.0 * slope + 0.5 * bend,
        ];
        let (mut value, mut first, mut half) = (0.0, 0.0, 0.0);
        for term in terms.iter().rev() {
            half = half * t + first;
            first = first * t + value;
            value = value * t + term;
        }
        Shape { height: value, slope: first / h, bend: 2.0 * half / (h * h) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math::Vec2;
    use approx::assert_relative_eq;

    /// A station of the curve `y = x^5 / 100` with launch speed `x^3`.
    fn station(x: f64) -> Station {
        let (slope, bend) = (0.05 * x.powi(4), 0.2 * x.powi(3));
        let angle = (-slope).atan();
        let earth = Vec2::new(x, 0.01 * x.powi(5));
        let rates = (-bend * angle.cos().powi(2), 3.0 * x * x);
        Station {
            com: earth,
            earth,
            angle,
            bend: rates.0,
            scale: 1.0,
            speed: x.powi(3),
            speed_rate: rates.1,
            time: 0.0,
            time_rate: 0.0,
        }
    }

    #[test]
    fn a_quintic_and_a_cubic_come_back() {
        let stations = [0.5, 1.0, 2.5].map(station);
        for x in [0.5, 0.7, 1.0, 1.9, 2.5] {
            let span = Span::around(&stations, x).unwrap();
            let height = span.height(x);
            assert_relative_eq!(height.height, 0.01 * x.powi(5), epsilon = 1e-13);
            assert_relative_eq!(height.slope, 0.05 * x.powi(4), epsilon = 1e-12);
            assert_relative_eq!(height.bend, 0.2 * x.powi(3), epsilon = 1e-11);
            assert_relative_eq!(span.speed(x), x.powi(3), epsilon = 1e-12);
        }
        assert!(Span::around(&stations[..1], 0.5).is_none());
    }
}

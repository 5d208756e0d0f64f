//! A ground's heights on a lattice for other programs: Esri ASCII grid.

use super::atomic::write_with;
use super::error::FileError;
use super::spot::Spot;
use crate::ground::Ground;
use crate::math::Vec2;
use std::io::{self, Write};
use std::path::Path;

/// What stands where the ground is not known.
const NO_DATA: f64 = -9999.0;
/// Most heights that are written.
const MOST: f64 = 2.5e7;

/// A lattice of square cells in plan: its low corner, its size, and how far apart heights are taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lattice {
    /// The place of the first height.
    pub low: Vec2,
    /// The place that the last height does not lie past.
    pub high: Vec2,
    /// How far apart heights are, metres.
    pub spacing: f64,
}

/// Writes the heights of a ground as an Esri ASCII grid, metres; rows from north to south, -9999 where none is known.
///
/// Heights stand at the lattice's points (`xllcenter`, `yllcenter`), every bit of each. Without a lattice's corners
/// take [`Ground::bounds`]. Refused: a spacing that is not above 0, a lattice without points or with too many.
pub fn write_ascii_grid(
    path: impl AsRef<Path>,
    ground: &Ground,
    lattice: &Lattice,
) -> Result<(), FileError> {
    let path = path.as_ref();
    let (columns, rows) = lattice.counts(path)?;
    write_with(path, |out| table(out, ground, lattice, columns, rows))
}

impl Lattice {
    fn counts(&self, path: &Path) -> Result<(u32, u32), FileError> {
        let refused = |field: &str, value: f64, allowed: &str| FileError::OutOfRange {
            at: Spot::of_file(path),
            field: field.into(),
            value,
            allowed: allowed.into(),
        };
        if !(self.spacing.is_finite() && self.spacing > 0.0) {
            return Err(refused("spacing", self.spacing, "a finite number above 0"));
        }
        let size = self.high - self.low;
        if !(size.min() >= 0.0 && size.max().is_finite()) {
            return Err(refused("area", size.min(), "corners in order, all finite"));
        }
        // A hair short of a whole number of cells is that number.
        let counts = (size / self.spacing).map(|cells| (cells + 1e-9).floor() + 1.0);
        if counts.x * counts.y > MOST {
            return Err(refused(
                "spacing",
                self.spacing,
                "so wide that the area takes at most 25 million heights",
            ));
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "whole numbers from 1 to the greatest count"
        )]
        let counts = (counts.x as u32, counts.y as u32);
        Ok(counts)
    }
}

fn table(
    out: &mut dyn Write,
    ground: &Ground,
    lattice: &Lattice,
    columns: u32,
    rows: u32,
) -> io::Result<()> {
    let Lattice { low, spacing, .. } = lattice;
    writeln!(out, "ncols {columns}\nnrows {rows}")?;
    writeln!(out, "xllcenter {:?}\nyllcenter {:?}", low.x, low.y)?;
    writeln!(out, "cellsize {spacing:?}\nNODATA_value {NO_DATA:?}")?;
    for row in (0..rows).rev() {
        for column in 0..columns {
            let at = low + Vec2::new(f64::from(column), f64::from(row)) * *spacing;
            let height = ground.height(at.x, at.y).unwrap_or(NO_DATA);
            let gap = if column == 0 { "" } else { " " };
            write!(out, "{gap}{height:?}")?;
        }
        writeln!(out)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ground() -> Ground {
        let heights = (0..12).map(|i| 0.1 * f64::from(i)).collect();
        Ground::grid(Vec2::new(1.0, -2.0), Vec2::repeat(0.5), 4, 3, heights).unwrap()
    }

    #[test]
    fn heights_come_back_north_row_first() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ground.asc");
        let low = Vec2::new(1.0, -2.0);
        let lattice = Lattice { low, high: low + Vec2::new(1.5, 1.0), spacing: 0.5 };
        write_ascii_grid(&path, &ground(), &lattice).unwrap();
        let text = std::fs::read_to_string(&path).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[..3], ["ncols 4", "nrows 3", "xllcenter 1.0"]);
        let numbers = |line: &str| -> Vec<f64> {
            line.split(' ').map(|word| word.parse().unwrap()).collect()
        };
        let rows: Vec<f64> = lines[6..].iter().rev().flat_map(|line| numbers(line)).collect();
        let whole: Vec<f64> = (0..12).map(|i| 0.1 * f64::from(i)).collect();
        assert!(rows.iter().zip(&whole).all(|(a, b)| (a - b).abs() < 1e-12) && rows.len() == 12);
    }

    #[test]
    fn what_is_not_known_is_said_and_nonsense_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ground.asc");
        let lattice = |size: f64, spacing: f64| Lattice {
            low: Vec2::zeros(),
            high: Vec2::repeat(size),
            spacing,
        };
        write_ascii_grid(&path, &ground(), &lattice(1.0, 1.0)).unwrap();
        assert!(std::fs::read_to_string(&path).unwrap().contains("-9999.0"));
        for (size, spacing) in [(1.0, 0.0), (-1.0, 1.0), (1e9, 1e-3), (f64::NAN, 1.0)] {
            assert!(write_ascii_grid(&path, &ground(), &lattice(size, spacing)).is_err());
        }
    }
}

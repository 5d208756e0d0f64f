//! Low-discrepancy draws that depend on nothing but a seed, an index and a name.

/// How many points one scrambled sequence gives before another takes over.
const BLOCK: u64 = 1 << 16;
/// The smallest value drawn; the largest is 1 less this. `sobol_burley` gives multiples of 2^-23
/// from 0: half a step up and none is 0 or 1.
pub const SMALLEST: f64 = 0.5 / (1 << 23) as f64;

/// A scrambled Sobol' sequence whose dimensions have names.
///
/// The names listed are spread evenly *together* (each set of values nearly fills its cube); a name
/// that is not listed is spread evenly by itself and has no relation to the others. Points are from
/// the crate `sobol_burley`: direction numbers by Joe and Kuo, Owen scrambling by the hash of
/// Burley, "Practical Hash-based Owen Scrambling", JCGT 9 (2020). Any `2^k` points from the start
/// hold exactly one in each `2^-k` of any one dimension; after 65536 points the next, differently
/// scrambled sequence begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sequence {
    seed: u64,
    names: &'static [&'static str],
}

impl Sequence {
    /// The sequence of a seed. To append to the names keeps the values of those before; at most
    /// the first 256 are spread together.
    pub const fn new(seed: u64, names: &'static [&'static str]) -> Self {
        Self { seed, names }
    }

    /// The value of a name at an index: above 0, below 1, an odd multiple of `2^-24`. The same seed,
    /// index and name always give the same value.
    pub fn uniform(&self, index: u64, name: &str) -> f64 {
        let listed = self.names.iter().take(DIMENSIONS).position(|known| *known == name);
        let (dimension, salt) = match listed {
            Some(place) => (u32::try_from(place).unwrap_or(0), 0),
            None => (0, hash(name.as_bytes())),
        };
        let scramble = mix(self.seed ^ mix(salt ^ mix(index / BLOCK)));
        let within_block = u32::try_from(index % BLOCK).unwrap_or(0);
        f64::from(sobol_burley::sample(within_block, dimension, (scramble >> 32) as u32)) + SMALLEST
    }
}

const DIMENSIONS: usize = sobol_burley::NUM_DIMENSIONS as usize;

/// The value of one name by itself: `Sequence::new(seed, &[]).uniform(index, name)`.
pub fn uniform(seed: u64, index: u64, name: &str) -> f64 {
    Sequence::new(seed, &[]).uniform(index, name)
}

/// FNV-1a: short, and the same on every machine and in every release, unlike the standard hasher.
fn hash(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |state, byte| {
        (state ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

/// The finaliser of `SplitMix64`: turns close numbers into ones that have nothing in common.
const fn mix(mut state: u64) -> u64 {
    state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    state = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    state = (state ^ (state >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    state ^ (state >> 31)
}

#[cfg(test)]
#[allow(clippy::float_cmp, reason = "the same draw is the same to the last bit")]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "cells of a histogram")]
mod tests {
    use super::*;

    const NAMES: &[&str] = &["start", "leave", "pop"];

    #[test]
    fn values_depend_on_seed_index_and_name_only() {
        let sequence = Sequence::new(7, NAMES);
        let forwards: Vec<f64> = (0..64).map(|i| sequence.uniform(i, "leave")).collect();
        let backwards: Vec<f64> = (0..64).rev().map(|i| sequence.uniform(i, "leave")).collect();
        assert!(forwards.iter().eq(backwards.iter().rev()));
        let longer = Sequence::new(7, &["start", "leave", "pop", "mass"]);
        assert!(forwards.iter().enumerate().all(|(i, x)| *x == longer.uniform(i as u64, "leave")));
        assert_ne!(forwards[5], Sequence::new(8, NAMES).uniform(5, "leave"));
        assert_ne!(forwards[5], sequence.uniform(5, "start"));
        assert_ne!(uniform(7, 5, "wind"), uniform(7, 5, "mass"));
    }

    #[test]
    fn every_cell_of_a_dimension_holds_one_point() {
        let sequence = Sequence::new(1, NAMES);
        for name in ["start", "leave", "pop", "not listed"] {
            let mut cells = [0; 4096];
            for index in 0..4096 {
                let value = sequence.uniform(index, name);
                assert!(value > 0.0 && value < 1.0);
                cells[(value * 4096.0) as usize] += 1;
            }
            assert!(cells.iter().all(|count| *count == 1), "{name}");
        }
    }

    /// 4096 points in 16 x 16 cells: 16 a cell where two names are spread together; chance alone
    /// would leave a spread of 4.
    #[test]
    fn listed_names_fill_their_square_together() {
        let sequence = Sequence::new(3, NAMES);
        for (a, b) in [("start", "leave"), ("leave", "pop"), ("start", "pop")] {
            let mut cells = [[0_i32; 16]; 16];
            for index in 0..4096 {
                let at = |name| (sequence.uniform(index, name) * 16.0) as usize;
                cells[at(a)][at(b)] += 1;
            }
            assert!(cells.iter().flatten().all(|count| (count - 16).abs() <= 4), "{a} {b}");
        }
    }

    #[test]
    fn points_go_on_beyond_a_block() {
        let sequence = Sequence::new(5, NAMES);
        let mean = (65_536..131_072).map(|i| sequence.uniform(i, "pop")).sum::<f64>() / 65_536.0;
        assert!((mean - 0.5).abs() < 1e-5);
        assert_ne!(sequence.uniform(0, "pop"), sequence.uniform(65_536, "pop"));
    }
}

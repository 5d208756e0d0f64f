//! What to look for, and how hard.

use crate::design::form::Form;

/// What to look for, and how hard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitOptions {
    /// What kind of landing.
    pub form: Form,
    /// The seed of the search.
    pub seed: u64,
    /// How many landings are tried all over the range.
    pub trials: usize,
    /// How many of the best are bred from.
    pub population: usize,
    /// How many generations are bred.
    pub generations: usize,
    /// How many steps the last polish of the best few takes.
    pub steps: usize,
}

impl Default for FitOptions {
    fn default() -> Self {
        Self {
            form: Form::Straight,
            seed: 1,
            trials: 2048,
            population: 96,
            generations: 96,
            steps: 200,
        }
    }
}

impl FitOptions {
    /// As much effort as a form needs.
    pub fn of(form: Form, seed: u64) -> Self {
        let usual = Self { form, seed, ..Self::default() };
        match form {
            Form::Straight | Form::RoundedFoot { .. } => usual,
            Form::TwoFaces => {
                Self { trials: 3072, population: 96, generations: 120, steps: 320, ..usual }
            }
        }
    }

    /// What is enough where the landing for another volume is known.
    pub(in crate::design) fn lighter(self) -> Self {
        let less = |whole: usize, eighths: usize| whole * eighths / 8;
        Self {
            trials: less(self.trials, 1),
            population: less(self.population, 5).max(8),
            generations: less(self.generations, 5),
            ..self
        }
    }
}

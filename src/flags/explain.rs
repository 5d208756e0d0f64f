//! What stands behind a fit.

use super::found::Found;
use crate::explain::Explanation;

impl Found {
    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Each test ride is ridden, flown and landed in full for a rider's values, and compared with what was seen \
            of it. The values sought are the likeliest ones given what was believed of each beforehand (maximum a posteriori, \
            by Levenberg's and Marquardt's method), with a normal distribution of their scores about that place (Laplace). It is done \
            under each lean, and leans are weighed by how likely they make the flags. A flag is taken to be bad with a small \
            probability, and then off by ten times as much: so a single bad one loses its say and is named.";
        let limits = "One rider with one habit; who rides differently each time shows as scatter of the flags. Mass, grip, \
            wind, sizes and the ground are taken as the site has them: where they are wrong, the fitted numbers make up \
            for it, and a forecast far beyond the flags is the worse for it.";
        let mut said = Explanation::new(model, limits)
            .with_source("K. Levenberg, Quart. Appl. Math. 2 (1944) 164; D. W. Marquardt, J. SIAM 11 (1963) 431 (from memory)")
            .with_source("C. M. Bishop, Pattern Recognition and Machine Learning, 2006, sections 4.4 and 3.4 (from memory)")
            .with_input("flags", self.flags.len() as f64, "");
        for estimate in &self.estimates {
            let unknown = estimate.unknown;
            said = said.with_input(unknown.name(), estimate.median, unknown.unit());
        }
        for lean in &self.leans {
            said = said.with_input(&format!("weight.{}", lean.lean.name()), lean.weight, "");
        }
        said
    }
}

//! Gauss rules for the hodograph, and how far each is good enough.

/// A symmetric rule of `2 H` nodes on -1 to 1, and `T` terms for the hyperbolic functions.
///
/// It is good for flights whose turn `w`, half of what `asinh(u_z / u_h)` goes through, and drag `q`, the most
/// `k |u|^2 / g` is, obey `w (1 + growth q) < limit`. Its error is then below `2e-10 |u|^2 / g` metres by the bound for
/// functions analytic in an ellipse (L. N. Trefethen, Approximation Theory and Approximation Practice, 2013, theorem 19.3);
/// a test computes it along that line.
#[derive(Debug)]
pub(super) struct Rule<const H: usize, const T: usize> {
    /// The nodes above zero and their weights.
    pub(super) nodes: [[f64; 2]; H],
    pub(super) growth: f64,
    pub(super) limit: f64,
}

/// The most drag that any rule is good for.
pub(super) const STRONGEST: f64 = 0.3;

/// For most flights.
pub(super) const SHORT: Rule<5, 9> = Rule {
    nodes: [
        [0.14887433898163122, 0.2955242247147528],
        [0.4333953941292472, 0.2692667193099965],
        [0.6794095682990244, 0.219086362515982],
        [0.8650633666889845, 0.1494513491505804],
        [0.9739065285171717, 0.06667134430868814],
    ],
    growth: 4.0,
    limit: 1.3,
};

/// For long falls, and wind from behind.
pub(super) const LONG: Rule<8, 13> = Rule {
    nodes: [
        [0.09501250983763744, 0.18945061045506864],
        [0.2816035507792589, 0.18260341504492364],
        [0.45801677765722737, 0.16915651939500265],
        [0.6178762444026438, 0.1495959888165767],
        [0.755404408355003, 0.12462897125553407],
        [0.8656312023878318, 0.0951585116824926],
        [0.9445750230732326, 0.062253523938647456],
        [0.9894009349916499, 0.027152459411754176],
    ],
    growth: 3.0,
    limit: 3.0,
};

/// For flights that come near to rest in the air.
pub(super) const STEEP: Rule<12, 19> = Rule {
    nodes: [
        [0.06405689286260563, 0.12793819534675202],
        [0.1911188674736163, 0.12583745634682825],
        [0.3150426796961634, 0.1216704729278033],
        [0.4337935076260451, 0.11550566805372552],
        [0.5454214713888396, 0.10744427011596556],
        [0.6480936519369755, 0.09761865210411393],
        [0.7401241915785544, 0.0861901615319532],
        [0.820001985973903, 0.07334648141108016],
        [0.8864155270044011, 0.05929858491543636],
        [0.9382745520027328, 0.04427743881741941],
        [0.9747285559713095, 0.02853138862893356],
        [0.9951872199970213, 0.01234122979998869],
    ],
    growth: 3.0,
    limit: 6.4,
};

/// The same nodes, for one flight: its error is below `2e-13 |u|^2 / g`.
pub(super) const FINE: Rule<12, 19> = Rule { limit: 3.5, ..STEEP };

/// `1 / (2 j + odd)!`, the highest first.
pub(super) const fn hyperbolic<const T: usize>(odd: usize) -> [f64; T] {
    let mut terms = [1.0; T];
    let mut j = 1;
    while j < T {
        let n = (2 * j + odd) as f64;
        terms[T - 1 - j] = terms[T - j] / (n * (n - 1.0));
        j += 1;
    }
    terms
}

#[cfg(test)]
mod tests;

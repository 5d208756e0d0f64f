//! One step of eighth order under any acceleration, in the machine's vector registers.
//!
//! The 12 stages of DOP853 with its two estimates of the error (E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary
//! Differential Equations I, 2nd ed. 1993, section II.10; the coefficients of their program). A place is the integral of
//! its velocity, so the stages' places follow from their accelerations by the square of the matrix, as Nyström's methods
//! have it.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "rows and columns of a matrix")]

use crate::force::{Acceleration, Moving, Vector};
use crate::math::lanes::Lanes;
use pulp::Simd;

const STAGES: usize = 12;
type Row = [f64; STAGES];

/// What the accelerations of earlier stages add to a stage's velocity.
const A: [Row; STAGES] = [
    row(&[]),
    row(&[0.05260015195876773]),
    row(&[0.0197250569845379, 0.0591751709536137]),
    row(&[0.02958758547680685, 0.0, 0.08876275643042054]),
    row(&[0.2413651341592667, 0.0, -0.8845494793282861, 0.924834003261792]),
    row(&[0.037037037037037035, 0.0, 0.0, 0.17082860872947386, 0.12546768756682242]),
    row(&[0.037109375, 0.0, 0.0, 0.17025221101954405, 0.06021653898045596, -0.017578125]),
    row(&[
        0.03709200011850479,
        0.0,
        0.0,
        0.17038392571223998,
        0.10726203044637328,
        -0.015319437748624402,
        0.008273789163814023,
    ]),
    row(&[
        0.6241109587160757,
        0.0,
        0.0,
        -3.3608926294469414,
        -0.868219346841726,
        27.59209969944671,
        20.154067550477894,
        -43.48988418106996,
    ]),
    row(&[
        0.47766253643826434,
        0.0,
        0.0,
        -2.4881146199716677,
        -0.590290826836843,
        21.230051448181193,
        15.279233632882423,
        -33.28821096898486,
        -0.020331201708508627,
    ]),
    row(&[
        -0.9371424300859873,
        0.0,
        0.0,
        5.186372428844064,
        1.0914373489967295,
        -8.149787010746927,
        -18.52006565999696,
        22.739487099350505,
        2.4936055526796523,
        -3.0467644718982196,
    ]),
    row(&[
        2.273310147516538,
        0.0,
        0.0,
        -10.53449546673725,
        -2.0008720582248625,
        -17.9589318631188,
        27.94888452941996,
        -2.8589982771350235,
        -8.87285693353063,
        12.360567175794303,
        0.6433927460157636,
    ]),
];
/// What they add to the velocity after the step.
const B: Row = [
    0.054293734116568765,
    0.0,
    0.0,
    0.0,
    0.0,
    4.450312892752409,
    1.8915178993145003,
    -5.801203960010585,
    0.3111643669578199,
    -0.1521609496625161,
    0.20136540080403034,
    0.04471061572777259,
];
/// What a step of third order takes of the first, the ninth and the last.
const THIRD: [(usize, f64); 3] =
    [(0, 0.2440944881889764), (8, 0.7338466882816118), (11, 0.022058823529411766)];
/// What the step is off one of fifth order.
const FIFTH: Row = [
    0.01312004499419488,
    0.0,
    0.0,
    0.0,
    0.0,
    -1.2251564463762044,
    -0.4957589496572502,
    1.6643771824549864,
    -0.35032884874997366,
    0.3341791187130175,
    0.08192320648511571,
    -0.022355307863886294,
];

/// How much the squares' ratio makes an error count for more.
const DOUBT: f64 = 4e4;

/// What they add to a stage's place, and to the place after the step.
const AA: [Row; STAGES] = squared();
const BA: Row = times_a(&B);
/// When the stages are.
const C: Row = sums();

const fn row<const L: usize>(terms: &[f64; L]) -> Row {
    let mut row = [0.0; STAGES];
    let mut i = 0;
    while i < L {
        row[i] = terms[i];
        i += 1;
    }
    row
}

const fn times_a(by: &Row) -> Row {
    let mut product = [0.0; STAGES];
    let mut j = 0;
    while j < STAGES {
        let mut i = 0;
        while i < STAGES {
            product[j] += by[i] * A[i][j];
            i += 1;
        }
        // Those that vanish do so but for rounding.
        if product[j] < 1e-13 && product[j] > -1e-13 {
            product[j] = 0.0;
        }
        j += 1;
    }
    product
}

const fn squared() -> [Row; STAGES] {
    let mut product = [[0.0; STAGES]; STAGES];
    let mut i = 0;
    while i < STAGES {
        product[i] = times_a(&A[i]);
        i += 1;
    }
    product
}

const fn sums() -> Row {
    let mut sums = [0.0; STAGES];
    let mut i = 0;
    while i < STAGES {
        let mut j = 0;
        while j < i {
            sums[i] += A[i][j];
            j += 1;
        }
        i += 1;
    }
    sums
}

/// Where flights are, what accelerates them there, and how that changes.
#[derive(Clone, Copy)]
pub(super) struct State<S: Simd, const N: usize> {
    pub(super) at: Moving<S, N>,
    pub(super) pull: Vector<S, N>,
    /// Its first and second derivative, about; nothing at the launch.
    pub(super) jerk: Vector<S, N>,
    pub(super) snap: Vector<S, N>,
}

impl<S: Simd, const N: usize> State<S, N> {
    #[inline(always)]
    pub(super) fn new(at: Moving<S, N>, force: &impl Acceleration) -> Self {
        let none = [at.time.filled(0.0); 3];
        Self { pull: force.acceleration(&at), at, jerk: none, snap: none }
    }

    /// The flights a step of their own later, and by how much their velocities seem to be off, m/s.
    #[inline(always)]
    pub(super) fn after(
        &self,
        step: Lanes<S, N>,
        force: &impl Acceleration,
    ) -> (Self, Lanes<S, N>) {
        let mut pulls = [self.pull; STAGES];
        macro_rules! stages {
            ($($i:literal)*) => {
                $(pulls[$i] = force.acceleration(&self.stage::<$i>(step, &pulls));)*
            };
        }
        stages!(1 2 3 4 5 6 7 8 9 10 11);
        let (mean, bend) = (sum::<S, N, STAGES>(&pulls, &B), sum::<S, N, STAGES>(&pulls, &BA));
        let mut next = Self::new(self.moved(step, step, &mean, &bend), force);
        next.look_back(step, &self.pull, &pulls[10]);
        (next, error(step, &mean, &pulls))
    }

    /// Takes the derivatives from the parabola through the accelerations before the step, six sevenths into it, where the
    /// eleventh stage is, and now.
    #[inline(always)]
    fn look_back(&mut self, step: Lanes<S, N>, first: &Vector<S, N>, late: &Vector<S, N>) {
        let often = step.recip();
        for i in 0..3 {
            let short = (self.pull[i] - late[i]) * (often * step.filled(7.0));
            let bend = short - (self.pull[i] - first[i]) * often;
            self.jerk[i] = bend.mul_add(step.filled(1.0 / 6.0), short);
            self.snap[i] = bend * (often * step.filled(7.0 / 3.0));
        }
    }

    #[inline(always)]
    fn stage<const I: usize>(
        &self,
        step: Lanes<S, N>,
        pulls: &[Vector<S, N>; STAGES],
    ) -> Moving<S, N> {
        let (mean, bend) = (sum::<S, N, I>(pulls, &A[I]), sum::<S, N, I>(pulls, &AA[I]));
        self.moved(step, step * step.filled(C[I]), &mean, &bend)
    }

    /// A share of a step on, with what the accelerations are in the mean.
    #[inline(always)]
    fn moved(
        &self,
        step: Lanes<S, N>,
        after: Lanes<S, N>,
        mean: &Vector<S, N>,
        bend: &Vector<S, N>,
    ) -> Moving<S, N> {
        let Moving { time, mut place, mut velocity } = self.at;
        let square = step * step;
        for i in 0..3 {
            place[i] = square.mul_add(bend[i], after.mul_add(velocity[i], place[i]));
            velocity[i] = step.mul_add(mean[i], velocity[i]);
        }
        Moving { time: time + after, place, velocity }
    }
}

/// The first so many accelerations, weighed.
#[inline(always)]
fn sum<S: Simd, const N: usize, const I: usize>(
    pulls: &[Vector<S, N>; STAGES],
    weights: &Row,
) -> Vector<S, N> {
    let zero = pulls[0][0].filled(0.0);
    let mut sum = [zero; 3];
    for j in 0..I {
        if weights[j] != 0.0 {
            let weight = zero.filled(weights[j]);
            for i in 0..3 {
                sum[i] = weight.mul_add(pulls[j][i], sum[i]);
            }
        }
    }
    sum
}

/// `h e5^2 / sqrt(e5^2 + e3^2 / 100)`, as Hairer's program has it, and more where the two errors come near each other: there
/// the step is too long for them to tell, as where the drag has its kink.
#[inline(always)]
fn error<S: Simd, const N: usize>(
    step: Lanes<S, N>,
    mean: &Vector<S, N>,
    pulls: &[Vector<S, N>; STAGES],
) -> Lanes<S, N> {
    let fifth = sum::<S, N, STAGES>(pulls, &FIFTH);
    let mut third = *mean;
    for (j, weight) in THIRD {
        for i in 0..3 {
            third[i] = step.filled(-weight).mul_add(pulls[j][i], third[i]);
        }
    }
    let (fifth, third) = (square(&fifth), square(&third));
    let least = step.filled(f64::MIN_POSITIVE);
    let both = third.mul_add(step.filled(0.01), fifth).max(least).sqrt();
    let doubt = (fifth * step.filled(DOUBT) / third.max(least)) + step.filled(1.0);
    step.abs() * fifth * doubt / both
}

/// The square of a vector's length.
#[inline(always)]
pub(super) fn square<S: Simd, const N: usize>(v: &Vector<S, N>) -> Lanes<S, N> {
    let [x, y, z] = *v;
    x.mul_add(x, y.mul_add(y, z * z))
}

//! One step of the search as a convex program.

use super::options::FreeOptions;
use super::patch::Patch;
use super::pull::Ways;
use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettings, DefaultSolver, IPSolver as _, NonnegativeConeT, SecondOrderConeT,
    SolverStatus, SupportedConeT,
};

/// Steps on the grid from a node, with what its height counts.
type Stencil = &'static [((i64, i64), f64)];

/// Second differences along the axes, and the twist of a cell.
const BENDS: [Stencil; 3] = [
    &[((-1, 0), 1.0), ((0, 0), -2.0), ((1, 0), 1.0)],
    &[((0, -1), 1.0), ((0, 0), -2.0), ((0, 1), 1.0)],
    &[((0, 0), 1.0), ((1, 0), -1.0), ((0, 1), -1.0), ((1, 1), 1.0)],
];
/// The gradient in the middle of a cell, times the spacing.
const SLOPES: [Stencil; 2] = [
    &[((0, 0), -0.5), ((1, 0), 0.5), ((0, 1), -0.5), ((1, 1), 0.5)],
    &[((0, 0), -0.5), ((1, 0), -0.5), ((0, 1), 0.5), ((1, 1), 0.5)],
];
/// What is allowed is this much more than what the present ground has, so that rounding cannot forbid it.
const SLACK: f64 = 1e-9;

/// The step that should lower the severity most, no node by more than `bound`: a change of each unknown.
///
/// The severity is taken as the sum of `share t^2`, `t` above each way's `h + J d`, `h` its fall height and `J` its answers:
/// a rider counts by his hardest way, and which one that is may change within a step. Errors: what the solver says where it
/// has no solution.
pub(super) fn step(
    patch: &Patch,
    options: &FreeOptions,
    earth: &[f64],
    riders: &[Ways],
    bound: f64,
) -> Result<Vec<f64>, String> {
    let (nodes, count) = (patch.unknowns(), patch.unknowns() + riders.len());
    let rows = Rows::of(patch, options, earth, riders, bound);
    let (p, q, a) = (squares(riders, nodes), vec![0.0; count], rows.matrix(count));
    let mut settings = DefaultSettings { verbose: false, ..DefaultSettings::default() };
    // Far finer than a shovel: a step is landed again anyway.
    (settings.tol_gap_abs, settings.tol_gap_rel, settings.tol_feas) = (1e-9, 1e-7, 1e-9);
    let mut solver = DefaultSolver::new(&p, &q, &a, &rows.bounds, &rows.cones, settings)
        .map_err(|error| error.to_string())?;
    solver.solve();
    match solver.solution.status {
        SolverStatus::Solved | SolverStatus::AlmostSolved => {
            Ok(solver.solution.x[..nodes].to_vec())
        }
        status => Err(format!("{status:?}")),
    }
}

/// The severity of the touchdowns as a step is expected to leave it.
pub(super) fn expected(riders: &[Ways], step: &[f64]) -> f64 {
    let then = |rider: &Ways| {
        let ways = rider.ways.iter().map(|way| way.fall_height + way.change(step));
        rider.share * ways.fold(0.0, f64::max).powi(2)
    };
    riders.iter().map(then).sum()
}

/// The second derivatives of the sum of squares.
fn squares(riders: &[Ways], nodes: usize) -> CscMatrix<f64> {
    let mut triplets = Triplets::default();
    // In every node's own place, so that none is free of all terms: of no weight against any touchdown.
    for node in 0..nodes {
        triplets.push(node, node, 1e-9);
    }
    for (rider, place) in riders.iter().zip(nodes..) {
        triplets.push(place, place, 2.0 * rider.share);
    }
    triplets.matrix(nodes + riders.len(), nodes + riders.len())
}

/// A sparse matrix while it is being written.
#[derive(Default)]
struct Triplets {
    rows: Vec<usize>,
    columns: Vec<usize>,
    values: Vec<f64>,
}

impl Triplets {
    fn push(&mut self, row: usize, column: usize, value: f64) {
        self.rows.push(row);
        self.columns.push(column);
        self.values.push(value);
    }

    fn matrix(self, rows: usize, columns: usize) -> CscMatrix<f64> {
        CscMatrix::new_from_triplets(rows, columns, self.rows, self.columns, self.values)
    }
}

/// What a step has to keep to: `bounds - entries d` in the cones.
struct Rows {
    entries: Vec<(usize, usize, f64)>,
    bounds: Vec<f64>,
    cones: Vec<SupportedConeT<f64>>,
}

impl Rows {
    fn of(
        patch: &Patch,
        options: &FreeOptions,
        earth: &[f64],
        riders: &[Ways],
        bound: f64,
    ) -> Self {
        let mut rows = Self { entries: Vec::new(), bounds: Vec::new(), cones: Vec::new() };
        rows.hardest(riders, patch.unknowns());
        rows.depths(patch, options, earth, bound);
        rows.bends(patch, options, earth);
        rows.cones.push(NonnegativeConeT(rows.bounds.len()));
        rows.slopes(patch, options, earth);
        rows
    }

    /// A row `bound - entries d`.
    fn row(&mut self, entries: impl IntoIterator<Item = (usize, f64)>, bound: f64) {
        let row = self.bounds.len();
        self.entries.extend(entries.into_iter().map(|(column, value)| (row, column, value)));
        self.bounds.push(bound);
    }

    /// Nobody's fall height below that of any of his ways.
    fn hardest(&mut self, riders: &[Ways], nodes: usize) {
        for (rider, place) in riders.iter().zip(nodes..) {
            for way in &rider.ways {
                let answers = way.by_node.iter().copied();
                self.row(answers.chain([(place, -1.0)]), -way.fall_height);
            }
        }
    }

    /// No earth below none, no step above the bound, no more earth than there is.
    fn depths(&mut self, patch: &Patch, options: &FreeOptions, earth: &[f64], bound: f64) {
        let unknowns = || {
            earth.iter().enumerate().filter_map(|(node, earth)| Some((patch.unknown(node)?, earth)))
        };
        for (unknown, earth) in unknowns() {
            self.row([(unknown, 1.0)], bound);
            self.row([(unknown, -1.0)], earth.min(bound).max(0.0));
        }
        let left = (options.volume() - patch.volume(earth)).max(0.0);
        let square = patch.spacing() * patch.spacing();
        self.row(unknowns().map(|(unknown, _)| (unknown, square)), left);
    }

    fn bends(&mut self, patch: &Patch, options: &FreeOptions, earth: &[f64]) {
        let most = patch.spacing() * patch.spacing() / options.radius();
        for node in 0..earth.len() {
            for stencil in BENDS {
                let Some(sum) = Sum::of(patch, earth, node, stencil) else { continue };
                let most = most.max(sum.bare.abs()) + SLACK;
                self.row(sum.entries.iter().copied(), (most - sum.now).max(0.0));
                self.row(sum.entries.iter().map(|(at, x)| (*at, -x)), (most + sum.now).max(0.0));
            }
        }
    }

    fn slopes(&mut self, patch: &Patch, options: &FreeOptions, earth: &[f64]) {
        let most = patch.spacing() * options.steepest().tan();
        for node in 0..earth.len() {
            let sums = SLOPES.map(|stencil| Sum::of(patch, earth, node, stencil));
            let [Some(x), Some(y)] = sums else { continue };
            let now = x.now.hypot(y.now);
            let most = most.max(x.bare.hypot(y.bare)).max(now) + SLACK;
            self.row([], most);
            for sum in [x, y] {
                self.row(sum.entries.iter().map(|(at, x)| (*at, -x)), sum.now);
            }
            self.cones.push(SecondOrderConeT(3));
        }
    }

    fn matrix(&self, columns: usize) -> CscMatrix<f64> {
        let mut triplets = Triplets::default();
        for (row, column, value) in &self.entries {
            triplets.push(*row, *column, *value);
        }
        triplets.matrix(self.bounds.len(), columns)
    }
}

/// A weighted sum of heights about a node.
struct Sum {
    /// Of the present ground.
    bare: f64,
    /// With the earth.
    now: f64,
    /// What each unknown counts.
    entries: Vec<(usize, f64)>,
}

impl Sum {
    /// None where it leaves the grid or has no unknown.
    fn of(patch: &Patch, earth: &[f64], node: usize, stencil: Stencil) -> Option<Self> {
        let mut sum = Self { bare: 0.0, now: 0.0, entries: Vec::new() };
        for (steps, weight) in stencil {
            let at = patch.stepped(node, *steps)?;
            sum.bare += weight * patch.bare()[at];
            sum.now += weight * (patch.bare()[at] + earth[at]);
            sum.entries.extend(patch.unknown(at).map(|unknown| (unknown, *weight)));
        }
        (!sum.entries.is_empty()).then_some(sum)
    }
}

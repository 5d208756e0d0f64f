//! What can be wrong with a ground as it is given.

use crate::math::range::OutOfRange;
use serde::{Deserialize, Serialize};

/// Why triangles make no surface.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum MeshError {
    /// There is no triangle.
    #[error("a surface needs at least one triangle")]
    Empty,
    /// A vertex with a coordinate that is not a finite number.
    #[error("vertex {index} is not finite")]
    NotFinite {
        /// Which vertex, from 0.
        index: usize,
    },
    /// A triangle that names a vertex that is not there.
    #[error("triangle {triangle} names vertex {vertex} of {count}")]
    NoVertex {
        /// Which triangle, from 0.
        triangle: usize,
        /// The vertex it names.
        vertex: u32,
        /// How many vertices there are.
        count: usize,
    },
}

/// Why numbers make no ground.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum GroundError {
    /// A single number out of its range.
    #[error(transparent)]
    Value(#[from] OutOfRange),
    /// Not as many heights as the grid has corners.
    #[error("heights: {given} values for a grid of {rows} rows by {columns} columns")]
    HeightCount {
        /// How many were given.
        given: usize,
        /// Rows, along `y`.
        rows: usize,
        /// Columns, along `x`.
        columns: usize,
    },
    /// A height of the grid that is not a finite number.
    #[error("heights: row {row}, column {column} is not finite: {value}")]
    HeightNotFinite {
        /// Row, from 0, along `y`.
        row: usize,
        /// Column, from 0, along `x`.
        column: usize,
        /// The value given.
        value: f64,
    },
    /// Fewer than three surveyed points.
    #[error("points: a survey needs at least 3 points, not {given}")]
    TooFewPoints {
        /// How many were given.
        given: usize,
    },
    /// A surveyed point that is not finite.
    #[error("points: point {index} is not finite: ({x}, {y}, {z})")]
    PointNotFinite {
        /// Which point, from 0.
        index: usize,
        /// Its coordinates.
        x: f64,
        /// Its coordinates.
        y: f64,
        /// Its coordinates.
        z: f64,
    },
    /// A surveyed point too far out to triangulate.
    #[error("points: point {index} at x = {x}, y = {y} is too far out to triangulate")]
    TooFar {
        /// Which point, from 0.
        index: usize,
        /// Where it stands.
        x: f64,
        /// Where it stands.
        y: f64,
    },
    /// Two surveyed points at one plan position.
    #[error("points: points {first} and {second} stand at the same place, x = {x}, y = {y}")]
    SamePlace {
        /// The first of the two, from 0.
        first: usize,
        /// The second.
        second: usize,
        /// Where they stand.
        x: f64,
        /// Where they stand.
        y: f64,
    },
    /// All surveyed points on one line in plan: no surface between them.
    #[error("points: all {given} points stand on one line in plan")]
    OnOneLine {
        /// How many were given.
        given: usize,
    },
    /// The triangles between surveyed points make no surface.
    #[error(transparent)]
    Mesh(#[from] MeshError),
}

//! Numerics that know no physics: ranges, roots, quadrature, ordinary differential equations, sampling.

pub mod bernstein;
pub mod bilinear;
pub mod chebyshev;
pub mod columns;
pub mod count;
pub mod dual;
pub mod elimination;
pub mod jet;
pub mod lanes;
pub mod legendre;
pub mod ode;
pub mod outline;
pub mod parallel;
pub mod path;
pub mod polygon;
pub mod polynomial;
pub mod quadrature;
pub mod quantile;
pub mod range;
pub mod roots;
pub mod sampling;
pub mod search;
pub mod spline;

/// A vector in space: metres, or metres per second and so on.
pub type Vec3 = nalgebra::Vector3<f64>;
/// A vector in a plane.
pub type Vec2 = nalgebra::Vector2<f64>;

//! The standard atmosphere.

use loamline::Air;

use crate::Computed;
use crate::harness::Inputs;

pub(crate) fn compute(id: &str, inputs: &Inputs) -> Option<Computed> {
    id.starts_with('S').then(|| at(inputs))
}

fn at(inputs: &Inputs) -> Computed {
    let air = Air::standard().with_elevation(elevation(inputs))?;
    let sea = Air::standard();
    Ok(vec![
        ("temperature", air.temperature_c() + 273.15),
        ("pressure", air.pressure()),
        ("pressure_bar", air.pressure() / 1e5),
        ("density", air.density()),
        ("density_ratio", air.density() / sea.density()),
    ])
}

/// The height over the sea that a tape would measure, whichever kind of height is printed.
fn elevation(inputs: &Inputs) -> f64 {
    /// The Earth's nominal radius of ISO 2533, m.
    const RADIUS: f64 = 6_356_766.0;
    if inputs.has("height_geometric") {
        return inputs.one("height_geometric");
    }
    let height = inputs.one("height_geopotential");
    RADIUS * height / (RADIUS - height)
}

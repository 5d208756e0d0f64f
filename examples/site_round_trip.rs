//! A site as JSON and back, whole: what an embedding program stores and sends.
//!
//! Site files for people are TOML (`files::load_site`); values also go through any format of serde.
#![allow(clippy::print_stdout, reason = "an example shows what it does")]

use loamline::files;
use loamline::math::parallel::Crew;
use loamline::site::Site;
use std::error::Error;

/// The fall height of every pass that comes down, in order.
fn falls(site: &Site) -> Result<Vec<f64>, Box<dyn Error>> {
    let passes = site.passes(32, 1, &Crew::default())?;
    let hardest = passes.members().iter().filter_map(|pass| pass.hardest());
    Ok(hardest.filter_map(|way| way.contact().map(|contact| contact.fall_height)).collect())
}

fn main() -> Result<(), Box<dyn Error>> {
    let site = files::demo_site()?;
    let text = serde_json::to_string(&site)?;
    let mut back: Site = serde_json::from_str(&text)?;
    assert_eq!(back, site, "every number comes back to the last bit");
    assert_eq!(falls(&back)?, falls(&site)?);
    println!("{}: {} bytes of JSON, and the same passes from it", site.name, text.len());

    // Everything may be changed; what is done with a site checks it first and says what is wrong.
    back.fall_limit = -1.0;
    let wrong = back.check().err().ok_or("a limit below 0 is no limit")?;
    println!("changed: {wrong}");
    Ok(())
}

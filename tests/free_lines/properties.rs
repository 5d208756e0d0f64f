//! Whatever the wall and the entry: a free line on which nothing is carried across, or a reason why there is none.

use super::{most_side_load, ridden};
use loamline::feature::{Bank, FreeEntry, Wall};
use loamline::geometry::{Piece, Plan, Turn};
use loamline::math::Vec3;
use loamline::{Air, Rider};
use proptest::prelude::*;

prop_compose! {
    fn any_wall()(
        (radius, sweep) in (1.5..20.0f64, 0.2..2.5f64),
        straight in prop::option::of(0.5..3.0f64),
        (bank_in, bank_out) in (0.0..1.5f64, 0.0..1.57f64),
        (width, grade, skew) in (0.5..4.0f64, -0.5..0.5f64, -0.4..0.6f64),
        is_left in any::<bool>(),
        hollow in prop::option::of(1.0..10.0f64),
    ) -> Option<Wall> {
        let turn = if is_left { Turn::Left } else { Turn::Right };
        let straight = straight.map(|length| Piece::Straight { length });
        let pieces = straight.into_iter().chain([Piece::Arc { radius, angle: sweep }]).collect();
        let bank = Bank::linear(bank_in, bank_out).ok()?;
        let wall = Wall::new(Plan::new(pieces, turn).ok()?, bank, width).ok()?;
        let wall = wall.with_grade(grade).ok()?.with_end_skew(skew).ok()?;
        wall.with_hollow(hollow.unwrap_or(f64::INFINITY)).ok()
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]
    #[test]
    fn any_entry_gives_a_free_line_or_a_reason(
        wall in any_wall(),
        (height, speed, heading) in (0.0..4.0f64, 0.1..30.0f64, -1.57..1.57f64),
        (com_height, crr, inertia) in (0.0..1.3f64, 0.0..0.3f64, 0.0..0.5f64),
        wind in prop::array::uniform3(-8.0..8.0f64),
    ) {
        let Some(wall) = wall else { return Ok(()) };
        let rider = Rider::default().with_com_height(com_height).unwrap();
        let rider = rider.with_crr(crr).unwrap().with_wheel_inertia(inertia).unwrap();
        let air = Air::standard().with_wind(Vec3::from(wind)).unwrap();
        let entry = FreeEntry::new(height, speed).with_heading(heading);
        let Ok(free) = wall.free_line(&rider, &air, &entry) else { return Ok(()) };
        let (line, end) = (free.line(), free.end());
        prop_assert!(line.length() > 0.0);
        prop_assert!(end.speed.is_finite() && end.time > 0.0);
        prop_assert!((-1e-8..=wall.width() + 1e-8).contains(&end.height), "{end:?}");
        let ride = ridden(line, &rider, &air, speed);
        let side = most_side_load(&ride);
        prop_assert!(side < 1e-8, "{side:e} {end:?}");
    }
}

"""Who lands where: shares by hand for a handful of riders, and the words made of them."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest
from loamline.answer import build_height, few_soft, slope_words, soft_already, who_not, who_stays
from loamline.tally import ENDS, Lean, alike, tally


def riders(*members):
    """Passes of members given as (class, weight, outcome, fall height)."""
    who, weight, outcome, height = zip(*members, strict=True)
    return SimpleNamespace(
        who=np.array(who),
        weight=np.array(weight, dtype=float),
        outcome=np.array(outcome),
        fall_height=np.array(height, dtype=float),
        class_names=["steady", "quick"],
    )


FIVE = riders(
    (0, 0.4, "caught", 0.5),
    (0, 0.1, "not_launched", np.nan),
    (1, 0.2, "caught", 1.5),
    (1, 0.2, "long", 0.9),
    (1, 0.1, "rolled_off", 0.3),
)


def test_shares_are_weighted_and_of_those_who_leave():
    everybody, steady, quick = tally(FIVE, 1.0)
    assert everybody.left == pytest.approx(0.9)
    assert everybody.soft == pytest.approx(0.5 / 0.9)
    assert everybody.hard == pytest.approx(0.2 / 0.9)
    assert everybody.long == pytest.approx(0.2 / 0.9)
    assert (steady.left, steady.soft) == pytest.approx((0.8, 1.0))
    assert quick.rolled_off == 0.0 and quick.soft == pytest.approx(0.1 / 0.5)


def test_every_rider_who_leaves_is_counted_once():
    for row in tally(FIVE, 1.0):
        assert row.soft + row.hard + sum(getattr(row, e) for e in ENDS) == pytest.approx(1.0)


def test_the_limit_itself_is_soft_and_a_hair_above_is_not():
    at, above = riders((0, 1.0, "caught", 1.0)), riders((0, 1.0, "caught", np.nextafter(1.0, 2.0)))
    assert tally(at, 1.0)[0].soft == 1.0
    assert tally(above, 1.0)[0].soft == 0.0


def test_quantiles_are_weighted():
    row = tally(
        riders((0, 0.9, "caught", 0.4), (0, 0.06, "caught", 0.8), (0, 0.04, "long", 2.0)), 1.0
    )[0]
    assert row.median_fall_height == 0.4
    assert row.p95_fall_height == 0.8
    assert row.highest_fall_height == 2.0


def test_nobody_leaves_is_no_division_by_nothing():
    row = tally(riders((0, 1.0, "not_launched", np.nan)), 1.0)[0]
    assert (row.left, row.soft) == (0.0, 0.0)
    assert row.as_dict()["p95_fall_height"] is None


def test_who_stays_is_said_above_one_in_twenty_only():
    few = riders((0, 0.95, "caught", 0.1), (1, 0.05, "not_launched", np.nan))
    many = riders((0, 0.9, "caught", 0.1), (1, 0.1, "not_launched", np.nan))
    assert who_stays(tally(few, 1.0)) is None
    said = who_stays(tally(many, 1.0))
    assert said is not None and said.startswith("10 of 100") and "mostly quick" in said


def test_a_landing_that_takes_fewer_than_half_softly_says_so():
    half = riders((0, 0.5, "caught", 0.1), (1, 0.5, "long", 0.1))
    less = riders((0, 0.4, "caught", 0.1), (1, 0.6, "long", 0.1))
    assert few_soft(tally(half, 1.0)) is None
    said = few_soft(tally(less, 1.0))
    assert said is not None and "only 40 of 100 softly" in said


def test_where_nearly_everybody_lands_softly_already_it_is_said():
    most = riders((0, 0.96, "landed", 0.1), (1, 0.04, "landed", 1.2))
    fewer = riders((0, 0.94, "landed", 0.1), (1, 0.06, "landed", 1.2))
    assert soft_already(tally(fewer, 1.0)) is None
    said = soft_already(tally(most, 1.0))
    assert said is not None and "96 of 100" in said and "--fall-limit" in said


def test_leans_that_come_to_the_same_are_alike():
    one, other = (tally(riders((0, 1.0, "landed", height)), 1.0)[0] for height in (0.5, 0.6))
    assert alike([Lean("deck", one), Lean("balanced", one)])
    assert not alike([Lean("deck", one), Lean("balanced", other)])


def test_who_does_not_land_softly_is_told_commonest_first():
    said = who_not(tally(FIVE, 1.0), 1.0)
    assert len(said) == 2
    assert all(line.startswith("22 of 100") and "mostly quick" in line for line in said)


def test_slopes_and_settling_in_a_builders_numbers():
    assert slope_words(45.0) == "45° (1 : 1.00)"
    assert slope_words(26.565051) == "27° (1 : 2.00)"
    # Dykes, FAO Training Series 20/1: built so much higher that the settled height is left.
    assert build_height(1.8, 0.1) == pytest.approx(2.0)
    assert build_height(-0.2, 0.1) == -0.2

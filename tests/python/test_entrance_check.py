"""The entrance's check: clearance, speed, earth and crib by elementary geometry."""

import math

import numpy as np
import pytest

import loamline as ll

BARE = ll.Rider(cda=0.0, crr=0.0)
AIR = ll.Air()


def ramp(**changes):
    shape = {"height": 0.8, "width": 1.5, "ramp_grade": 0.4, "sag_radius": 4.0, "crest_radius": 3.0}
    return ll.Entrance(**{**shape, **changes})


def check(entrance=None, speed=5.0, **options):
    return ll.check_entrance(entrance or ramp(), ll.Ground.plane(), BARE, AIR, speed, **options)


def test_the_deck_takes_its_height_off_the_speed():
    told = check()
    assert told.deck_speed == pytest.approx(math.sqrt(25.0 - 2.0 * AIR.gravity * 0.8))
    assert told.loads[0] < 1.0 < told.loads[1]
    assert told.warnings == [w for w in told.warnings if w.startswith("crib")]
    assert check(speed=2.0).deck_speed is None


def test_over_a_long_crest_the_chainring_is_where_pythagoras_says():
    long = ramp(height=3.0, ramp_grade=1.0, deck_grade=-1.0, crest_radius=1.5)
    told = check(long, chainring=(0.33, 0.07, 0.45))
    axles = math.sqrt((1.5 + 0.35) ** 2 - 0.6**2)
    middle = math.hypot(0.45 - 0.6, axles + 0.33 - 0.35)
    assert told.clearance == pytest.approx(middle - 0.07 - 1.5, abs=1e-9)
    assert told.level_clearance == pytest.approx(0.26)
    assert told.wheel_room == pytest.approx(4.0 - 0.35)
    ridge = ramp(height=2.0, ramp_grade=1.0, deck_grade=-0.5, crest_radius=1e-4)
    assert any("chainring" in warning for warning in check(ridge).warnings)


def test_earth_and_crib():
    told = check(batter_deg=45.0)
    assert told.back_height == pytest.approx(0.8)
    assert told.start_gap == pytest.approx(0.0)
    assert told.crib_width == pytest.approx(0.6 * 0.8)
    # On level ground a section is w d + d^2 where sides fall at 45 degrees.
    points = ramp().mesh(along=2001, across=2)[:, 0]
    depth = points[:, 2]
    expected = np.trapezoid(1.5 * depth + depth**2, points[:, 0])
    assert told.volume == pytest.approx(expected, rel=3e-3)
    for ratio in (told.crib_sliding, told.crib_overturning):
        value, low, high = ratio
        assert 0.0 < low <= value <= high


def test_text_pickle_card_and_explanation(round_trip):
    told = check()
    assert round_trip(told) == told
    assert repr(told).startswith("<EntranceCheck: 0.")
    assert "certify nothing" in told._repr_html_()
    assert "back_height = 0.8" in told.explain()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"speed": 0.0}, "speed"),
        ({"batter_deg": float("nan")}, "batter_deg"),
        ({"chainring": (0.3, -0.1, 0.4)}, "radius"),
        ({"chainring": (0.3, 0.1, 2.0)}, "ahead"),
        ({"soil": "moon dust"}, "soil"),
    ],
)
def test_wrong_input_is_named(changes, field):
    with pytest.raises(ll.InputError) as caught:
        check(**changes)
    assert caught.value.field == field


def test_what_cannot_be_checked_says_why():
    small = ll.Ground.grid((0, 0), (0.5, 0.5), np.zeros((3, 3)))
    with pytest.raises(ll.InputError, match="ground is not known"):
        ll.check_entrance(ramp(), small, BARE, AIR, 5.0)
    with pytest.raises(ll.RideError, match="wheel"):
        check(ramp(sag_radius=0.3))

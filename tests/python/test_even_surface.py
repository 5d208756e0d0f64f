"""The even landing across lines that leave in different places and directions."""

import loamline as ll
import numpy as np
import pytest

RIDER = ll.Rider(com_height_landing=0.9)
AIR = ll.Air(wind=(-1.0, 0.5, 0.0))
ASKED = {"fall_height": 0.6, "far": (7.0, -2.6), "near": 3.0, "rider": RIDER, "air": AIR}


def launch(share, speed=1.0):
    """Off an invented wall: the higher up it is left, the steeper and the more to the left."""
    heading, angle = 0.2 + 0.4 * share, 0.1 + 0.2 * share
    direction = np.array([np.cos(angle) * np.cos(heading), np.cos(angle) * np.sin(heading), np.sin(angle)])
    return ll.Launch(position=(3.0, 1.0 + 1.2 * share, 2.0 + 0.6 * share), velocity=tuple(speed * direction))


@pytest.fixture(scope="module")
def surface():
    return ll.even_surface([launch(share) for share in (0.0, 0.5, 1.0)], **ASKED, cross_slope_deg=6.0)


def test_it_holds_what_it_says(surface, round_trip):
    assert surface.reach[0] == 3.0
    assert surface.reach[1] == pytest.approx(7.0, abs=0.2)
    assert surface.stopped_by == "near_end"
    assert surface.launch_speeds.shape == (3, 2)
    assert (np.diff(surface.launch_speeds, axis=1) > 0.0).all()
    right, left = surface.width(5.0)
    y = np.linspace(right, left, 5)
    assert surface.height(np.full(5, 5.0), y).shape == (5,)
    by = 1e-4
    for x in (4.0, 6.0):
        middle = sum(surface.width(x)) / 2
        rise = (surface.height(x + by, middle) - surface.height(x - by, middle)) / (2 * by)
        across = (surface.height(x, middle + by) - surface.height(x, middle - by)) / (2 * by)
        assert surface.gradient(x, middle)[0] == pytest.approx([rise[0], across[0]], abs=1e-6)
    assert round_trip(surface) == surface
    assert "lines = 3" in surface.explain()
    assert repr(surface).startswith("<EvenSurface: 3 lines, fall height 0.6 m from 3.00 to ")
    assert surface.warnings == []


def test_flights_of_all_lines_land_on_its_ground_as_asked(surface):
    built = ll.Ground.plane(point=(0.0, 0.0, -9.0)).higher(surface.ground(spacing=0.05, beside=1.0))
    for line, share in enumerate((0.0, 0.5, 1.0)):
        slow, fast = surface.launch_speeds[line]
        for speed in np.linspace(slow, fast, 6)[1:-1]:
            flight = launch(share, speed).flight(built, RIDER, AIR)
            # Facets of 0.05 m on a curve: half of that times the curvature is what their angle is off.
            assert flight.touchdown.fall_height == pytest.approx(0.6, abs=0.012)


def test_points_are_a_survey_of_it(surface):
    points = surface.points(spacing=0.5, beside=0.3)
    ground = ll.Ground.survey(points)
    assert ground.height(*points[len(points) // 2, :2]) == pytest.approx(points[len(points) // 2, 2], abs=1e-9)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"fall_height": -0.1}, "fall_height"),
        ({"near": 9.0}, "near"),
        ({"far": (7.0, 5.0)}, "far"),
        ({"cross_slope_deg": 95.0}, "cross_slope_deg"),
        ({"steepest_deg": 0.0}, "steepest_deg"),
        ({"heading_deg": float("nan")}, "heading_deg"),
    ],
)
def test_wrong_input_is_named(changes, field):
    with pytest.raises(ll.InputError) as caught:
        ll.even_surface([launch(0.0), launch(1.0)], **{**ASKED, **changes})
    assert caught.value.field == field


def test_too_few_lines_and_lines_that_turn_back_are_refused():
    with pytest.raises(ll.InputError, match="lines = 1"):
        ll.even_surface([launch(0.0)], **ASKED)
    with pytest.raises(ll.InputError, match="turn the landing"):
        ll.even_surface([launch(0.0), launch(1.0)], **ASKED, heading_deg=190.0)

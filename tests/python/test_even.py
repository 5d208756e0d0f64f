"""The even landing: does it hold what it says, and does it say what is wrong?"""

import matplotlib as mpl
import numpy as np
import pytest

import loamline as ll

mpl.use("Agg")

AIR = ll.Air()
POINT = ll.Rider(com_height_landing=0.0)


def even(**changes):
    asked = {
        "launch_angle_deg": 20.0,
        "fall_height": 0.5,
        "far": (9.0, -2.0),
        "near": 3.0,
        "rider": ll.Rider(),
        "air": AIR,
    }
    return ll.even_landing(**{**asked, **changes})


def throw(speed, angle_deg=20.0, sideways_deg=0.0):
    angle, side = np.radians(angle_deg), np.radians(sideways_deg)
    level = speed * np.cos(angle)
    velocity = level * np.cos(side), level * np.sin(side), speed * np.sin(angle)
    return ll.Launch(position=(0, 0, 0), velocity=velocity)


def strip(landing, spacing=4e-4):
    """The earth as a strip of ground that falls away before it and goes on straight past it."""
    near, far = landing.reach
    x = np.arange(near - np.ceil((near + 1.0) / spacing) * spacing, far + 1.0, spacing)
    inside = np.clip(x, near, far)
    slope = np.where(x < near, -3.0, np.tan(np.radians(landing.slope_deg(inside))))
    height = landing.height(inside) - slope * (x - inside)
    across = 6.0 * np.tan(np.radians(landing.cross_slope_deg))
    heights = np.vstack([height - across, height + across])
    return ll.Ground.grid((x[0], -6.0), (spacing, 12.0), heights)


@pytest.mark.parametrize(
    ("changes", "throws"),
    [({}, {}), ({"sideways_deg": 20.0, "cross_slope_deg": -8.0}, {"sideways_deg": 20.0})],
)
def test_flights_onto_its_earth_land_with_the_wanted_fall_height(changes, throws):
    rider = ll.Rider(com_height_landing=0.9)
    landing = even(rider=rider, **changes)
    ground = strip(landing)
    slow, fast = landing.launch_speeds
    for speed in np.linspace(slow, fast, 14)[1:-1]:
        touchdown = throw(speed, **throws).flight(ground, rider, AIR).touchdown
        assert touchdown.fall_height == pytest.approx(0.5, abs=2e-4)
        assert landing.launch_speed(touchdown.mark[0]) == pytest.approx(speed, abs=1e-3)


def test_a_point_lands_on_it_by_the_closed_form():
    """Without drag: the flight through (x, z) has slope 2 z / x - tan(theta)."""
    landing = even(rider=ll.Rider(com_height_landing=0.0, cda=0.0), far=(14.0, -2.5))
    x = np.linspace(*landing.reach, 200)
    rise = 2.0 * landing.height(x) / x - np.tan(np.radians(20.0))
    level = np.sqrt(AIR.gravity * x / (np.tan(np.radians(20.0)) - rise))
    slope = -np.tan(np.radians(landing.slope_deg(x)))
    into = level * (slope - rise) / np.hypot(1.0, slope)
    np.testing.assert_allclose(into**2 / (2 * AIR.gravity), 0.5, atol=1e-9)
    np.testing.assert_allclose(landing.launch_speed(x), level / np.cos(np.radians(20.0)), atol=1e-7)


def test_three_forms_agree():
    first, *others = (even(form=form) for form in ("distance", "launch_speed", "root"))
    x = np.linspace(*first.reach, 50)
    for other in others:
        np.testing.assert_allclose(other.height(x), first.height(x), atol=1e-8)


def test_profile_and_frame_hold_the_same():
    landing = even()
    profile, frame = landing.profile(), landing.to_pandas()
    assert list(frame.columns) == list(profile)
    assert frame.index.name == "place"
    assert profile["distance"][[0, -1]] == pytest.approx(landing.reach)
    np.testing.assert_allclose(landing.height(profile["distance"]), profile["height"], atol=1e-12)
    away = np.hypot(
        profile["com_distance"] - profile["distance"], profile["com_height"] - profile["height"]
    )
    np.testing.assert_allclose(away, 1.0, atol=1e-12)
    assert landing.height(9.0) == pytest.approx(-2.0, abs=1e-11)
    assert isinstance(landing.height(9), float)


def test_paths_start_at_the_launch_and_end_where_it_lands():
    landing = even()
    paths, profile = landing.paths(5, 40), landing.profile()
    assert paths.shape == (5, 40, 2)
    np.testing.assert_allclose(paths[:, 0], 0.0, atol=0.0)
    for path, i in ((paths[0], 0), (paths[-1], -1)):
        end = profile["com_distance"][i], profile["com_height"][i]
        np.testing.assert_allclose(path[-1], end, atol=1e-9)


def test_pickle_text_card_and_explanation(round_trip):
    landing = even()
    assert round_trip(landing) == landing
    assert repr(landing) == (
        "<EvenLanding: fall height 0.5 m from 3.00 to 9.00 m out, stopped by near_end>"
    )
    card = landing._repr_html_()
    assert "3.00 to 9.00 m" in card
    assert "certify nothing" in card
    said = landing.explain()
    assert "fall_height = 0.5 m" in said
    assert "Hubbard" in said
    assert landing.warnings == []


def test_it_says_why_it_stops():
    landing = even(far=(8.0, -3.0), near=0.0)
    assert landing.stopped_by == "too_tight"
    assert 0.0 < landing.reach[0] < 1.0
    assert any("before the near end" in warning for warning in landing.warnings)
    slow = even(launch_angle_deg=45.0, fall_height=1.5, far=(8.0, -3.0), near=0.0, rider=POINT)
    assert slow.stopped_by == "too_slow"


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"launch_angle_deg": 90.0}, "launch_angle_deg"),
        ({"launch_angle_deg": float("nan")}, "launch_angle_deg"),
        ({"fall_height": -0.1}, "fall_height"),
        ({"far": (0.0, -1.0)}, "far.x"),
        ({"far": (9.0,)}, "far"),
        ({"near": 9.5}, "near"),
        ({"near": float("nan")}, "near"),
        ({"steepest_deg": 0.0}, "steepest_deg"),
        ({"cross_slope_deg": -90.0}, "cross_slope_deg"),
        ({"form": "guess"}, "form"),
        ({"far": (9.0, 5.0)}, "far"),
        ({"far": (9.0, -2.0), "fall_height": 12.0}, "far"),
        ({"far": (9.0, -9.0)}, "far"),
    ],
)
def test_wrong_input_is_named(changes, field):
    with pytest.raises(ll.InputError) as caught:
        even(**changes)
    assert caught.value.field == field
    assert isinstance(caught.value, ValueError)


def test_a_place_beyond_its_reach_is_named():
    landing = even()
    for ask in (landing.height, landing.slope_deg, landing.launch_speed):
        for x in (2.9, 9.1, float("nan"), [4.0, 12.0]):
            with pytest.raises(ll.InputError, match="x = "):
                ask(x)


def test_it_is_drawn():
    from loamline import plot
    from matplotlib import pyplot as plt

    ax = plt.subplots()[1]
    assert plot.even(even(), ax=ax) is ax
    assert ax.get_aspect() == 1.0
    own = plot.even(even())
    own.figure.canvas.draw()
    assert "m" in own.get_xlabel()
    plt.close("all")

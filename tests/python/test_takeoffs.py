"""What is ridden to leave the ground: walls, lips, drops and entrances as Python has them."""

import numpy as np
import pytest

import loamline as ll

WALLS = [
    ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4),
    ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(10.0, 40.0), width=2.4, hollow_radius=3.5),
]


@pytest.mark.parametrize("wall", WALLS, ids=repr)
def test_a_wall_comes_back_from_its_text_and_its_pickle(wall, round_trip, rebuilt):
    assert rebuilt(wall) == wall
    assert round_trip(wall) == wall
    line = wall.line(enter=0.2, leave=1.5)
    assert rebuilt(line) == line


def test_a_hollow_panel_stands_steeper_the_higher_up():
    flat, hollow = (
        ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=30.0, width=2.4, hollow_radius=r)
        for r in (None, 3.5)
    )
    assert (flat.hollow_radius, hollow.hollow_radius) == (None, 3.5)
    assert hollow != flat
    panel = hollow.mesh(2, 200)[0]
    steps = np.diff(panel, axis=0)
    steepness = np.degrees(np.arctan2(steps[:, 2], np.hypot(steps[:, 0], steps[:, 1])))
    assert steepness[0] == pytest.approx(30.0, abs=0.2)
    assert steepness[-1] == pytest.approx(30.0 + np.degrees(2.4 / 3.5), abs=0.2)
    assert np.linalg.norm(steps, axis=1).sum() == pytest.approx(2.4, rel=1e-5)
    assert hollow.edge(2.4)[2] > flat.edge(2.4)[2]


def test_a_panel_that_hangs_over_is_refused():
    with pytest.raises(ll.InputError, match="hollow_radius = 2 is too small"):
        ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=30.0, width=2.4, hollow_radius=2.0)
    with pytest.raises(ll.InputError) as caught:
        ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=30.0, width=2.4, hollow_radius=-1.0)
    assert (caught.value.field, caught.value.value) == ("hollow_radius", -1.0)


RAMPS = [
    ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5),
    ll.Lip(height=0.9, end_angle_deg=35.0, width=1.5, hip_deg=-25.0, position=(1, 2, 3)),
    ll.Lip(
        pieces=[
            {"length": 1.5, "radius_start": float("inf"), "radius_end": 4.0},
            {"radius": 4.0, "sweep_deg": 12.5},
            {"length": 0.4},
            {"radius": 6.0, "sweep_deg": 2.5, "bend": "down"},
        ],
        width=1.8,
        grade=-0.1,
        heading_deg=30.0,
        end_skew_deg=12.0,
        tilt_deg=(0.0, 15.0),
    ),
    ll.Drop(length=3.0, width=1.2),
    ll.Drop(
        length=3.0, width=1.2, grade=-0.05, position=(0, 1, 2), heading_deg=70.0, end_skew_deg=-20.0
    ),
    ll.Entrance(height=0.8, width=1.5, ramp_grade=0.3, sag_radius=4.0, crest_radius=3.0),
    ll.Entrance(
        height=0.8,
        width=1.5,
        ramp_grade=0.4,
        sag_radius=3.0,
        crest_radius=2.5,
        trail_grade=-0.08,
        deck_grade=0.02,
        position=(1, 2, 0.5),
        heading_deg=-40.0,
    ),
]


@pytest.mark.parametrize("ramp", RAMPS, ids=repr)
def test_a_ramp_comes_back_from_its_text_and_its_pickle(ramp, round_trip, rebuilt):
    assert rebuilt(ramp) == ramp
    assert round_trip(ramp) == ramp
    line = ramp.line(offset=0.3)
    assert rebuilt(line) == line
    assert round_trip(line) == line
    assert line != ramp.line()


@pytest.mark.parametrize("ramp", RAMPS, ids=repr)
def test_a_line_lies_on_the_surface_from_start_to_edge(ramp):
    mesh = ramp.mesh(along=7, across=3)
    assert mesh.shape == (7, 3, 3)
    points = ramp.line().points(5)
    assert points[0] == pytest.approx(ramp.position)
    assert points[-1] == pytest.approx(ramp.edge())
    if getattr(ramp, "hip_deg", 0.0) == 0.0:
        assert mesh[:, 1] == pytest.approx(ramp.line().points(7), abs=1e-9)
    half = ramp.width / 2
    assert mesh[-1, 0] == pytest.approx(ramp.edge(-half))
    assert mesh[-1, -1] == pytest.approx(ramp.edge(half))


def test_the_numbers_of_a_lip_are_those_of_its_arc():
    lip = ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5)
    assert lip.end_angle_deg == 40.0
    assert lip.length == pytest.approx(4.0 * np.radians(40.0))
    assert lip.height == pytest.approx(4.0 * (1.0 - np.cos(np.radians(40.0))))
    assert ll.Lip(height=lip.height, end_angle_deg=40.0, width=1.5).length == pytest.approx(lip.length)
    assert (lip.hip_deg, lip.tilt_deg, lip.grade) == (0.0, (0.0, 0.0), 0.0)


def test_a_ride_up_a_lip_launches_at_its_angle():
    lip = ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5)
    rider = ll.Rider(com_height=0.0, crr=0.0, cda=0.0)
    launch = lip.line().ride(rider, ll.Air(), speed=8.0).launch()
    vx, vy, vz = launch.velocity
    assert np.degrees(np.arctan2(vz, np.hypot(vx, vy))) == pytest.approx(40.0)
    assert vx**2 + vz**2 == pytest.approx(64.0 - 2 * 9.80665 * lip.height)


def test_wheels_that_do_not_fit_stop_the_ride_with_both_radii():
    lip = ll.Lip(radius=0.3, end_angle_deg=40.0, width=1.5)
    rider = ll.Rider(com_height=0.1)
    for ask in (
        lambda: lip.check_rider(rider),
        lambda: lip.line().ride(rider, ll.Air(), speed=5.0),
        lambda: lip.line().hold_speeds(rider, ll.Air()),
    ):
        with pytest.raises(ll.RideError, match="radius = 0.3 m .* wheel_radius = 0.35 m"):
            ask()
    with pytest.raises(ll.RideError, match="twice com_height"):
        ll.Lip(radius=1.5, end_angle_deg=40.0, width=1.5).line().ride(ll.Rider(), ll.Air(), speed=7.0)


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: ll.Lip(radius=-1.0, end_angle_deg=40.0, width=1.5), "radius"),
        (lambda: ll.Lip(radius=4.0, end_angle_deg=95.0, width=1.5), "end_angle_deg"),
        (lambda: ll.Lip(height=np.nan, end_angle_deg=40.0, width=1.5), "height"),
        (lambda: ll.Lip(radius=4.0, end_angle_deg=40.0), "width"),
        (lambda: ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5, hip_deg=70.0), "hip_deg"),
        (lambda: ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5, tilt_deg=(0, 80)), "tilt_deg"),
        (lambda: ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5, tilt_deg="steep"), "tilt_deg"),
        (lambda: ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5).line(0.8), "offset"),
        (lambda: ll.Lip(pieces=[{"radius": 4.0}], width=1.5), "pieces"),
        (lambda: ll.Lip(pieces=[{"length": 1.0, "bend": "left"}], width=1.5), "pieces"),
        (lambda: ll.Drop(length=0.0, width=1.0), "length"),
        (lambda: ll.Drop(length=1.0, width=1.0, grade=2.0), "grade"),
        (
            lambda: ll.Entrance(
                height=0.5, width=1.0, ramp_grade=-0.1, sag_radius=4.0, crest_radius=3.0
            ),
            "ramp_grade",
        ),
        (
            lambda: ll.Entrance(
                height=0.1, width=1.0, ramp_grade=0.5, sag_radius=4.0, crest_radius=3.0
            ),
            "height",
        ),
    ],
)
def test_what_cannot_be_is_named(make, field):
    with pytest.raises(ll.InputError) as caught:
        make()
    assert caught.value.field == field
    assert field in str(caught.value)


def test_a_shape_past_vertical_is_refused():
    with pytest.raises(ll.InputError, match="past vertical"):
        ll.Lip(pieces=[{"radius": 2.0, "sweep_deg": 95.0}], width=1.5)
    with pytest.raises(ll.InputError, match="radius and end_angle_deg, or height"):
        ll.Lip(radius=2.0, height=1.0, end_angle_deg=30.0, width=1.5)

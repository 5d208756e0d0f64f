"""The two-wheel rider from Python: shapes, words, pickles, errors, picture."""

import matplotlib as mpl
import numpy as np
import pytest

import loamline as ll

mpl.use("Agg")

from loamline import plot  # noqa: E402
from matplotlib import pyplot as plt  # noqa: E402

TAKEOFF = ll.Profile([0, 10], [0.0, 0.0], radius=1.0)
LANDING = ll.Profile([10, 11, 20, 40], [-0.3, -0.4, -3.0, -3.2], radius=4.0)


@pytest.fixture(scope="module")
def terrain():
    return ll.Terrain([TAKEOFF, LANDING])


@pytest.fixture(scope="module")
def ride(terrain):
    return ll.Rider().two_wheel_ride(terrain, ll.Air(), start=5.0, speed=8.0)


def test_it_rides_off_the_edge_lands_and_rides_out(ride):
    assert ride.outcome == "rode_out", ride.reason
    assert 0.1 < ride.airtime < 1.0
    # The nose has dropped by the time it lands.
    assert ride.first_down == "front"
    assert ride.first_by == pytest.approx(
        ride.touchdown["rear"]["time"] - ride.touchdown["front"]["time"]
    )
    assert ride.left["front"]["distance"] == pytest.approx(10.0, abs=0.05)
    assert ride.left["front"]["time"] < ride.left["rear"]["time"] < ride.touchdown["front"]["time"]


def test_arrays_have_one_length_and_say_the_same(ride):
    n = len(ride.time)
    for name in ("centre", "velocity", "rear_hub", "front_hub"):
        assert getattr(ride, name).shape == (n, 2), name
    for name in ("pitch_deg", "rear_load", "front_suspension", "rear_travel", "pitch_rate_deg"):
        assert getattr(ride, name).shape == (n,), name
    assert (np.diff(ride.time) > 0).all()
    assert ride.rear_touching.dtype == bool
    assert ((ride.rear_load > 0) == ride.rear_touching).mean() > 0.99
    value, time = ride.peaks["front_load"]
    assert ride.front_load.max() <= value * (1 + 1e-9)
    assert ride.time[0] <= time <= ride.time[-1]
    base = np.linalg.norm(ride.front_hub - ride.rear_hub, axis=1)
    assert (np.abs(base - ll.Rider().wheelbase) < 0.03).all()


def test_energy_is_kept(ride):
    energy = ride.energy
    start, end = (sum(energy[side].values()) for side in ("start", "end"))
    taken = sum(energy[name] for name in ("dampers", "rolling", "drag", "brake"))
    assert end - start + taken == pytest.approx(energy["residual"], abs=1e-9)
    assert abs(energy["residual"]) < 1e-6 * energy["start"]["kinetic"]


def test_momentum_is_what_the_forces_gave(ride):
    parts = ride.momentum
    assert np.allclose(parts.pop("residual"), 0.0, atol=1e-6)
    end = parts.pop("end")
    assert np.allclose(sum(parts.values()), end, atol=1e-6)
    assert parts["gravity"][1] == pytest.approx(-9.80665 * ride.time[-1], rel=1e-9)


def test_frames(ride):
    frame = ride.to_pandas()
    assert len(frame) == len(ride.time)
    np.testing.assert_array_equal(frame["front_hub_z"], ride.front_hub[:, 1])
    assert frame["rear_touching"].dtype == bool
    assert ride.to_xarray().sizes["sample"] == len(ride.time)


def test_pickles_texts_and_cards(terrain, ride, round_trip):
    assert round_trip(terrain) == terrain
    assert round_trip(ride) == ride
    assert repr(ride).startswith("<TwoWheelRide: rides out")
    assert "certify nothing" in ride._repr_html_()
    assert "rigid body" in ride.explain()
    assert ride.terrain == terrain
    assert ride.rider == ll.Rider()


def test_a_pose_falls_and_a_brake_slows():
    level = ll.Terrain.polyline([0, 40], [0.0, 0.0])
    pose = {"centre": (5.0, 2.0), "velocity": (6.0, 0.0), "pitch_deg": -8.0}
    fallen = ll.Rider().two_wheel_ride(level, ll.Air(), start=pose)
    assert fallen.first_down == "rear"
    assert fallen.left == {"rear": None, "front": None}
    braked = ll.Rider().two_wheel_ride(
        level, ll.Air(), start=5.0, speed=6.0, brake=(8.0, 40.0, 4.0)
    )
    assert braked.outcome == "stalled"
    assert braked.energy["brake"] > 0.0
    assert braked.airtime is None and braked.left is None and braked.first_down is None


@pytest.mark.parametrize(
    ("call", "field"),
    [
        ({"start": 1.0, "speed": 5.0}, "start"),
        ({"start": 5.0, "speed": 500.0}, "speed"),
        ({"start": 5.0, "speed": 5.0, "tolerance": 1.0}, "tolerance"),
        ({"start": "there"}, "start"),
        ({"start": {"centre": (0.0, 2.0), "lean": 3.0}}, "start"),
        ({"start": 5.0, "brake": 4.0}, "brake"),
        ({"start": 5.0, "brake": (3.0, 2.0, 4.0)}, "brake.to"),
    ],
)
def test_wrong_input_names_its_field(terrain, call, field):
    with pytest.raises(ll.InputError) as caught:
        ll.Rider().two_wheel_ride(terrain, ll.Air(), **call)
    assert caught.value.field == field


def test_a_hollow_tighter_than_the_wheels_is_told_with_both_numbers():
    lip = ll.Profile([0, 5, 8], [0.0, 0.0, 1.0], radius=0.3)
    with pytest.raises(ll.InputError, match=r"0\.3.* m.*0\.35 m"):
        ll.Rider().two_wheel_ride(ll.Terrain([lip]), ll.Air(), start=3.0, speed=5.0)


def test_profiles_that_overlap_or_are_missing_are_told():
    with pytest.raises(ll.InputError, match="profile 1 begins"):
        ll.Terrain([TAKEOFF, ll.Profile([9, 20], [0.0, 0.0])])
    with pytest.raises(ll.InputError, match="at least one"):
        ll.Terrain([])


def test_a_section_of_a_ground_is_ridden():
    flat = ll.Ground.plane(slope_deg=6.0)
    terrain = ll.Terrain.over(flat, (1.0, 2.0), 0.0, 30.0)
    assert terrain.height_at(10.0) == pytest.approx(-11.0 * np.tan(np.radians(6.0)), abs=1e-9)
    assert terrain.grade_at(10.0) == pytest.approx(-np.tan(np.radians(6.0)), abs=1e-9)
    assert terrain.height_at(31.0) is None
    ride = ll.Rider().two_wheel_ride(terrain, ll.Air(), start=3.0, speed=3.0)
    assert ride.outcome == "rode_out"
    assert ride.pitch_deg[-1] == pytest.approx(6.0, abs=0.3)


def test_wind_is_seen_along_the_heading():
    air = ll.Air(wind=(0.0, 8.0, 0.0))
    level = [ll.Profile([0, 40], [0.0, 0.0], radius=1.0)]
    rider = ll.Rider()
    along = rider.two_wheel_ride(ll.Terrain(level, heading_deg=90.0), air, start=5.0, speed=8.0)
    against = rider.two_wheel_ride(ll.Terrain(level, heading_deg=-90.0), air, start=5.0, speed=8.0)
    assert abs(along.energy["drag"]) < 0.1 < against.energy["drag"]


def test_the_picture_draws_on_given_axes_and_its_own(ride):
    ax = plt.subplots()[1]
    assert plot.two_wheel(ride, ax=ax) is ax
    own = plot.two_wheel(ride)
    assert own.figure is not ax.figure
    assert own.get_aspect() == 1.0
    assert " m" in own.get_xlabel()
    wide = plot.two_wheel(ride, span=(0.0, 30.0))
    assert wide.get_xlim() == (0.0, 30.0)
    plt.close("all")

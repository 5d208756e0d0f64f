"""Many rigid flights, and the loads of many landings, say what each says by itself, to the last bit."""

import pickle

import numpy as np
import pytest

import loamline as ll

SCENE = (ll.Ground.plane(slope_deg=12.0), ll.Rider(), ll.Air(wind=(-2.0, 1.0, 0.0)))


def launches(n, seed=3):
    """Invented: bikes that point a little off where they fly, and turn a little."""
    rng = np.random.default_rng(seed)
    position = rng.uniform([-1.0, -1.0, 1.8], [1.0, 1.0, 3.5], (n, 3))
    velocity = rng.uniform([4.0, -1.0, 0.0], [9.0, 1.0, 3.0], (n, 3))
    yaw, pitch = rng.uniform(-0.2, 0.2, n), rng.uniform(-0.3, 0.3, n)
    ahead = np.stack([np.cos(pitch) * np.cos(yaw), np.cos(pitch) * np.sin(yaw), np.sin(pitch)], axis=1)
    left = np.stack([-np.sin(yaw), np.cos(yaw), np.zeros(n)], axis=1)
    attitude = np.stack([ahead, left, np.cross(ahead, left)], axis=1)
    return position, velocity, attitude, rng.uniform(-1.0, 1.0, (n, 3))


def test_rigid_flights_are_single_ones():
    position, velocity, attitude, turning = launches(30)
    how = {"torque": (2.0, -1.0, 0.5), "righting_rate_deg": 200.0}
    many = ll.rigid_flights(
        position, velocity, attitude, *SCENE, angular_velocity=turning, tyre_speed=7.0, **how
    )
    for i in range(len(many)):
        launch = ll.Launch(position[i], velocity[i], attitude[i], turning[i], tyre_speed=7.0)
        one = launch.rigid_flight(*SCENE, **how).touchdown
        assert many.outcome[i] == one.outcome
        for name in (
            "time", "fall_height", "angle_deg", "distance", "drop", "along_speed", "sideways_speed", "lean_owed_deg",
            "mark", "velocity", "normal", "attitude", "wanted_attitude", "rates_deg", "turn_owed_deg",
            "rate_to_pay_deg", "torque_to_pay", "pitch_to_surface_deg", "wheel_gap", "between_wheels",
        ):  # fmt: skip
            assert np.array_equal(getattr(many, name)[i], getattr(one, name)), name
        assert one.first_wheel == ("rear" if many.pitch_to_surface_deg[i] > 0 else "front")


def test_bad_rigid_rows_spoil_only_themselves_and_bad_shapes_are_told():
    position, velocity, attitude, turning = launches(100)
    good = ll.rigid_flights(position, velocity, attitude, *SCENE, angular_velocity=turning, threads=1)
    assert pickle.loads(pickle.dumps(good)) == good
    position[5, 0], attitude[6, 2], turning[7] = np.nan, (0.0, 0.0, 3.0), 1e5
    out = ll.rigid_flights(position, velocity, attitude, *SCENE)
    again = ll.rigid_flights(
        position, velocity, np.asfortranarray(attitude), *SCENE, angular_velocity=turning, out=out, threads=2
    )
    assert again is out and again != good
    assert again.outcome[5:8].tolist() == ["bad_input", "bad_input", "failed"]
    fine = np.delete(np.arange(100), [5, 6, 7])
    assert np.array_equal(again.attitude[fine], good.attitude[fine]) and np.isnan(again.attitude[5:8]).all()
    with pytest.raises(ll.InputError, match="attitude"):
        ll.rigid_flights(position, velocity, attitude[:, :2], *SCENE)
    with pytest.raises(ll.InputError, match="angular_velocity"):
        ll.rigid_flights(position, velocity, attitude, *SCENE, angular_velocity=turning[1:])
    with pytest.raises(ll.InputError, match="torque"):
        ll.rigid_flights(position, velocity, attitude, *SCENE, torque=(np.nan, 0, 0))
    with pytest.raises(ll.FlightError, match="righting_rate"):
        ll.rigid_flights(position, velocity, attitude, *SCENE, righting_rate_deg=-1.0)
    with pytest.raises(ll.Cancelled):
        ll.rigid_flights(*(np.tile(x, (20, *(1,) * (x.ndim - 1))) for x in launches(100)[:3]), *SCENE,
                         progress=lambda done, total: False)  # fmt: skip


def test_tables_have_the_axes_of_the_bike():
    many = ll.rigid_flights(*launches(4)[:3], *SCENE)
    table, data = many.to_pandas(), many.to_xarray()
    assert np.array_equal(table["attitude_up_z"], many.attitude[:, 2, 2])
    assert np.array_equal(data["attitude"].sel(way="left", axis="y"), many.attitude[:, 1, 1])
    assert data["mark"].dims == ("flight", "axis")
    assert "way" not in ll.loads([1.0], ll.Rider()).to_xarray().coords


@pytest.mark.parametrize(
    "how", [{}, {"chain": "legs", "gravity": 9.7}, {"ground_stiffness": 8e4, "crush_force": 2500.0}]
)
def test_loads_are_single_ones(how):
    rider, speed, slope = ll.Rider(), np.linspace(0.1, 9.0, 12), np.linspace(0.0, 40.0, 12)
    many = ll.loads(speed, rider, slope, **how)
    for i in range(len(many)):
        one = rider.loads(normal_speed=speed[i], slope_deg=slope[i], **how)
        for name in ("peak_force", "peak_bodyweights", "peak_time", "stopping_distance", "impulse", "duration"):
            assert getattr(many, name)[i] == getattr(one, name), name
        np.testing.assert_equal(many.mean_bodyweights[i], one.mean_bodyweights)
        assert many.legs_used[i] == one.travel_used["legs"] and many.legs_bottomed[i] == one.bottomed["legs"]
        np.testing.assert_equal(many.suspension_used[i], one.travel_used.get("suspension", np.nan))
        assert many.ground_force[i] == one.peaks[one.stages[0]]


def test_bad_landings_spoil_only_themselves_and_bad_shapes_are_told():
    rider = ll.Rider()
    many = ll.loads([3.0, np.nan, -1.0, 3.0], rider, [0.0, 0.0, 0.0, 95.0])
    assert many.outcome.tolist() == ["stopped", "bad_input", "bad_input", "bad_input"]
    assert np.isfinite(many.peak_force[0]) and np.isnan(many.peak_force[1:]).all()
    assert many.legs_bottomed.dtype == bool and pickle.loads(pickle.dumps(many)) == many
    assert ll.loads([3.0] * 4, rider, out=many) is many and set(many.outcome) == {"stopped"}
    with pytest.raises(ll.InputError, match="slope_deg"):
        ll.loads([3.0], rider, [0.0, 0.0])
    with pytest.raises(ll.InputError, match="chain"):
        ll.loads([3.0], rider, chain="back")
    with pytest.raises(ll.InputError, match="gravity"):
        ll.loads([3.0], rider, gravity=0.0)
    with pytest.raises(ll.InputError, match="out"):
        ll.loads([3.0], rider, out=many)
    with pytest.raises(ll.InputError, match="mass"):
        ll.loads([3.0], ll.Rider(mass=10.0))


def test_what_passes_give_goes_into_loads():
    flown = ll.flights(*launches(20)[:2], *SCENE)
    slope = np.degrees(np.arccos(flown.normal[:, 2]))
    taken = ll.loads(flown.normal_speed, SCENE[1], slope)
    assert (taken.mean_bodyweights <= taken.peak_bodyweights).all()

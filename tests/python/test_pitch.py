"""How the bike turns at the edge, against the same rigid body by Newton's and Euler's equations and scipy."""

import pickle

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import loamline as ll

AIR = ll.Air()
G = AIR.gravity


def still(**sizes):
    return ll.Rider(cda=0.0, crr=0.0, **sizes)


def level():
    return ll.Profile([0, 6], [0, 0], radius=1.0).line()


def newton_euler(rider, speed):
    """Angle, rate (nose down) and time when the rear contact passes a level edge; forces solved for, not eliminated."""
    b, br, h = rider.wheelbase, rider.rear_to_com, rider.com_height
    k2 = rider.inertia[1] / rider.mass

    def rates(_, y):
        _, v, a, w = y
        r = np.array([br * np.cos(a) - h * np.sin(a), br * np.sin(a) + h * np.cos(a)])
        # s'', a'' and the contact's upward force per mass, from Newton along and up and Euler about the centre.
        table = [[1, -r[1], 0], [0, r[0], -1], [0, k2, r[0]]]
        sdd, add, _ = np.linalg.solve(table, [w * w * r[0], -G + w * w * r[1], 0])
        return [v, sdd, w, add]

    def leaves(_, y):
        return y[0] - b

    leaves.terminal = True
    end = solve_ivp(rates, (0, 3), [0, speed, 0, 0], events=leaves, rtol=1e-11, atol=1e-12)
    return -end.y[2, -1], -end.y[3, -1], end.t[-1]


@pytest.mark.parametrize("speed", [4.0, 5.0, 9.0, 14.0])
@pytest.mark.parametrize("sizes", [{}, {"com_height": 0.7, "rear_to_com": 0.6, "inertia": (20, 27, 12)}])
def test_off_a_level_drop(speed, sizes):
    rider = still(**sizes)
    pitch = level().ride(rider, AIR, speed=speed).launch().pitch
    angle, rate, time = newton_euler(rider, speed)
    assert np.radians(pitch["angle_deg"]) == pytest.approx(angle, rel=1e-5)
    assert np.radians(pitch["rate_deg"]) == pytest.approx(rate, rel=1e-5)
    assert pitch["duration"] == pytest.approx(time, rel=1e-6)


def test_a_launch_tells_and_pickles():
    launch = level().ride(still(), AIR, speed=5.0).launch()
    assert launch.pitch["angle_deg"] > 20 and launch.pitch["rate_deg"] > 100
    assert launch.tyre_speed == pytest.approx(5.0)
    assert any("lower" in warning for warning in launch.warnings)
    assert "front" in launch.explain() and "certify nothing" in launch.explain()
    assert pickle.loads(pickle.dumps(launch)) == launch


def test_a_slow_rider_hangs_up():
    ride = level().ride(still(), AIR, speed=2.0)
    with pytest.raises(ll.RideError, match="hangs up on the edge at 2.00 m/s"):
        ride.launch()


def test_a_launch_by_hand_takes_an_attitude():
    axes = [(0, 1, 0), (-1, 0, 0), (0, 0, 1)]
    launch = ll.Launch((0, 0, 2), (0, 6, 1), attitude=axes, angular_velocity=(0, 1, 0), tyre_speed=6)
    assert np.array_equal(launch.attitude, axes) and launch.pitch is None
    assert eval(repr(launch), {"Launch": ll.Launch}) == launch
    assert pickle.loads(pickle.dumps(launch)) == launch


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"attitude": [(1, 0, 0), (0, 1, 0), (0, 0, -1)]}, "attitude"),
        ({"attitude": [(1, 0, 0), (0, 1, 0)]}, "attitude"),
        ({"attitude": np.full((3, 3), np.nan)}, "attitude"),
        ({"angular_velocity": (1, 0, 0)}, "angular_velocity"),
        ({"attitude": np.eye(3), "angular_velocity": (np.inf, 0, 0)}, "angular_velocity"),
        ({"tyre_speed": float("nan")}, "tyre_speed"),
    ],
)
def test_wrong_launches_are_named(wrong, field):
    with pytest.raises(ll.InputError) as raised:
        ll.Launch((0, 0, 2), (6, 0, 1), **wrong)
    assert raised.value.field == field

"""Flights of rider and bike as one rigid body: scipy's elliptic functions, what is owed at touchdown, wrong input."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ellipj, ellipk

import loamline as ll

FLAT = ll.Ground.plane()
DEEP = ll.Ground.plane(point=(0, 0, -5000))
AIR = ll.Air()
LEVEL = np.eye(3)


def launch(attitude=LEVEL, rates=(0, 0, 0), **more):
    return ll.Launch((0, 0, 3), (6, 0, 1), attitude=attitude, angular_velocity=rates, **more)


def free_top(inertia, across, along):
    """Rates over time, and the period, of a free top with rising inertias: Landau and Lifshitz, Mechanics, section 37."""
    a, b, c = inertia
    energy, square = a * across**2 + c * along**2, (a * across) ** 2 + (c * along) ** 2
    low, high = square - energy * a, energy * c - square
    size = np.sqrt([high / (a * (c - a)), high / (b * (c - b)), low / (c * (c - a))])
    pace, m = np.sqrt((c - b) * low / (a * b * c)), (b - a) * high / ((c - b) * low)

    def rates(t):
        sn, cn, dn, _ = ellipj(pace * t, m)
        return size * (cn, sn, dn)

    return rates, 4 * ellipk(m) / pace, np.sqrt(square)


def about(axis, angle):
    i, j = [(1, 2), (2, 0), (0, 1)][axis]
    turn = np.eye(3)
    turn[i, i] = turn[j, j] = np.cos(angle)
    turn[i, j], turn[j, i] = -np.sin(angle), np.sin(angle)
    return turn


def test_a_free_top_is_that_of_jacobis_functions_over_ten_periods():
    inertia = np.array([8.0, 13.0, 18.0])
    rates, period, momentum = free_top(inertia, 3.0, 4.0)

    def turned(t):
        """Takes the body's axes to the site's, momentum up: node by quadrature, tilt and own turn from the momentum."""

        def advance(s):
            x, y, _ = inertia * rates(s)
            w = rates(s)
            return momentum * (w[0] * x + w[1] * y) / (x * x + y * y)

        cuts = np.linspace(0, t, 1 + int(np.ceil(4 * t / period)))
        node = sum(quad(advance, p, q, epsabs=1e-13, epsrel=1e-13)[0] for p, q in zip(cuts[:-1], cuts[1:], strict=True))
        along = inertia * rates(t) / momentum
        tilt, own = np.arctan2(np.hypot(*along[:2]), along[2]), np.arctan2(along[0], along[1])
        return about(2, node) @ about(0, tilt) @ about(2, own)

    start = turned(0.0)
    who = ll.Rider(cda=0, inertia=inertia)
    rigid = launch(start.T, start @ rates(0.0)).rigid_flight(DEEP, who, AIR)
    assert rigid.time > 10 * period
    for t in np.linspace(0, 10 * period, 23):
        assert np.radians(rigid.body_rates_deg(t)) == pytest.approx(rates(t), abs=1e-10)
        assert np.abs(rigid.attitude(t).T - turned(t)).max() < 1e-9
    assert np.abs(rigid.spin["residual"]).max() < 1e-11 * momentum
    assert abs(rigid.spin["energy_residual"]) < 1e-11 * rigid.spin["start_energy"]


def test_path_and_touchdown_are_the_points():
    start = launch(rates=(0.2, 0.5, -0.1))
    rigid, point = start.rigid_flight(FLAT, ll.Rider(), AIR), start.flight(FLAT, ll.Rider(), AIR)
    assert rigid.flight == point and rigid.time == point.time
    assert rigid.touchdown.mark.tolist() == point.touchdown.mark.tolist()
    assert point.touchdown.attitude is None and point.touchdown.turn_owed_deg is None
    assert point.touchdown.first_wheel is None


def test_what_is_owed_at_the_touch():
    slope = ll.Ground.plane(slope_deg=20)
    down = launch(rates=(0, 0.1, 0)).rigid_flight(slope, ll.Rider(), AIR).touchdown
    owed = 20 - np.degrees(0.1) * down.time
    assert down.turn_owed_deg == pytest.approx([0, owed, 0], abs=1e-9)
    assert down.pitch_to_surface_deg == pytest.approx(owed)
    assert down.rate_to_pay_deg == pytest.approx([0, owed / down.time, 0], abs=1e-9)
    assert down.torque_to_pay[1] == pytest.approx(2 * 18 * np.radians(owed) / down.time**2)
    assert down.first_wheel == "rear"
    assert down.wheel_gap == pytest.approx(1.2 * np.sin(np.radians(owed)))
    assert down.between_wheels == pytest.approx(down.wheel_gap / down.normal_speed)
    assert down.wanted_attitude[2] == pytest.approx(down.normal)
    assert down.rates_deg == pytest.approx([0, np.degrees(0.1), 0], abs=1e-9)
    assert down.attitude[1] == pytest.approx([0, 1, 0])
    paid = launch(rates=(0, 0.1, 0)).rigid_flight(slope, ll.Rider(), AIR, torque=down.torque_to_pay)
    assert np.abs(paid.touchdown.turn_owed_deg).max() < 1e-9


def test_off_a_drop_the_front_wheel_comes_first_and_it_says_so():
    ride = ll.Profile([0, 6], [2, 2], radius=1.0).line().ride(ll.Rider(), AIR, speed=7)
    down = ride.launch().rigid_flight(FLAT, ll.Rider.typical(), AIR).touchdown
    assert down.first_wheel == "front" and down.pitch_to_surface_deg < -10
    assert any("front wheel first" in warning for warning in down.warnings)
    assert "owed.pitch" in down.explain()


def test_ledgers_add_up():
    rigid = launch(rates=(0.4, -1, 0.3)).rigid_flight(
        FLAT, ll.Rider(wheel_inertia=0.1), ll.Air(wind=(2, 1, 0)), torque=(5, -20, 3)
    )
    momentum, energy, spin = rigid.flight.momentum, rigid.flight.energy, rigid.spin
    gives = momentum["start"] + momentum["gravity"] + momentum["drag"] + momentum["residual"]
    assert gives == pytest.approx(momentum["end"])
    assert np.abs(momentum["residual"]).max() < 1e-10 and abs(energy["residual"]) < 1e-9
    assert np.abs(spin["residual"]).max() < 1e-10 and abs(spin["energy_residual"]) < 1e-10
    assert spin["start"] + spin["torque"] == pytest.approx(spin["end"])
    assert rigid.wheel_spin == pytest.approx(2 * 0.1 * 6 / 0.35)


def test_a_rigid_flight_tells_and_pickles(round_trip):
    rigid = launch(rates=(0, 0.4, 0)).rigid_flight(FLAT, ll.Rider(), AIR)
    assert round_trip(rigid) == rigid and round_trip(rigid.touchdown) == rigid.touchdown
    assert repr(rigid).startswith("<RigidFlight: ") and "wheel first" in repr(rigid)
    assert "Euler" in rigid.explain() and "certify nothing" in rigid.explain()
    assert "quadratic" in rigid.flight.explain() or "square" in rigid.flight.explain()
    assert "spin momentum" in rigid._repr_html_()
    deeper = rigid.on(ll.Ground.plane(point=(0, 0, -3)))
    assert deeper.time > rigid.time and np.array_equal(deeper.attitude(0.3), rigid.attitude(0.3))
    assert rigid.path(7).shape == (7, 3)


def test_wrong_input_is_named():
    with pytest.raises(ll.FlightError, match="attitude") as raised:
        ll.Launch((0, 0, 3), (6, 0, 1)).rigid_flight(FLAT, ll.Rider(), AIR)
    assert raised.value.field == "attitude"
    for wrong in [(0, np.nan, 0), (np.inf, 0, 0)]:
        with pytest.raises(ll.InputError) as raised:
            launch().rigid_flight(FLAT, ll.Rider(), AIR, torque=wrong)
        assert raised.value.field == "torque"
    with pytest.raises(ll.FlightError, match="too fast"):
        launch(rates=(1e9, 0, 0)).rigid_flight(FLAT, ll.Rider(), AIR)

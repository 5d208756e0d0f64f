"""Leaning rides against SciPy's boundary-value solver on the equations written out again."""

import numpy as np
import oracle_wall as oracle
import pytest
from numpy.polynomial import chebyshev
from scipy.integrate import solve_bvp
from scipy.interpolate import CubicSpline

import loamline as ll

GRAVITY = 9.80665
HEIGHT = 1.0
SPEED = 8.0
MASS, CDA, CRR = 90.0, 0.55, 0.03


class Track:
    """The tyres' line at stations along the foot: tangent, normal, left, curvature and twist."""

    def __init__(self, wall, climb):
        # A centre of mass at the tyres: the oracle's frames are then the line's own.
        self.stretch = oracle.Stretch(wall, climb, 0, 0.0)
        self.span = self.stretch.span
        stations = np.linspace(*self.span, 1001)
        self.rows = CubicSpline(stations, np.array([self._row(s) for s in stations]))
        self.slopes = self.rows.derivative()

    def _row(self, s):
        tangent, normal, _, _, bend, rate = self.stretch.frame(s)
        left = np.cross(normal, tangent)
        half = (self.span[1] - self.span[0]) / 2
        turning = chebyshev.chebval(self.stretch.to_unit(s), chebyshev.chebder(self.stretch.table[:, 3:6])) / half
        twist = turning @ left / rate
        return [rate, bend @ normal, bend @ left, twist, normal[2], left[2], tangent[2]]

    def at(self, s):
        return self.rows(s).T


def equations(track, k):
    """Rates by station of lean, roll rate and speed: angular balance, and the work of all forces."""

    def rates(s, state):
        lean, roll, speed = state
        rate, hollow, turn, twist, n, left, ahead = track.at(s)
        cos, sin = np.cos(lean), np.sin(lean)
        towards, aside = hollow * cos + turn * sin, turn * cos - hollow * sin
        lead = 1 - HEIGHT * towards
        along, across = lead * speed, HEIGHT * roll
        drag = k * np.hypot(along, across)
        press = lead * towards * speed**2 - HEIGHT * roll**2 + GRAVITY * (n * cos + left * sin)
        over = lead * aside * speed**2 + GRAVITY * (left * cos - n * sin) + drag * across
        lean_rate = roll / speed - twist
        roll_rate = -over / (HEIGHT * speed)
        # Along the tangent: lead d(lead v)/dt = -lead (g t_z + drag lead v) - rolling + h p v lead (t' . m).
        push = -lead * (GRAVITY * ahead + drag * along) - CRR * np.maximum(press * cos, 0)
        push = push + HEIGHT * roll * speed * lead * aside
        hollow_rate, turn_rate = track.slopes(s).T[[1, 2]] / rate
        lead_rate = -HEIGHT * (hollow_rate * cos + turn_rate * sin + lean_rate * aside)
        speed_rate = (push / speed - lead * lead_rate * speed) / lead**2
        return np.array([lean_rate, roll_rate, speed_rate]) * rate

    return rates


def static_lean(track, s, speed):
    _, hollow, turn, _, n, left, _ = track.at(s)
    return np.arctan2(turn * speed**2 + GRAVITY * left, hollow * speed**2 + GRAVITY * n)


@pytest.mark.parametrize("lean", ["balanced", "settled"])
def test_exits_agree_to_a_millionth(lean):
    radius, sweep = 7.0, np.radians(55.0)
    wall = oracle.Wall(
        (oracle.Piece(radius * sweep, 1 / radius, 1 / radius),),
        bank=tuple(np.radians([20.0, 68.0])),
        grade=-0.04,
    )
    climb = oracle.Climb(0.25, 1.6, wall.length)
    track, air = Track(wall, climb), ll.Air()
    k = 0.5 * air.density * CDA / MASS
    begin, end = track.span

    def ends(first, last):
        at_edge = last[1] if lean == "balanced" else last[0] - static_lean(track, end, last[2])
        return np.array([first[0] - static_lean(track, begin, SPEED), first[2] - SPEED, at_edge])

    stations = np.linspace(begin, end, 60)
    guess = np.array([np.linspace(0.4, -0.5, 60), np.full(60, -1.0), np.linspace(8.0, 5.5, 60)])
    theirs = solve_bvp(equations(track, k), ends, stations, guess, tol=1e-9, max_nodes=20000)
    assert theirs.success, theirs.message

    rider = ll.Rider(mass=MASS, cda=CDA, crr=CRR, com_height=HEIGHT, grip=np.inf)
    line = ll.Wall(
        radius=radius, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4, grade=-0.04
    ).line(enter=0.25, leave=1.6)
    ours = line.ride(rider, air, speed=SPEED, lean=lean)
    phi, _, speed = theirs.y[:, -1]
    assert abs(ours.exit_speed - speed) < 1e-6
    assert abs(np.radians(ours.lean_deg[-1]) - phi) < 1e-6
    assert abs(np.radians(ours.lean_deg[0]) - theirs.y[0, 0]) < 1e-6
    assert lean in ours.explain()


def wall_line():
    return ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4).line(enter=0.25, leave=1.6)


def test_leans_are_named_and_known():
    deck = wall_line().ride(ll.Rider(), ll.Air(), speed=8.0)
    assert deck.lean == "deck" and not deck.lean_deg.any()
    with pytest.raises(ll.InputError, match="settled"):
        wall_line().ride(ll.Rider(), ll.Air(), speed=8.0, lean="upright")
    grippy = ll.Rider(grip=0.8)
    slow, fast = wall_line().hold_speeds(grippy, ll.Air(), lean="balanced")
    held = wall_line().ride(grippy, ll.Air(), speed=(slow + fast) / 2, lean="balanced")
    assert held.outcome == "reached"


@pytest.mark.parametrize("lean", ["deck", "balanced", "settled"])
def test_the_momentum_of_a_ride_adds_up(lean):
    rider = ll.Rider(wheel_inertia=0.1)
    air = ll.Air(wind=(-2, 3, 0))
    ride = wall_line().ride(rider, air, speed=8.0, lean=lean, brake=0.5)
    parts = ride.momentum
    assert np.allclose(parts.pop("residual"), 0.0, atol=1e-9)
    end = parts.pop("end")
    assert np.allclose(sum(parts.values()), end, atol=1e-9)
    assert np.allclose(ride.launch().velocity, end, atol=1e-12)
    # Its impulse by the loads of the samples: the surface's share, in g's, summed over time.
    push = np.trapezoid(ride.normal_load, ride.time) * air.gravity
    assert np.linalg.norm(parts["normal"]) <= push
    assert wall_line().ride(rider, air, speed=8.0, sample=None).momentum is None

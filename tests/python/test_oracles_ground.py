"""Flights onto random bumpy grids: the right touch, and the first one."""

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

import loamline as ll
from oracle_flight import Path, drag_constant
from oracle_ground import bumpy

FLIGHTS = 100
# Distances over a whole flight take their time.
RIDERS = 40
GRAVITY = 9.80665


def random_case(seed, reach):
    """A grid, and a launch above it that flies along it, often low over the bumps."""
    rng = np.random.default_rng([100, seed])
    ground = bumpy(seed)
    position = np.array([rng.uniform(-1, 1), rng.uniform(-2, 2), 0.0])
    up, aside = np.radians(rng.uniform(-5, 35)), np.radians(rng.uniform(-25, 25))
    speed = rng.uniform(3, 9)
    velocity = speed * np.array([np.cos(aside) * np.cos(up), np.sin(aside) * np.cos(up), np.sin(up)])
    position[2] = ground.height(*position[:2]) + rng.uniform(0.3, 2.0)
    if reach:
        position[2] += reach
        while ground.distance(position, 3.0) < reach + 0.1:
            position[2] += 0.1
    wind = np.append(rng.uniform(-5, 5, 2), 0.0)
    return ground, position, velocity, wind


def flown(case, reach):
    ground, position, velocity, wind = case
    ours = ll.Ground.grid(origin=tuple(ground.origin), spacing=tuple(ground.spacing), heights=ground.heights)
    rider = ll.Rider(mass=85.0, cda=0.5, com_height_landing=reach)
    air = ll.Air(wind=tuple(wind), density=1.2, gravity=GRAVITY)
    launch = ll.Launch(position=tuple(position), velocity=tuple(velocity))
    return launch.flight(ours, rider, air).touchdown


def path_of(case):
    _, position, velocity, wind = case
    return Path(position, velocity, drag_constant(1.2, 0.5, 85.0), wind, GRAVITY, 4.0)


def first_crossing(path, ground):
    """The first time at which the point's path meets the surface, grazes included."""

    def gap(t):
        state = path.solution.sol(t)
        return state[2] - ground.height(state[0], state[1])

    times = np.linspace(0, path.solution.t[-1], 40001)
    states = path.sampled(times)
    inside = ground.contains(states[:, 0], states[:, 1])
    end = len(times) if inside.all() else np.argmin(inside)
    gaps = states[:end, 2] - ground.height(states[:end, 0], states[:end, 1])
    below = np.flatnonzero(gaps < 0)
    last = below[0] if below.size else end - 1
    # Between two samples above the ground the path can still dip: look where it comes close.
    inner = np.arange(1, last)
    close = inner[(gaps[inner] < 2e-3) & (gaps[inner] <= gaps[inner - 1]) & (gaps[inner] <= gaps[inner + 1])]
    for i in close:
        lowest = minimize_scalar(gap, bounds=(times[i - 1], times[i + 1]), method="bounded", options={"xatol": 1e-14})
        if lowest.fun < 0:
            return brentq(gap, times[i - 1], lowest.x, xtol=1e-15)
    return brentq(gap, times[last - 1], times[last], xtol=1e-15) if below.size else None


def test_points_touch_where_the_oracle_says():
    worst, touched = 0.0, 0
    for seed in range(FLIGHTS):
        case = random_case(seed, 0.0)
        down, path = flown(case, 0.0), path_of(case)
        time = first_crossing(path, case[0])
        if time is None:
            assert down.outcome == "off the survey", (seed, down.outcome)
            continue
        touched += 1
        off = np.abs(np.subtract(down.mark, path.at(time)[:3])).max()
        assert off <= 1e-6, (seed, off, down.time, time)
        worst = max(worst, off)
    print(f"\n{touched} of {FLIGHTS} touched: mark {worst:.1e} m")
    assert touched >= 0.9 * FLIGHTS


def graze(seed):
    """A case, and how far to lift it for its path to pass a bump by nothing, or None without such a bump."""
    case = random_case(seed, 0.0)
    ground, path = case[0], path_of(case)
    times = np.linspace(0, first_crossing(path, ground), 20001)
    states = path.sampled(times)
    gaps = states[:, 2] - ground.height(states[:, 0], states[:, 1])
    inner = np.arange(1, len(gaps) - 1)
    lows = inner[(gaps[inner] < gaps[inner - 1]) & (gaps[inner] < gaps[inner + 1])]
    lows = [i for i in lows if gaps[i] < gaps[:i].min()]
    if not lows:
        return case, None

    def gap(t):
        state = path.solution.sol(t)
        return state[2] - ground.height(state[0], state[1])

    around = (times[lows[-1] - 1], times[lows[-1] + 1])
    return case, -minimize_scalar(gap, bounds=around, method="bounded", options={"xatol": 1e-13}).fun


def test_a_graze_of_a_micrometre_is_told_from_a_miss():
    """A path that clears a bump by a hair goes on; one that lacks a hair ends right there."""
    apart = 0
    for seed in range(150):
        (ground, position, velocity, wind), lift = graze(seed)
        if lift is None:
            continue
        touches = []
        for hair in (1e-6, -1e-6):
            case = (ground, position + np.array([0.0, 0.0, lift + hair]), velocity, wind)
            down, path = flown(case, 0.0), path_of(case)
            touches.append(first_crossing(path, ground))
            assert down.time == pytest.approx(touches[-1], abs=1e-6), (seed, hair)
        apart += touches[0] - touches[1] > 1e-3
    print(f"\n{apart} grazes told apart")
    assert apart >= 15


@pytest.mark.timeout(300)
def test_riders_touch_first_where_their_distance_comes_down_to_the_reach():
    worst, touched = 0.0, 0
    for seed in range(RIDERS):
        case = random_case(seed, 1.0)
        ground = case[0]
        down, path = flown(case, 1.0), path_of(case)
        if down.outcome != "landed":
            assert down.outcome == "off the survey", (seed, down.outcome)
            continue
        touched += 1
        centre = path.at(down.time)[:3]
        off = abs(ground.distance(centre, 1.2) - 1.0)
        assert off <= 1e-6, (seed, off)
        assert np.linalg.norm(centre - down.mark) == pytest.approx(1.0, abs=1e-6)
        worst = max(worst, off)
        for time in np.linspace(0, down.time, 30)[:-1]:
            state = path.solution.sol(time)
            assert ground.distance(state[:3], 1.1) > 1.0 - 1e-7, (seed, time, down.time)
    print(f"\n{touched} of {RIDERS} touched: distance less reach {worst:.1e} m")
    assert touched >= 0.9 * RIDERS

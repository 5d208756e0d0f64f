"""What the trade knows (common practice), asked of the model."""

import itertools

import numpy as np
import pytest

import loamline as ll

RIDER = ll.Rider()
AIR = ll.Air()
FLAT = ll.Ground.plane()


def off_the_wall(radius, end_bank, speed, leave):
    """The share of the entry speed kept and the touchdown on flat ground, or None without a launch."""
    wall = ll.Wall(radius=radius, sweep_deg=55.0, bank_deg=(20.0, end_bank), width=2.6)
    ride = wall.line(enter=0.25, leave=leave).ride(RIDER, AIR, speed=speed)
    if ride.exit_speed is None:
        return None
    return ride.exit_speed / speed, ride.launch().flight(FLAT, RIDER, AIR).touchdown


WALLS = list(itertools.product([5.5, 7.0, 9.0], [55.0, 62.0, 68.0]))
SPEEDS = [7.0, 7.5, 8.0, 8.5, 9.0, 10.0]
HEIGHTS = [1.0, 1.2, 1.4, 1.6, 1.8]


def rising(values):
    return all(low < high for low, high in itertools.pairwise(values))


@pytest.mark.parametrize("radius,end_bank", WALLS)
def test_leaving_higher_lands_further_and_harder(radius, end_bank):
    """Common practice, for riders who keep at least two thirds of their entry speed."""
    compared = 0
    for speed in SPEEDS:
        flights = [off_the_wall(radius, end_bank, speed, leave) for leave in HEIGHTS]
        kept = [down for share, down in filter(None, flights) if share >= 2 / 3]
        assert rising([down.distance for down in kept]), (speed, [down.distance for down in kept])
        assert rising([down.fall_height for down in kept]), speed
        compared += max(len(kept) - 1, 0)
    assert compared >= len(SPEEDS)


@pytest.mark.parametrize("radius,end_bank", WALLS)
def test_faster_lands_further(radius, end_bank):
    """Common practice."""
    for leave in HEIGHTS:
        flights = [off_the_wall(radius, end_bank, speed, leave) for speed in SPEEDS]
        landed = [down.distance for _, down in filter(None, flights)]
        assert len(landed) >= 3
        assert rising(landed), (leave, landed)


def slope_from_the_mark_on(mark, slope_deg):
    """Ground that falls at one slope from half a metre before a mark on, and lies deep before that."""
    nodes = np.arange(-8, int(mark[0] / 0.25) + 60)
    x = mark[0] + 0.25 * (nodes - nodes[-1] + 40)
    height = mark[2] - np.tan(np.radians(slope_deg)) * (x - mark[0])
    height[x < mark[0] - 0.3] = mark[2] - 5.0
    return ll.Ground.grid(origin=(x[0], -1.0), spacing=(0.25, 1.0), heights=np.tile(height, (3, 1)))


@pytest.mark.parametrize("seed", range(20))
def test_flat_is_harsher_than_a_slope_at_the_same_mark(seed):
    """Common practice: at one and the same mark the slope is what makes it soft.

    Any slope under twice the path's angle is softer; one steeper than the path cannot be landed on
    from above, so slopes up to the path's angle are what can be shown.
    """
    rng = np.random.default_rng(seed)
    rider = ll.Rider(com_height_landing=0.0)
    up, speed = np.radians(rng.uniform(-5, 35)), rng.uniform(4, 11)
    launch = ll.Launch(
        position=(0, 0, rng.uniform(1, 3)),
        velocity=(speed * np.cos(up), 0, speed * np.sin(up)),
    )
    flat = launch.flight(FLAT, rider, AIR).touchdown
    for share in (0.05, 0.3, 0.6, 0.9):
        sloped = slope_from_the_mark_on(flat.mark, share * flat.angle_deg)
        down = launch.flight(sloped, rider, AIR).touchdown
        assert np.linalg.norm(np.subtract(down.mark, flat.mark)) < 1e-6
        assert down.fall_height < flat.fall_height, share


@pytest.mark.parametrize("slope_deg", [8.0, 14.0, 20.0, 28.0])
def test_a_takeoff_along_the_slope_is_forgiving_of_speed(slope_deg):
    """Common practice: a long straight downhill landing suits slow and fast alike."""
    slope, length, drop = np.radians(slope_deg), 8.0, 0.8
    run_in = ll.Profile(
        [0.0, length / 2, length],
        [length * np.tan(slope), length / 2 * np.tan(slope), 0.0],
    )
    hill = ll.Ground.plane(point=(length, 0, -drop), slope_deg=slope_deg, heading_deg=0.0)
    heights = []
    for speed in np.linspace(4.0, 8.0, 9):
        ride = run_in.line().ride(RIDER, AIR, speed=speed)
        down = ride.launch().flight(hill, RIDER, AIR).touchdown
        assert down.outcome == "landed"
        heights.append(down.fall_height)
    assert max(heights) <= 1.2 * min(heights), heights

"""A real hillside: the elevation grid that ships with Matplotlib's sample data."""

import numpy as np
import pytest
from matplotlib import cbook

import loamline as ll

LAUNCHES = 10_000
METRES_PER_DEGREE = 111_320.0


@pytest.fixture(scope="module")
def elevation():
    """Heights in metres, rows northwards, and the cell's true size in metres."""
    with np.load(cbook.get_sample_data("jacksboro_fault_dem.npz", asfileobj=False)) as dem:
        middle = np.radians((dem["ymin"] + dem["ymax"]) / 2)
        cell = METRES_PER_DEGREE * np.array([dem["dx"] * np.cos(middle), dem["dy"]])
        return dem["elevation"][::-1].astype(float), cell


@pytest.fixture(scope="module")
def model(elevation):
    """The hillside shrunk to cells of 0.25 m, with the heights in proportion."""
    heights, cell = elevation
    return (heights - heights.min()) * 0.25 / cell[1]


def random_launches(heights, spacing, clearance, speeds, rng):
    ny, nx = heights.shape
    i, j = rng.integers(20, nx - 20, LAUNCHES), rng.integers(20, ny - 20, LAUNCHES)
    x, y = i * spacing[0], j * spacing[1]
    position = np.stack([x, y, heights[j, i] + clearance], axis=1)
    aim, up = rng.uniform(0, 2 * np.pi, LAUNCHES), np.radians(rng.uniform(-10, 40, LAUNCHES))
    speed = rng.uniform(*speeds, LAUNCHES)
    level = np.stack([np.cos(aim) * np.cos(up), np.sin(aim) * np.cos(up), np.sin(up)], axis=1)
    return position, speed[:, None] * level


def bilinear(heights, spacing, x, y):
    u, v = x / spacing[0], y / spacing[1]
    i = np.clip(np.floor(u).astype(int), 0, heights.shape[1] - 2)
    j = np.clip(np.floor(v).astype(int), 0, heights.shape[0] - 2)
    a, b = u - i, v - j
    low = heights[j, i] * (1 - a) + heights[j, i + 1] * a
    high = heights[j + 1, i] * (1 - a) + heights[j + 1, i + 1] * a
    return low * (1 - b) + high * b


def assert_first_crossings(flown, heights, spacing, position, velocity, tolerance):
    """Without drag the path is a parabola: it must be clear of the ground until the touch, and on it there."""
    landed = np.asarray(flown.outcome) == "landed"
    time = np.asarray(flown.time)[landed]
    position, velocity = position[landed], velocity[landed]
    worst = 0.0
    for share in np.linspace(0, 1, 401)[1:]:
        t = (share * time)[:, None]
        at = position + velocity * t + np.array([0, 0, -0.5 * 9.80665]) * t**2
        gap = at[:, 2] - bilinear(heights, spacing, at[:, 0], at[:, 1])
        if share < 1:
            assert gap.min() > -tolerance, share
        else:
            worst = np.abs(gap).max()
            assert worst <= tolerance
    return landed.sum(), worst


def test_the_true_grid_finds_ten_thousand_first_crossings(elevation):
    heights, cell = elevation
    ground = ll.Ground.grid(origin=(0, 0), spacing=tuple(cell), heights=heights)
    rng = np.random.default_rng(4)
    position, velocity = random_launches(heights, cell, 2.0, (20, 90), rng)
    rider = ll.Rider(cda=0.0, com_height_landing=0.0)
    flown = ll.flights(position, velocity, ground, rider, ll.Air())
    landed, worst = assert_first_crossings(flown, heights, cell, position, velocity, 1e-6)
    print(f"\ntrue grid: {landed} of {LAUNCHES} landed, worst gap {worst:.1e} m")
    assert set(np.unique(flown.outcome)) <= {"landed", "off_survey", "rolled_off"}
    assert landed >= 0.95 * LAUNCHES


def test_the_model_grid_finds_ten_thousand_first_crossings(model):
    ground = ll.Ground.grid(origin=(0, 0), spacing=(0.25, 0.25), heights=model)
    rng = np.random.default_rng(5)
    position, velocity = random_launches(model, (0.25, 0.25), 2.2, (2, 10), rng)
    rider = ll.Rider(cda=0.0, com_height_landing=1.0)
    flown = ll.flights(position, velocity, ground, rider, ll.Air())
    landed = np.asarray(flown.outcome) == "landed"
    print(f"\nmodel grid: {landed.sum()} of {LAUNCHES} landed")
    assert landed.sum() >= 0.9 * LAUNCHES
    assert np.abs(np.asarray(flown.residual)[landed]).max() <= 1e-7
    # The mark lies on the surface, one metre from where the parabola has the centre of mass.
    mark, time = np.asarray(flown.mark)[landed], np.asarray(flown.time)[landed, None]
    centre = position[landed] + velocity[landed] * time + np.array([0, 0, -0.5 * 9.80665]) * time**2
    assert np.abs(np.linalg.norm(centre - mark, axis=1) - 1.0).max() <= 1e-6
    gap = mark[:, 2] - bilinear(model, (0.25, 0.25), mark[:, 0], mark[:, 1])
    assert np.abs(gap).max() <= 1e-6


def test_a_run_in_cut_from_the_ground_closes_its_energy(model):
    """Down a line of the real hillside: what is lost on the way is what is missing at the end."""
    ny, _ = model.shape
    row = model[ny // 2]
    top = int(row[:-120].argmax())
    cut = row[top : top + 120]
    distance = 0.25 * np.arange(cut.size)
    # Nodes a wheelbase apart or so: a run-in is not ridden over every stone.
    profile = ll.Profile(distance[::8], cut[::8])
    ride = profile.line().ride(ll.Rider(), ll.Air(wind=(1, 2, 0)), speed=3.0)
    assert ride.outcome == "reached"
    ledger = ride.energy
    lost = ledger["drag"] + ledger["rolling"] + ledger["brake"] - ledger["pedal"]
    kept = ledger["start"] + ledger["gravity"] - lost - ledger["end"]
    assert kept == pytest.approx(0.0, abs=1e-9)
    assert lost > 0

"""Many passes at once say what each says by itself."""

import pickle

import numpy as np
import pytest

import loamline as ll

WALL = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
SCENE = (ll.Ground.plane(point=(0, 0, -0.8), slope_deg=5.0, heading_deg=50.0), ll.Rider(grip=0.9), ll.Air())


def rows(n, seed=7):
    """Invented: speeds of 5 to 11 m/s, places all over the edge, pushes and soaked ones."""
    rng = np.random.default_rng(seed)
    return rng.uniform(5.0, 11.0, n), rng.uniform(0.0, 2.4, n), rng.uniform(-0.3, 0.5, n)


def test_each_is_one_pass():
    ground, rider, air = SCENE
    speed, leave, pop = rows(60)
    many = ll.passes(WALL, speed, leave, *SCENE, enter=0.25, pop=pop)
    landed = 0
    for i in range(len(many)):
        ride = WALL.line(enter=0.25, leave=leave[i]).ride(rider, air, speed[i])
        if ride.outcome != "reached":
            assert many.outcome[i] == ride.outcome and np.isnan(many.fall_height[i])
            continue
        one = ride.launch(pop[i]).flight(ground, rider, air).touchdown
        assert many.outcome[i] == one.outcome
        np.testing.assert_allclose(many.mark[i], one.mark, atol=1e-8)
        assert many.exit_speed[i] == pytest.approx(ride.exit_speed, abs=1e-8)
        for name in ("time", "fall_height", "angle_deg", "distance", "drop", "along_speed", "sideways_speed"):
            assert getattr(many, name)[i] == pytest.approx(getattr(one, name), abs=5e-6)
        landed += 1
    assert landed > 30


def test_threads_out_and_pickles_change_no_bit():
    speed, leave, pop = rows(1500)
    alone = ll.passes(WALL, speed, leave, *SCENE, enter=0.25, pop=pop, threads=1)
    again = ll.passes(WALL, speed, leave, *SCENE, enter=0.25, pop=pop, threads=2)
    assert again == alone and pickle.loads(pickle.dumps(alone)) == alone
    kept = again.mark
    out = ll.passes(WALL, speed[::-1], leave[::-1], *SCENE, enter=0.25, pop=pop[::-1], out=again)
    assert out is again and np.array_equal(kept[::-1], alone.mark, equal_nan=True)
    assert ll.passes(WALL, [8.0], [1.2], *SCENE) == ll.passes(WALL, [8.0], [1.2], *SCENE, pop=[0.0])


def test_bad_rows_spoil_only_themselves_and_bad_shapes_are_told():
    many = ll.passes(WALL, [8.0, np.nan, 8.0, -1.0], [1.2, 1.2, 9.0, 1.2], *SCENE)
    assert many.outcome.tolist() == ["landed", "bad_input", "bad_input", "bad_input"]
    assert many.status.tolist() == [0, 8, 8, 8] and ll.BatchPasses.statuses[8] == "bad_input"
    assert np.isfinite(many.mark[0]).all() and np.isnan(many.mark[1:]).all()
    with pytest.raises(ll.InputError, match="leave"):
        ll.passes(WALL, [8.0], [1.2, 1.3], *SCENE)
    with pytest.raises(ll.InputError, match="pop"):
        ll.passes(WALL, [8.0], [1.2], *SCENE, pop=[0.0, 0.0])
    with pytest.raises(ll.InputError, match="enter"):
        ll.passes(WALL, [8.0], [1.2], *SCENE, enter=3.0)
    with pytest.raises(ll.InputError, match="out"):
        ll.passes(WALL, [8.0], [1.2], *SCENE, out=ll.passes(WALL, [8.0, 9.0], [1.2, 1.2], *SCENE))
    with pytest.raises(ll.Cancelled):
        speed, leave, _ = rows(2000)
        ll.passes(WALL, speed, leave, *SCENE, progress=lambda done, total: False)


def test_lips_drops_and_leans():
    ground, rider, air = SCENE
    lip, drop = ll.Lip(radius=4.0, end_angle_deg=35.0, width=1.5), ll.Drop(length=3.0, width=1.5)
    for takeoff in (lip, drop):
        many = ll.passes(takeoff, [7.0, 8.0], [0.0, 0.3], *SCENE)
        ride = takeoff.line(0.3).ride(rider, air, 8.0)
        one = ride.launch().flight(ground, rider, air).touchdown
        np.testing.assert_allclose(many.mark[1], one.mark, atol=1e-8)
    leant = ll.passes(WALL, [8.0], [1.2], *SCENE, lean="balanced")
    ride = WALL.line(enter=0.0, leave=1.2).ride(rider, air, 8.0, lean="balanced")
    # One is sampled on the way and the other is not: the same but for rounding.
    np.testing.assert_allclose(leant.mark[0], ride.launch().flight(ground, rider, air).touchdown.mark, atol=1e-11)

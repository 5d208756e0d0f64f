"""Many flights at once say what each says by itself."""

import pickle
import signal

import numpy as np
import pytest

import loamline as ll

WINDS = [(0.0, 0.0, 0.0), (-4.0, 4.0, -0.5), (3.0, -2.0, 0.5), (6.0, 0.0, 0.0)]


def launches(n, seed=5):
    """Invented: speeds of 4 to 14 m/s, pitched up to 40 degrees, turned up to 30 either way."""
    rng = np.random.default_rng(seed)
    speed = rng.uniform(4.0, 14.0, n)
    pitch, yaw = np.radians(rng.uniform(0.0, 40.0, n)), np.radians(rng.uniform(-30.0, 30.0, n))
    level = speed * np.cos(pitch)
    velocity = np.stack([level * np.cos(yaw), level * np.sin(yaw), speed * np.sin(pitch)], axis=1)
    position = rng.uniform([-1.0, -1.0, 1.8], [1.0, 1.0, 3.5], (n, 3))
    return position, velocity


def hill():
    x, y = np.meshgrid(np.arange(-4.0, 36.0, 0.5), np.arange(-12.0, 12.0, 0.5))
    heights = 0.2 * np.sin(0.9 * x) * np.cos(0.8 * y) - 0.12 * x
    return ll.Ground.grid((-4.0, -12.0), (0.5, 0.5), heights)


@pytest.mark.parametrize("wind", WINDS)
def test_onto_a_plane_and_a_hill_they_are_single_flights(wind):
    rider, air = ll.Rider(), ll.Air(wind=wind)
    position, velocity = launches(40)
    for ground in (ll.Ground.plane(slope_deg=12.0), hill()):
        many = ll.flights(position, velocity, ground, rider, air)
        for i in range(len(many)):
            one = ll.Launch(position[i], velocity[i]).flight(ground, rider, air).touchdown
            assert many.outcome[i] == one.outcome
            np.testing.assert_allclose(many.mark[i], one.mark, atol=1e-8)
            np.testing.assert_allclose(many.velocity[i], one.velocity, atol=1e-7)
            for name in ("time", "fall_height", "angle_deg", "distance", "drop", "along_speed"):
                value = getattr(many, name)[i]
                assert value == pytest.approx(getattr(one, name), abs=1e-6, rel=1e-9)


def test_threads_and_slices_change_no_bit():
    position, velocity = launches(3000)
    scene = (ll.Ground.plane(slope_deg=5.0), ll.Rider(), ll.Air(wind=(3.0, -2.0, 0.5)))
    alone = ll.flights(position, velocity, *scene, threads=1)
    assert ll.flights(position, velocity, *scene) == alone
    assert ll.flights(position, velocity, *scene, threads=2) == alone
    backwards = ll.flights(position[::-1], np.asfortranarray(velocity[::-1]), *scene)
    np.testing.assert_allclose(backwards.mark[::-1], alone.mark, atol=1e-8)
    assert pickle.loads(pickle.dumps(alone)) == alone


def test_a_ground_flown_onto_before_is_as_one_never_flown_onto():
    position, velocity = launches(200)
    known = hill()
    others = [(ll.Rider(), ll.Air()), (ll.Rider(), ll.Air(wind=(3, 0, 0))), (ll.Rider(com_height_landing=0.0), ll.Air())]
    for rider, air in others:
        flown = ll.flights(position, velocity, known, rider, air)
        assert flown == ll.flights(position, velocity, hill(), rider, air)
        assert known == hill() == pickle.loads(pickle.dumps(known))


def test_out_is_written_over_and_bad_rows_spoil_only_themselves():
    position, velocity = launches(500)
    scene = (ll.Ground.plane(), ll.Rider(), ll.Air())
    good = ll.flights(position, velocity, *scene)
    position[7, 1], velocity[300, 2] = np.nan, np.inf
    out = ll.flights(*launches(500, seed=8), *scene)
    time = out.time
    assert ll.flights(position, velocity, *scene, out=out) is out
    assert out.time is time
    bad = np.isin(np.arange(500), [7, 300])
    assert (out.outcome[bad] == "bad_input").all() and np.isnan(out.mark[bad]).all()
    assert np.array_equal(out.mark[~bad], good.mark[~bad])
    assert (out.outcome[~bad] == "landed").all()
    with pytest.raises(ll.InputError, match="out"):
        ll.flights(position[:5], velocity[:5], *scene, out=out)
    with pytest.raises(ll.InputError, match="velocity"):
        ll.flights(position, velocity[:5], *scene)
    with pytest.raises(ll.InputError, match="threads"):
        ll.flights(position, velocity, *scene, threads=0)


@pytest.mark.parametrize("wind", WINDS)
def test_paths_are_those_of_single_flights(wind):
    ground, rider, air = ll.Ground.plane(slope_deg=12.0), ll.Rider(), ll.Air(wind=wind)
    position, velocity = launches(30)
    # Straight up, and at rest in the strong tail wind.
    velocity[3], velocity[4] = (0.0, 0.0, 5.0), (6.0, 0.0, 0.0)
    time = ll.flights(position, velocity, ground, rider, air).time
    paths = ll.flight_paths(position, velocity, time, rider, air, n=37)
    assert paths.shape == (30, 37, 3)
    for i in range(30):
        one = ll.Launch(position[i], velocity[i]).flight(ground, rider, air)
        np.testing.assert_allclose(paths[i], one.path(37), atol=2e-8)
    assert np.array_equal(paths, ll.flight_paths(position, velocity, time, rider, air, n=37, threads=1))
    assert ll.flight_paths(position, velocity, time, rider, air).shape == (30, 200, 3)


def test_paths_go_into_an_array_that_fits():
    rider, air = ll.Rider(), ll.Air()
    position, velocity = launches(20)
    time = np.full(20, 0.7)
    time[5], velocity[6, 1] = np.nan, np.inf
    out = np.zeros((20, 11, 3))
    assert ll.flight_paths(position, velocity, time, rider, air, n=11, out=out) is out
    assert np.isnan(out[[5, 6]]).all() and np.isfinite(np.delete(out, [5, 6], axis=0)).all()
    assert np.array_equal(out[0, 0], position[0])
    locked = out.copy()
    locked.setflags(write=False)
    wrong = [np.zeros((20, 10, 3)), np.zeros((20, 11, 3), dtype=np.float32), locked, np.asfortranarray(out), [1.0]]
    for other in wrong:
        with pytest.raises(ll.InputError, match="out"):
            ll.flight_paths(position, velocity, time, rider, air, n=11, out=other)
    with pytest.raises(ll.InputError, match="time"):
        ll.flight_paths(position, velocity, time[:4], rider, air)
    with pytest.raises(ll.InputError, match="velocity"):
        ll.flight_paths(position, velocity[:4], time, rider, air)
    with pytest.raises(ll.InputError, match="n"):
        ll.flight_paths(position, velocity, time, rider, air, n=2**40)
    assert ll.flight_paths(np.empty((0, 3)), np.empty((0, 3)), [], rider, air).shape == (0, 200, 3)


def test_tables_and_none_at_all():
    scene = (ll.Ground.plane(), ll.Rider(), ll.Air())
    table = ll.flights(*launches(5), *scene).to_pandas()
    assert len(table) == 5 and set(table["outcome"]) == {"landed"}
    assert len(ll.flights(np.empty((0, 3)), np.empty((0, 3)), *scene)) == 0


def test_a_listener_may_stop_them():
    with pytest.raises(ll.Cancelled):
        ll.flights(
            np.tile([0.0, 0.0, 2.0], (2_000_000, 1)),
            np.tile([6.0, 0.0, 1.0], (2_000_000, 1)),
            ll.Ground.plane(),
            ll.Rider(),
            ll.Air(),
            threads=1,
            progress=lambda done, total: False,
        )


def test_a_signal_stops_one_thread_on_the_way():
    position, velocity = np.tile([0.0, 0.0, 2.0], (40_000, 1)), np.tile([0.0, 0.0, 1e4], (40_000, 1))
    out = ll.flights(position, np.full_like(velocity, np.nan), ll.Ground.plane(), ll.Rider(), ll.Air())

    def stop(*_):
        raise InterruptedError

    before = signal.signal(signal.SIGALRM, stop)
    try:
        signal.setitimer(signal.ITIMER_REAL, 0.1)
        with pytest.raises(InterruptedError):
            ll.flights(position, velocity, ll.Ground.plane(), ll.Rider(), ll.Air(), threads=1, out=out)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        signal.signal(signal.SIGALRM, before)
    assert np.isnan(out.time[-1])

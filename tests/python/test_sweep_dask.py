"""A sweep on a Dask cluster is the sweep of this process, and goes on in a store where either stopped."""

import numpy as np
import pytest

import loamline as ll

distributed = pytest.importorskip("distributed")

GROUND = ll.Ground.plane(slope_deg=10.0)
OVER = {
    "wind_x": [-3.0, 0.0, 3.0],
    "riders": {"mass": [60.0, 90.0], "cda": [0.5, 0.6]},
    "speed": np.linspace(4.0, 9.0, 11),
    "pitch_deg": [0.0, 12.0, 25.0],
}


@pytest.fixture(scope="module")
def client():
    """A cluster of two workers in this process, without a page of its own."""
    how = {"n_workers": 2, "threads_per_worker": 1, "processes": False, "dashboard_address": None}
    with distributed.LocalCluster(**how) as cluster, distributed.Client(cluster) as client:
        yield client


def sweep(**changes):
    return ll.sweep(OVER, GROUND, z=2.0, **changes)


@pytest.mark.parametrize("block", [20, 10_000])
def test_a_cluster_changes_no_number(client, block):
    told = []
    shared = sweep(block=block, client=client, progress=lambda done, total: told.append((done, total)))
    assert shared.identical(sweep(block=block))
    assert told[-1] == (198, 198) and told == sorted(told)


def test_a_store_is_gone_on_with_on_a_cluster_and_back(client, tmp_path):
    pytest.importorskip("zarr")

    def stop(done, total):
        if done >= 60:
            raise KeyboardInterrupt

    store = tmp_path / "sweep.zarr"
    with pytest.raises(KeyboardInterrupt):
        sweep(store=store, block=20, client=client, progress=stop)
    told = []
    with pytest.raises(KeyboardInterrupt):
        sweep(store=store, block=20, progress=lambda done, _: told.append(done) or stop(done - 60, 0))
    assert told[0] > 60 and told[-1] >= 120
    data = sweep(store=store, block=20, client=client, progress=lambda done, _: told.append(done))
    assert told == sorted(set(told)) and told[-1] == 198
    assert np.array_equal(data.fall_height, sweep(block=20).fall_height)


def test_what_goes_wrong_on_a_worker_is_told(client):
    with pytest.raises(ll.InputError, match="mass"):
        ll.sweep({"speed": [5.0], "mass": [80.0, -1.0]}, GROUND, z=2.0, client=client)

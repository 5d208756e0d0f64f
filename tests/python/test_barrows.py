"""The map of the next barrow, and the list of barrows."""

import matplotlib as mpl
import numpy as np
import pytest

import loamline as ll

mpl.use("Agg")


@pytest.fixture(scope="module")
def passes():
    return ll.Site.demo().passes(n=128, seed=1)


def severity(passes, limit):
    hard = (passes.fall_height / limit) ** 2
    told = np.isfinite(passes.mark[:, 0])
    return np.average(hard[told], weights=passes.weight[told])


def test_map_holds_what_it_says(passes, round_trip):
    told = ll.barrow_map(passes, fall_limit=1.0, volume=0.06)
    assert told.gain.shape == (len(told.y), len(told.x))
    row, column = np.unravel_index(np.where(told.free, told.gain, -np.inf).argmax(), told.gain.shape)
    assert told.best == pytest.approx((told.x[column], told.y[row]))
    assert told.severity == pytest.approx(severity(passes, 1.0))
    assert 0.5 < told.share_told <= 1.0
    assert round_trip(told) == told
    assert repr(told).startswith("<BarrowMap: severity ")
    # Twice the earth does twice as much, to first order.
    double = ll.barrow_map(passes, fall_limit=1.0, volume=0.12)
    np.testing.assert_allclose(double.gain, 2.0 * told.gain, atol=1e-12)


def test_barrows_lower_the_severity_one_by_one(passes):
    found = ll.next_barrows(passes, fall_limit=1.0, volume=0.06, count=3)
    falling = [ll.barrow_map(passes, 1.0, 0.06).severity, *found["severity"]]
    assert (np.diff(falling) < 0.0).all()
    assert (found["expected"] > 0.0).all()
    assert found["place"].shape == (len(found["severity"]), 2)


@pytest.mark.parametrize("changes", [{"fall_limit": 0.0}, {"volume": -1.0}, {"volume": 2.0}, {"radius": 0.0}])
def test_wrong_input_is_named(passes, changes):
    asked = {"fall_limit": 1.0, "volume": 0.06, **changes}
    with pytest.raises(ll.InputError) as caught:
        ll.barrow_map(passes, **asked)
    assert caught.value.field == next(iter(changes))


def test_it_is_drawn(passes):
    from loamline import plot
    from matplotlib import pyplot as plt

    told = ll.barrow_map(passes, fall_limit=1.0, volume=0.06, spacing=0.5)
    ax = plt.subplots()[1]
    assert plot.barrows(told, places=[told.best], ax=ax) is ax
    assert ax.get_aspect() == 1.0
    plt.close("all")

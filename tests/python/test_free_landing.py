"""The free landing: does it hold what it says, and go on from any ground?"""

import matplotlib as mpl
import numpy as np
import pytest

import loamline as ll

mpl.use("Agg")

ASKED = {"fall_limit": 1.0, "volume": 0.7}


@pytest.fixture(scope="module")
def passes():
    return ll.Site.demo().passes(n=96, seed=1)


@pytest.fixture(scope="module")
def free(passes):
    return ll.free_landing(passes, **ASKED)


def severity(passes):
    told = np.isfinite(passes.mark[:, 0])
    return np.average(passes.fall_height[told] ** 2, weights=passes.weight[told])


def test_it_holds_what_it_says(passes, free, round_trip):
    assert free.earth.shape == free.height.shape == (len(free.y), len(free.x))
    assert (free.earth >= 0.0).all()
    square = (free.x[1] - free.x[0]) * (free.y[1] - free.y[0])
    assert free.volume == pytest.approx(free.earth.sum() * square)
    assert free.volume <= 0.7 + 1e-6
    assert (np.diff(free.severities) < 0.0).all()
    assert (free.severity_before, free.severity) == (free.severities[0], free.severities[-1])
    assert free.severity == pytest.approx(severity(passes.on(free.built)))
    assert round_trip(free) == free
    assert repr(free).startswith("<FreeLanding: 0.")
    assert 0.0 <= free.promised < 0.1 * free.severity_before
    assert free.stopped_by in ("no better", "no progress", "steps")
    assert "convex program" in free.explain()
    assert "certify nothing" in free._repr_html_()


def test_its_slopes_stay_within_what_was_allowed(passes):
    free = ll.free_landing(passes, **ASKED, steepest_deg=12.0)
    dy, dx = np.gradient(free.height, free.y, free.x)
    bare_dy, bare_dx = np.gradient(free.height - free.earth, free.y, free.x)
    bare = np.hypot(bare_dx, bare_dy).max()
    assert np.hypot(dx, dy).max() <= max(np.tan(np.radians(12.0)), bare) + 1e-6
    assert free.steepest_deg == pytest.approx(12.0)


def test_it_goes_on_from_a_surveyed_half_built_landing(passes, free):
    x, y = np.meshgrid(np.arange(-3.0, 12.0, 0.3), np.arange(-6.0, 6.0, 0.3))
    height = free.built.height(x.ravel(), y.ravel())
    half = ll.Ground.survey(np.column_stack([x.ravel(), y.ravel(), height])[np.isfinite(height)])
    again = ll.free_landing(passes.on(half), fall_limit=1.0, volume=0.3)
    assert again.severity_before == pytest.approx(free.severity, rel=0.02)
    assert again.severity < again.severity_before < free.severity_before


def test_progress_can_stop_it(passes):
    with pytest.raises(ll.Cancelled):
        ll.free_landing(passes, **ASKED, progress=lambda done, total: done < 1)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"fall_limit": 0.0}, "fall_limit"),
        ({"volume": -1.0}, "volume"),
        ({"spacing": float("nan")}, "spacing"),
        ({"spacing": 1e-4}, "spacing"),
        ({"radius": 0.0}, "radius"),
        ({"margin": 0.0}, "margin"),
        ({"steps": 0}, "steps"),
        ({"steepest_deg": float("inf")}, "steepest_deg"),
        ({"steepest_deg": 60.0}, "steepest_deg"),
    ],
)
def test_wrong_input_is_named(passes, changes, field):
    with pytest.raises(ll.InputError) as caught:
        ll.free_landing(passes, **{**ASKED, **changes})
    assert caught.value.field == field


def test_it_is_drawn(passes, free):
    from loamline import plot
    from matplotlib import pyplot as plt

    ax = plt.subplots()[1]
    assert plot.earth(free, passes, ax=ax) is ax
    assert ax.get_aspect() == 1.0
    plt.close("all")

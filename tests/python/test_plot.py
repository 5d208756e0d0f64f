"""The pictures: each draws on given axes or its own, and says its units."""

from __future__ import annotations

import loamline as ll
import matplotlib as mpl
import numpy as np
import pytest

mpl.use("Agg")

from loamline import plot  # noqa: E402
from matplotlib import pyplot as plt  # noqa: E402


@pytest.fixture(scope="module")
def scene():
    site = ll.Site.demo()
    passes = site.passes(n=256, seed=1)
    heading = float(np.degrees(plot_heading(passes)))
    marks = passes.mark[np.isfinite(passes.mark[:, 0])]
    crest = tuple(np.median(marks, axis=0)[:2])
    landing = ll.Landing(crest=crest, heading_deg=heading, slope_deg=20.0, length=3.0, width=2.5)
    built = site.ground.with_landing(landing)
    return site, passes, built


def plot_heading(passes):
    vx, vy = np.nanmean(passes.launch_velocity[:, :2], axis=0)
    return np.arctan2(vy, vx)


@pytest.fixture(autouse=True)
def tidy():
    yield
    plt.close("all")


def pictures(scene):
    site, passes, built = scene
    on = passes.on(built)
    curve = ll.tradeoff(passes, site, volumes=[1.0, 2.0], fall_limit=1.0)
    ride = site.ride(start=float(np.median(passes.start)), leave=1.2, who=passes.class_names[0])
    return {
        "side": lambda ax=None: plot.side(site, on, built=built, landing=built.landing, ax=ax),
        "plan": lambda ax=None: plot.plan(site, on, landing=built.landing, ax=ax),
        "severity": lambda ax=None: plot.severity(on, 1.0, ax=ax),
        "curve": lambda ax=None: plot.curve(curve, barrow_volume=0.06, ax=ax),
        "ride": lambda ax=None: plot.ride(ride, grip=0.6, ax=ax),
        "loads": lambda ax=None: plot.loads(ll.Rider().loads(fall_height=1.0), ax=ax),
        "wall": lambda ax=None: plot.wall(site.wall, [[(0.0, 0.3), (3.0, 1.0)]], ax=ax),
    }


def test_each_draws_on_given_axes_and_on_its_own(scene):
    for name, draw in pictures(scene).items():
        ax = plt.subplots()[1]
        assert draw(ax=ax) is ax, name
        own = draw()
        assert own is not ax and own.figure is not ax.figure, name
        own.figure.canvas.draw()
        for label in (own.get_xlabel(), own.get_ylabel()):
            assert any(unit in label for unit in (" m", "m/s", "%", "g;", ", s", "body weights")), (name, label)


def test_metres_meet_metres_at_equal_scale(scene):
    for name, draw in pictures(scene).items():
        if name in ("side", "plan", "wall"):
            assert draw().get_aspect() == 1.0, name


def test_the_style_sheet_does_not_leak(scene):
    before = dict(mpl.rcParams)
    pictures(scene)["side"]()
    assert dict(mpl.rcParams) == before


def test_a_back_end_that_turns_interactive_stays_so():
    try:
        with plot.sheet():
            mpl.interactive(True)
        assert mpl.is_interactive()
    finally:
        mpl.interactive(False)


def test_flights_of_the_side_view_start_at_the_launch_and_end_over_the_mark(scene):
    site, passes, _ = scene
    i = int(np.flatnonzero(np.isfinite(passes.mark[:, 0]))[0])
    path = passes.path(i, 30)
    assert path.shape == (30, 3)
    np.testing.assert_allclose(path[0], passes.launch_position[i], atol=1e-9)
    # The centre of mass is a leg's height from the mark.
    assert 0.3 < np.linalg.norm(path[-1] - passes.mark[i]) < 1.5


@pytest.mark.parametrize(("look", "paper"), [("light", 1.0), ("dark", 0.0085)])
def test_colours_of_fall_height_grow_lighter_step_by_step_and_show_on_their_paper(look, paper):
    from loamline.plot import style

    with style.sheet(look):
        colours = style.FALL_HEIGHT(np.linspace(0, 1, 64))
    red, green, blue = (colours[:, k] for k in range(3))
    lightness = 0.2126 * red**2.2 + 0.7152 * green**2.2 + 0.0722 * blue**2.2
    assert (np.diff(lightness) > 0).all()
    # The nearest to the paper still stands out from it (contrast ratio of WCAG 2.1).
    near = lightness[-1] if look == "light" else lightness[0]
    assert max(paper, near) + 0.05 > 1.6 * (min(paper, near) + 0.05)

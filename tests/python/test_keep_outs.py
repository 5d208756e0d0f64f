"""Where no earth may lie: keep-outs and the allowed area, in site files, searches and pictures."""

import loamline as ll
import matplotlib as mpl
import numpy as np
import pytest

mpl.use("Agg")

from loamline import plot  # noqa: E402
from matplotlib.path import Path  # noqa: E402

# Invented: roots beside where the demo's riders come down, and under the earth of its landing for 2 m3.
ROOTS = np.array([[3.6, 1.7], [5.0, 1.6], [4.6, 2.6]])


def with_keep_out(folder, corners, name="beech roots"):
    """The demo with a keep-out more."""
    path = folder / "site.toml"
    ll.Site.demo().save(path)
    text = path.read_text("utf-8")
    named = f"name = {name!r}\n" if name else ""
    text += f"\n[[landing.keep_out]]\n{named}corners = {np.asarray(corners).tolist()}\n"
    path.write_text(text, "utf-8")
    return ll.Site.load(path)


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    return with_keep_out(tmp_path_factory.mktemp("site"), ROOTS)


@pytest.fixture(scope="module")
def passes(site):
    return site.passes(n=96, seed=1)


def test_a_site_tells_its_area_and_keep_outs(site, tmp_path, round_trip):
    [(name, corners)] = site.keep_outs
    assert name == "beech roots"
    assert corners == pytest.approx(ROOTS)
    assert site.area == pytest.approx(np.array([[2.0, -5.5], [11.0, -5.5], [11.0, 7.0], [1.0, 7.0]]))
    assert round_trip(site) == site
    site.save(tmp_path / "again.toml")
    assert ll.Site.load(tmp_path / "again.toml") == site
    [(name, _)] = with_keep_out(tmp_path, ROOTS, name=None).keep_outs
    assert name is None
    assert ll.Site.demo().keep_outs == []


def test_sides_that_cross_are_named_with_file_and_line(tmp_path):
    with pytest.raises(ll.FileError) as told:
        with_keep_out(tmp_path, [[0, 0], [2, 0], [0, 2], [2, 2]])
    words = str(told.value)
    assert "site.toml, line" in words
    assert "landing.keep_out[0].corners: side 2 (corner 2 to 3) and side 4 (corner 4 to 1) cross" in words


def test_earth_stays_off_it(site, passes):
    x, y = (axis.ravel() for axis in np.meshgrid(np.linspace(3.6, 5.0, 30), np.linspace(1.6, 2.6, 30)))
    on_roots = Path(ROOTS).contains_points(np.c_[x, y])
    x, y = x[on_roots], y[on_roots]
    deepest = {}
    for name, of in (("kept", site), ("open", ll.Site.demo())):
        fit = ll.fit_landing(passes, of, volume=2.0, fall_limit=1.0, seed=1)
        built = site.ground.with_landing(fit.landing)
        deepest[name] = (built.height(x, y) - site.ground.height(x, y)).max()
    assert deepest["kept"] <= 1e-9
    assert deepest["open"] > 0.05, "or else the roots prove nothing"


def test_free_earth_and_barrows_stay_off_it(passes):
    free = ll.free_landing(passes, 1.0, 0.4, steps=5)
    x, y = np.meshgrid(free.x, free.y)
    laid = free.earth > 0.0
    assert laid.any()
    assert not Path(ROOTS).contains_points(np.c_[x[laid], y[laid]], radius=0.15).any()
    told = ll.barrow_map(passes, 1.0, 0.06)
    assert told.free.shape == told.gain.shape
    assert told.free.any()
    assert not told.free.all()
    x, y = np.meshgrid(told.x, told.y)
    assert not Path(ROOTS).contains_points(np.c_[x[told.free], y[told.free]]).any()
    list = ll.next_barrows(passes, 1.0, 0.06, count=2)
    gaps = np.linalg.norm(list["place"][:, None] - ROOTS, axis=2)
    assert gaps.min() >= 1.2
    axes = plot.barrows(told, list["place"])
    assert axes.get_xlabel() == "x, m"


def test_no_room_for_earth_says_what_to_do(tmp_path):
    everywhere = with_keep_out(tmp_path, [[-50, -50], [50, -50], [50, 50], [-50, 50]]).passes(n=32, seed=1)
    with pytest.raises(ll.PassesError, match="take a smaller radius"):
        ll.barrow_map(everywhere, 1.0, 0.06)
    with pytest.raises(ll.PassesError, match="take a wider margin"):
        ll.free_landing(everywhere, 1.0, 0.5)


def test_the_plan_shows_it(site):
    words = [text.get_text() for text in plot.plan(site).texts]
    assert "beech roots" in words

"""What pictures show: the numbers themselves, in metres or feet, by day and by night, moving and turning."""

from __future__ import annotations

import re

import loamline as ll
import matplotlib as mpl
import numpy as np
import pytest
from browsers import show

mpl.use("Agg")

from loamline import plot  # noqa: E402
from loamline.plot.wall_ride import on_panel  # noqa: E402
from loamline.regions import Regions  # noqa: E402
from matplotlib import pyplot as plt  # noqa: E402
from matplotlib.colors import to_hex, to_rgb  # noqa: E402

FOOT = 0.3048


@pytest.fixture(scope="module")
def site():
    return ll.Site.demo()


@pytest.fixture(scope="module")
def built(site):
    landing = ll.Landing(crest=(2.4, 0.7), heading_deg=5.0, slope_deg=22.0, length=2.6, width=2.4)
    return site.ground.with_landing(landing)


@pytest.fixture(scope="module")
def passes(site, built):
    return site.passes(n=128, seed=1).on(built)


@pytest.fixture(scope="module")
def ridden(site):
    line = site.wall.line(enter=site.enter, leave=1.2)
    return line, line.ride(site.classes[1].rider, site.air, 8.0, lean="balanced")


@pytest.fixture(autouse=True)
def tidy():
    yield
    plt.close("all")


def drawn(site, built, passes, ridden):
    """Every picture that is quick to draw, as functions of `look` and `units`."""
    line, ride = ridden
    return {
        "side": lambda **how: plot.side(site, passes, built=built, landing=built.landing, **how),
        "plan": lambda **how: plot.plan(site, passes, landing=built.landing, **how),
        "marks": lambda **how: plot.marks(site, passes, landing=built.landing, **how),
        "severity": lambda **how: plot.severity(passes, 1.0, takeoff=site.takeoff, **how),
        "falls": lambda **how: plot.falls(site, grid=(5, 4), **how),
        "wall": lambda **how: plot.wall(site.wall, [line], **how),
        "wall_ride": lambda **how: plot.wall_ride(site.wall, line, ride, **how),
        "loads": lambda **how: plot.loads(ll.Rider().loads(fall_height=0.8), **how),
    }


def test_feet_are_feet(site, built, passes, ridden):
    for name, draw in drawn(site, built, passes, ridden).items():
        ax = draw(units="feet")
        ax.figure.canvas.draw()
        for axis in (ax.xaxis, ax.yaxis):
            words = axis.get_label_text()
            assert not words.endswith((", m", ", m/s")), (name, words)
            size = FOOT if words.endswith(", ft") else 0.44704 if words.endswith(", mph") else None
            ticks = [(at, float(t.replace("−", "-"))) for at, t in zip(axis.get_ticklocs(), texts(axis)) if t]
            if size is not None:
                assert all(at == pytest.approx(told * size, abs=1e-5) for at, told in ticks), (name, words)


def texts(axis):
    return [label.get_text() for label in axis.get_ticklabels()]


def test_feet_reach_colour_bars(site):
    figure, ax = plt.subplots()
    bar = plot.severity_bar(ax, 1.0, units="feet")
    assert bar.ax.get_ylabel() == "fall height, ft"
    ax = plot.falls(site, grid=(4, 3), units="feet")
    assert [one.colorbar.ax.get_ylabel() for one in ax.collections if one.colorbar] == ["fall height, ft"]


def test_words_in_pictures_are_in_feet_too(site, built):
    flags = [ll.Flag(20.0, "regulars", (2.63, 0.92), leave=1.0, name="first")]
    found = ll.fit_flags(site, flags, free=["speed"], lean="deck")
    ax = plot.flags(found, [found.forecast(s, leave=1.0, draws=32) for s in (14.0, 22.0)], units="feet")
    told = [text.get_text() for text in ax.get_legend().get_texts()]
    assert "ridden from 72.2 ft" in told and "from 45.9 ft: too few marks" in told
    terrain = ll.Terrain.polyline([0, 12, 14, 14.01, 18, 40], [3.0, 0.6, 1.2, 0.0, 0.0, -6])
    ride = ll.Rider().two_wheel_ride(terrain, ll.Air(), start=2.0, speed=5.0)
    metres = float(re.search(r"([\d.]+) m$", ride.reason)[1])
    assert plot.two_wheel(ride, units="feet").get_title(loc="left").endswith(f"{metres / FOOT:.2f} ft")


def test_contours_say_their_sign_and_their_unit(site, passes):
    for units, wanted in (("metres", r"−\d\.\d m"), ("feet", r"−\d\.\d ft")):
        ax = plot.plan(site, passes, units=units)
        ax.figure.canvas.draw()
        assert any(re.fullmatch(wanted, text.get_text()) for text in ax.texts), units


def test_shapes_of_marks_are_named(site, built, passes):
    there = {str(o).replace("_", " ") for o in passes.outcome[np.isfinite(passes.mark[:, 0])]}
    for ax in (plot.side(site, passes, built=built, flights=len(passes.mark)), plot.plan(site, passes)):
        assert {text.get_text() for text in ax.get_legend().get_texts()} == there


def test_by_night_words_stand_out_and_the_day_comes_back(site, built, passes, ridden):
    for name, draw in drawn(site, built, passes, ridden).items():
        night, day = draw(look="dark"), draw()
        paper = to_rgb(night.figure.get_facecolor())
        words = (night.xaxis.label, night.yaxis.label, *night.xaxis.get_ticklabels()[:2])
        assert all(contrast(to_rgb(w.get_color()), paper) > 7.0 for w in words), name
        assert contrast(to_rgb(day.xaxis.label.get_color()), (1.0, 1.0, 1.0)) > 7.0, name
    with plot.sheet("dark"):
        assert to_hex(plot.side(site, passes).xaxis.label.get_color()) == "#ece6da"


def contrast(a, b):
    """The contrast ratio of two colours (WCAG 2.1)."""
    one, other = sorted((luminance(a), luminance(b)))
    return (other + 0.05) / (one + 0.05)


def luminance(colour):
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in colour]
    return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))


def test_wrong_words_are_told(site, passes):
    for wrong in ({"look": "pink"}, {"units": "yards"}):
        with pytest.raises(ll.InputError, match=next(iter(wrong.values()))):
            plot.side(site, passes, **wrong)


def test_the_unrolled_wall_shows_demand_and_load(site, ridden):
    line, ride = ridden
    place = on_panel(line, ride.station)
    assert place[0] == pytest.approx([0.0, site.enter], abs=1e-3)
    assert place[-1] == pytest.approx([site.wall.length, 1.2], abs=1e-3)
    grip = 0.8 * ride.peak_grip_demand
    ax = plot.wall_ride(site.wall, line, ride, grip=grip)
    coloured = next(c for c in ax.collections if c.get_array() is not None)
    middle = 0.5 * (ride.grip_demand[1:] + ride.grip_demand[:-1])
    shown = coloured.get_array()
    assert np.array_equal(np.isnan(np.ma.filled(shown, np.nan)), middle > grip) and (middle > grip).any()
    np.testing.assert_allclose(np.ma.filled(shown, 0.0)[middle <= grip], middle[middle <= grip])


def test_fall_heights_over_speed_are_the_hardest_leans(site, built):
    ax = plot.falls(site, landing=built.landing, who="regulars", grid=(5, 4))
    mesh = next(c for c in ax.collections if c.colorbar)
    left = np.isnan(np.ma.filled(mesh.get_array(), np.nan)).sum()
    hatched = {c.get_hatch(): len(c.get_paths()) for c in ax.collections if c.get_hatch()}
    assert hatched["////"] == left > 0
    view = ll.explore(site, who="regulars", landing=built.landing)
    shown = np.ma.filled(mesh.get_array(), np.nan).reshape(4, 5)
    speeds, places = (np.linspace(s.low, s.high, n) for s, n in zip(view._bench.sliders, (5, 4)))
    for i, k in ((1, 2), (2, 3), (3, 0)):
        view.move(speed=float(speeds[k]), leave=float(places[i]))
        fall = view.numbers["fall height"]
        assert (fall is None and np.isnan(shown[i, k])) or fall == pytest.approx(shown[i, k], abs=6e-4)


def test_regions_hold_their_share_of_other_marks():
    draw = np.random.default_rng(1)
    mix = np.array([[1.2, 0.3], [0.0, 0.4]])
    marks, others = (draw.normal(size=(n, 2)) @ mix for n in (800, 4000))
    regions = Regions.of(marks, np.ones(len(marks)))
    inverse = np.linalg.inv(mix.T @ mix)
    peak = 1.0 / (2.0 * np.pi * abs(np.linalg.det(mix)))
    true = peak * np.exp(-0.5 * np.einsum("ij,jk,ik->i", others, inverse, others))
    for share in (0.5, 0.9):
        # Of a normal spread, the region that holds a share reaches down to (1 - share) of the peak.
        assert regions.level(share) == pytest.approx((1.0 - share) * peak, rel=0.25)
        assert np.mean(true > regions.level(share)) == pytest.approx(share, abs=0.06)


def test_a_density_adds_up_to_one():
    draw = np.random.default_rng(2)
    marks = draw.normal(size=(200, 2)) * (2.0, 0.3)
    weight = draw.random(200)
    regions = Regions.of(marks, weight)
    along = np.linalg.norm([np.ptp(regions.x[:, 0]), np.ptp(regions.y[:, 0])]) / (len(regions.x) - 1)
    across = np.linalg.norm([np.ptp(regions.x[0]), np.ptp(regions.y[0])]) / (len(regions.x) - 1)
    assert regions.density.sum() * along * across == pytest.approx(1.0, abs=0.01)


def test_marks_in_one_place_have_a_region_too():
    regions = Regions.of(np.zeros((5, 2)), np.ones(5))
    assert np.isfinite(regions.density).all() and regions.level(0.9) > 0.0


def flown(passes, count):
    return [passes.flight(int(i)) for i in np.flatnonzero(np.isfinite(passes.mark[:, 0]))[:count]]


def test_a_film_moves_riders_along_their_paths(site, built, passes, tmp_path):
    flights = flown(passes, 2)
    film = plot.film(site, flights, built, slower=1.0, rate=5)
    ax, frames = film._fig.axes[0], list(film.new_frame_seq())
    last = max(f.time for f in flights)
    assert frames[0] == 0.0 and frames[-1] == pytest.approx(last)
    film._func(0.3)
    heights = {round(float(line.get_ydata()[0]), 6) for line in ax.lines if len(line.get_ydata()) == 1}
    for flight in flights:
        assert any(h == pytest.approx(flight.position(0.3)[2], abs=2e-3) for h in heights)
    film._func(last)
    marks = {round(float(line.get_ydata()[0]), 6) for line in ax.lines if len(line.get_ydata()) == 1}
    assert {round(float(f.touchdown.mark[2]), 6) for f in flights} <= marks
    plot.save(film, tmp_path / "film.gif", dpi=50)
    from PIL import Image

    # Frames that look alike are told once, for longer.
    with Image.open(tmp_path / "film.gif") as shown:
        assert 3 < shown.n_frames <= len(frames)
    plot.save(plot.film(site, flights[:1], slower=0.5, rate=2), tmp_path / "film.html")
    page = (tmp_path / "film.html").read_text("utf-8")
    assert "data:image/png;base64" in page and not re.search(r'src="http', page)


def test_a_film_refuses_what_it_cannot_show(site, passes):
    flights = flown(passes, 1)
    for wrong in ({"flights": []}, {"slower": float("nan")}, {"rate": 0}):
        with pytest.raises(ll.InputError, match=next(iter(wrong))):
            plot.film(site, **{"flights": flights, **wrong})


def test_a_scene_holds_ground_wall_landing_and_flights_that_read(site, built, passes):
    scene = plot.scene(site, passes, built, flights=12, units="feet")
    named = {trace.name: trace for trace in scene.data}
    assert {"ground", "wall", "edge", "landing", "flight", "marks", "pegs, stones"} <= set(named)
    flights = [t for t in scene.data if t.name == "flight"]
    assert len(flights) == 12
    low, high = site.ground.bounds
    assert float(np.min(named["ground"].x)) == pytest.approx(low[0] / FOOT, abs=0.01)
    assert float(np.max(named["ground"].z)) == pytest.approx(high[2] / FOOT, abs=0.01)
    down = np.flatnonzero(np.isfinite(passes.mark[:, 0]))
    heights = np.array([passes.path(int(i), 40)[:, 2] for i in down]) / FOOT
    i = down[np.abs(heights - flights[0].z).max(axis=1).argmin()]
    assert f"fall height {passes.fall_height[i] / FOOT:.2f} ft" in flights[0].text
    assert passes.class_names[int(passes.who[i])] in flights[0].text


def test_a_scene_opens_without_asking_for_anything(site, built, passes, browser, tmp_path):
    page = tmp_path / "scene.html"
    plot.save(plot.scene(site, passes, built, flights=8), page)
    browser.get(page.as_uri())
    assert browser.execute_script("return document.querySelectorAll('.gl-container canvas').length") > 0
    asked = "return performance.getEntriesByType('resource').map(e => e.name).filter(n => !/^(data|blob):/.test(n))"
    assert browser.execute_script(asked) == []
    assert [line for line in browser.get_log("browser") if line["level"] == "SEVERE"] == []
    # No button offers to send the site anywhere, and a phone shows the page as wide as it is.
    buttons = "return [...document.querySelectorAll('.modebar-btn')].map(e => e.dataset.title)"
    titles = browser.execute_script(buttons)
    assert titles and not [t for t in titles if re.search("share|cloud|edit", t, re.IGNORECASE)]
    show(browser, page, 390)
    assert browser.execute_script("return document.documentElement.scrollWidth") == 390


def test_a_landing_in_the_scene_is_lit_as_it_faces_the_light(site, built):
    named = {trace.name: trace for trace in plot.scene(site, ground=built).data}
    places, faces = built.mesh
    shades = [sum(to_rgb(colour)) for colour in named["landing"].facecolor]
    corners = np.asarray(places)[np.asarray(faces)]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    tilt = np.arctan2(normal[:, 1], normal[:, 0])
    # Facets that lie side by side are nearly as bright: no stripes.
    order = np.argsort(tilt)
    steep = order[np.isclose(normal[order, 2] / np.linalg.norm(normal[order], axis=1), np.cos(np.radians(34.0)), atol=1e-6)]
    assert len(steep) > 40 and np.abs(np.diff(np.array(shades)[steep])).max() < 0.1


def test_a_film_by_day_is_no_smear(site, built, passes, tmp_path):
    from PIL import Image

    plot.save(plot.film(site, flown(passes, 1), built, slower=1.0, rate=5), tmp_path / "film.gif", dpi=50)
    with Image.open(tmp_path / "film.gif") as film:
        film.seek(film.n_frames - 1)
        last = np.asarray(film.convert("RGB")).astype(int)
    clock = last[: last.shape[0] // 10, 3 * last.shape[1] // 4 :]
    # Its clock stands on clean paper: where frames showed through each other, half of it was ink.
    assert (clock.min(axis=2) > 200).mean() > 0.8


def test_the_same_picture_is_the_same_file(site, passes, tmp_path):
    for ending in ("png", "svg", "pdf"):
        for name in ("one", "two"):
            plot.save(plot.severity(passes, 1.0), tmp_path / f"{name}.{ending}")
        assert (tmp_path / f"one.{ending}").read_bytes() == (tmp_path / f"two.{ending}").read_bytes(), ending


def test_a_png_has_paper_of_its_own(passes, tmp_path):
    for look, light in (("light", True), ("dark", False)):
        plot.save(plot.severity(passes, 1.0, look=look), tmp_path / "one.png")
        corner = plt.imread(tmp_path / "one.png")[0, 0]
        assert corner[-1] == 1.0 and (corner[0] > 0.9) == light


def test_names_of_flags_stand_at_their_own_marks(site):
    marks = {"first": (2.63, 0.92), "second": (2.75, 0.87), "third": (2.7, 1.0)}
    starts = (20.0, 20.6, 20.8)
    flags = [ll.Flag(s, "regulars", at, leave=1.0, name=n) for s, (n, at) in zip(starts, marks.items())]
    ax = plot.flags(ll.fit_flags(site, flags, free=["speed"], lean="deck"))
    sides = {text.get_text(): text.get_ha() for text in ax.texts if text.get_text() in marks}
    # What ends at its mark is to the left of it.
    assert sides == {"first": "right", "second": "left", "third": "left"}


def test_a_picture_that_cannot_be_saved_leaves_nothing(passes, tmp_path):
    ax = plot.severity(passes, 1.0)
    for wrong in ("picture.docx", "picture", "nowhere/picture.png"):
        with pytest.raises(ll.FileError):
            plot.save(ax, tmp_path / wrong)
    assert list(tmp_path.iterdir()) == []

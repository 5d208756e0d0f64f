"""The sliders: what they show is what the core says, in Python, on the page without a server, and in a notebook."""

import json
import math
import os
import random
import re
import socket
import subprocess
import sys
import time
import urllib.request

import numpy as np
import pytest

import loamline as ll
from browsers import show
from loamline.sliders.bench import LEANS
from loamline.sliders.page import PLACES, page

BOUND = 0.05


@pytest.fixture(scope="module")
def site():
    return ll.Site.demo()


@pytest.fixture(scope="module")
def view(site):
    return ll.explore(site, who="regulars")


def by_hand(site, view):
    """The hardest of the three leans' touchdowns where the sliders stand, from the core's own verbs."""
    rider = next(c.rider for c in site.classes if c.name == "regulars")
    ground, touches = site.ground.with_landing(view.landing), []
    line = site.wall.line(enter=site.enter, leave=view.setting["leave"])
    for lean in LEANS:
        ride = line.ride(rider, site.air, view.setting["speed"], lean=lean)
        if ride.outcome == "reached":
            touches.append(ride.launch(pop=0.0).flight(ground, rider, site.air).touchdown)
    return max(touches, key=lambda td: (td.outcome not in ("caught", "landed"), td.fall_height))


def test_numbers_are_those_of_the_core(site, view):
    for speed, leave in ((7.6, 1.0), (8.2, 1.2), (8.0, 0.9)):
        view.move(speed=speed, leave=leave)
        td = by_hand(site, view)
        assert view.numbers["fall height"] == pytest.approx(td.fall_height, abs=6e-4)
        assert view.numbers["time in the air"] == pytest.approx(td.time, abs=6e-4)
        heading = math.radians(view.landing.heading_deg)
        out = np.dot(td.mark[:2] - np.asarray(view.landing.crest), (math.cos(heading), math.sin(heading)))
        assert view.numbers["mark, out from the edge"] == pytest.approx(out + view.setting["place"], abs=2e-3)


def test_earth_is_that_of_the_landing(site, view):
    view.move(place=2.6, slope=24.0)
    built = view.landing.on(site.ground)
    assert view.numbers["earth in place"] == pytest.approx(built.volume, abs=6e-4)
    assert view.numbers["barrows"] == pytest.approx(built.volume / site.barrow_in_place, abs=6e-4)


def test_who_lands_softly_is_counted_again(site, view):
    view.move(place=2.4, slope=20.0)
    passes = site.passes(n=64, seed=1).on(site.ground.with_landing(view.landing))
    left = passes.outcome != "not_launched"
    soft = np.isin(passes.outcome, ("caught", "landed", "rolled_off")) & (passes.fall_height <= site.fall_limit)
    share = passes.weight[soft & left].sum() / passes.weight[left].sum()
    assert view.numbers["land softly"] == pytest.approx(100 * share, abs=6e-4)


def test_a_ride_that_does_not_hold_says_so(view):
    view.move(speed=view._bench.sliders[0].low, leave=view._bench.sliders[1].high)
    assert view.numbers["fall height"] is None
    assert "does not leave the edge" in view.answer["touched"]["said"]


def test_what_a_page_sends_is_held_within_the_ends(view):
    ends = {s.name: (s.low, s.high) for s in view._bench.sliders}
    for values in ([math.nan] * 4, [1e300] * 4, [-math.inf] * 4, ["fast", None, [], {}], [1.0], "no list"):
        view.asked = {"number": 1, "values": values}
        assert all(low <= view.setting[name] <= high for name, (low, high) in ends.items())
        json.dumps(view.answer, allow_nan=False)


def test_wrong_words_are_told(site, view):
    with pytest.raises(ll.InputError, match="regulars"):
        ll.explore(site, who="nobody")
    with pytest.raises(ll.InputError, match="feet"):
        ll.explore(site, units="inches")
    with pytest.raises(ll.InputError, match="speed"):
        view.move(colour=1.0)


def test_feet_are_shown_as_feet_and_numbers_stay_metres(site):
    feet = ll.explore(site, who="regulars", units="feet")
    assert feet.fixed["rows"][0]["unit"] == "ft" and feet.fixed["length"]["unit"] == "ft"
    fall = feet.numbers["fall height"]
    assert feet.answer["touched"]["values"][0] == pytest.approx(fall / 0.3048)
    assert ll.explore(site, who="regulars").numbers["fall height"] == pytest.approx(fall)


def test_a_given_landing_is_where_the_sliders_start(site):
    landing = ll.Landing(crest=(2.4, 0.7), heading_deg=5.0, slope_deg=18.0, length=3.2, width=2.1, batter_deg=30.0)
    found = ll.explore(site, landing=landing).landing
    assert found.crest == pytest.approx(landing.crest)
    for name in ("heading_deg", "slope_deg", "length", "width", "batter_deg"):
        assert getattr(found, name) == pytest.approx(getattr(landing, name)), name


def test_a_move_takes_less_than_fifty_milliseconds(view):
    draw, took = random.Random(1), []
    for _ in range(24):
        to = {s.name: draw.uniform(s.low, s.high) for s in view._bench.sliders}
        began = time.perf_counter()
        view.move(**to)
        took.append(time.perf_counter() - began)
    # The quicker half: the machine may be doing other things besides.
    assert max(sorted(took)[:12]) < BOUND, sorted(took)


@pytest.fixture(scope="module")
def written(site, tmp_path_factory):
    file = tmp_path_factory.mktemp("sliders") / "explore.html"
    file.write_text(page(site, who="regulars"), encoding="utf-8")
    return file


def test_the_page_stands_alone_and_its_table_is_whole(written):
    text = written.read_text("utf-8")
    assert not re.sub(r"http://www\.w3\.org/2000/svg", "", text).count("://")
    table = json.loads(re.search(r'<script id="table"[^>]*>(.*?)</script>', text, re.DOTALL)[1])
    counts = table["counts"]
    assert all(1 < n <= most for n, most in zip(counts, PLACES.values()))
    assert len(table["cells"]) == math.prod(counts)
    assert len(table["ways"]) == counts[0] * counts[1] and len(table["built"]) == counts[2] * counts[3]


@pytest.mark.parametrize("width", [1280, 390], ids=["desktop", "phone"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_opens_and_its_numbers_are_reckoned_ones(browser, written, view, width, scheme):
    show(browser, written, width, scheme)
    assert browser.get_log("browser") == []
    assert browser.execute_script("return document.documentElement.scrollWidth") <= width
    sliders = browser.execute_script("return [...document.querySelectorAll('input')].map(e => [e.min, e.max, e.step])")
    draw = random.Random(width)
    for _ in range(3):
        wanted = [float(low) + float(step) * draw.randint(0, 4) for low, _, step in sliders]
        values = browser.execute_script(
            "const all = [...document.querySelectorAll('input')];"
            "all.forEach((e, k) => { e.value = arguments[0][k]; e.dispatchEvent(new Event('input')); });"
            "return all.map(e => Number(e.value))",
            wanted,
        )
        view.move(**dict(zip(view.setting, values)))
        shown = browser.execute_script("return [...document.querySelectorAll('.ll-value')].map(e => e.textContent)")
        assert shown[0] == told(view.numbers["fall height"], " m")
        assert shown[7] == told(view.numbers["earth in place"], " m³")
        assert browser.execute_script("return document.querySelector('.ll-said').textContent") == (
            view.answer["touched"]["said"]
        )


def told(value, unit):
    return "–" if value is None else f"{value:.2f}{unit}"


CELL = "import loamline as ll\nview = ll.explore(ll.Site.demo(), who='regulars')\nview"


@pytest.fixture(scope="module")
def lab(tmp_path_factory):
    """A JupyterLab of its own, with a notebook of one cell."""
    import nbformat

    folder = tmp_path_factory.mktemp("lab")
    book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(CELL)])
    book.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(book, folder / "try.ipynb")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    own = {f"JUPYTER_{name}_DIR": str(folder / name.lower()) for name in ("CONFIG", "DATA", "RUNTIME")}
    how = ["--no-browser", f"--port={port}", "--ip=127.0.0.1", "--allow-root", "--expose-app-in-browser"]
    how += ["--IdentityProvider.token=", f"--ServerApp.root_dir={folder}"]
    log = (folder / "lab.log").open("wb")
    command = [sys.executable, "-m", "jupyterlab", *how]
    server = subprocess.Popen(command, env={**os.environ, **own, "HOME": str(folder)}, stdout=log, stderr=log)
    address = f"http://127.0.0.1:{port}/lab"
    try:
        until(lambda: answers(address), "JupyterLab to answer")
        yield f"{address}/tree/try.ipynb"
    finally:
        server.terminate()
        server.wait(20)
        log.close()


def answers(address):
    try:
        with urllib.request.urlopen(address, timeout=5):
            return True
    except OSError:
        return False


def until(there, what, seconds=60.0):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        value = there()
        if value:
            return value
        time.sleep(0.05)
    raise AssertionError(f"waited {seconds} s for {what}")


@pytest.mark.timeout(180)
def test_in_a_notebook_a_slider_moves_the_numbers(browser, lab):
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    def ask(script):
        return browser.execute_script(f"return {script}")

    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    browser.set_window_size(1400, 1400)
    browser.get(lab)
    kernel = "window.jupyterapp?.shell.currentWidget?.sessionContext?.session?.kernel"
    until(lambda: ask(f"{kernel}?.status === 'idle'"), "the notebook's kernel")
    ask("window.jupyterapp.commands.execute('notebook:run-all-cells') && 0")
    until(lambda: ask("document.querySelectorAll('.loamline-explore input').length === 4"), "the sliders")
    values = "[...document.querySelectorAll('.loamline-explore .ll-value')].map(e => e.textContent)"
    moves = "Number(document.querySelector('.loamline-explore').dataset.moves || 0)"
    seen = [ask(values)]
    for k, slider in enumerate(browser.find_elements(By.CSS_SELECTOR, ".loamline-explore input"), start=1):
        slider.send_keys(Keys.ARROW_RIGHT)
        until(lambda k=k: ask(moves) >= k, "an answer")
        seen.append(ask(values))
    assert all(a != b for a, b in zip(seen, seen[1:]))
    assert ask("document.querySelectorAll('.loamline-explore svg .moving path.flight').length") >= 4
    assert [line for line in browser.get_log("browser") if line["level"] == "SEVERE"] == []
    browser.get("about:blank")

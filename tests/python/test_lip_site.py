"""A site with a lip instead of a wall: the whole job from the file to the report and the field sheet."""

import json
import re

import matplotlib
import numpy as np
import pytest
from loamline import cli, plot

import loamline as ll

matplotlib.use("Agg")

LIP = """
[lip]
radius = 6.0
end_angle_deg = 14
width = 1.8
position = [-1.5, -0.4, 0.0]
heading_deg = 14
hip_deg = 10
"""


def with_lip(folder, lip=LIP):
    """Write the invented demo with a lip for its wall; its riders leave near the middle."""
    path = folder / "site.toml"
    ll.Site.demo().save(path)
    text = re.sub(r"\[wall\].*?(?=\[\[riders\]\])", lip, path.read_text("utf-8"), flags=re.S)
    text = re.sub(r"leave_per_speed = .*\n", "", text)
    text = re.sub(r"\[riders\.leave\]\n(.+\n)+", "", text)
    path.write_text(re.sub(r"leave = .*\n", "", text), "utf-8")
    return path


@pytest.fixture(scope="module")
def path(tmp_path_factory):
    return with_lip(tmp_path_factory.mktemp("lip"))


def test_the_site_has_its_lip_and_no_wall(path, tmp_path):
    site = ll.Site.load(path)
    wanted = ll.Lip(
        radius=6.0,
        end_angle_deg=14.0,
        width=1.8,
        position=(-1.5, -0.4, 0.0),
        heading_deg=14.0,
        hip_deg=10.0,
    )
    assert site.takeoff == wanted
    assert site.wall is None
    assert site.enter == 0.0
    assert {c.leave["fixed"] for c in site.classes} == {0.0}
    site.save(tmp_path / "again.toml")
    assert ll.Site.load(tmp_path / "again.toml") == site
    demo = ll.Site.demo()
    assert demo.takeoff == demo.wall


def test_a_rider_leaves_the_lip_as_it_stands(path):
    site = ll.Site.load(path)
    ride = site.ride(start=23.0, leave=0.3, who="regulars")
    assert ride.outcome == "reached"
    # Square to a surface that leans, the head swings a little to the right of the travel.
    vx, vy, _ = ride.launch().velocity
    assert 10.0 < np.degrees(np.arctan2(vy, vx)) < 14.0
    with pytest.raises(ll.InputError, match="leave = 1.2"):
        site.ride(start=23.0, leave=1.2, who="regulars")


def test_plan_makes_every_file_of_a_lip_site(path, tmp_path, capsys):
    out = tmp_path / "out"
    assert cli.main(["plan", str(path), "-o", str(out), "--passes", "64"]) == 0
    assert "Build a landing" in capsys.readouterr().out
    page = (out / "report.html").read_text("utf-8")
    assert "how far to the left of the edge" in page
    assert "up the panel" not in page
    assert (out / "field-sheet.pdf").stat().st_size > 10_000
    assert json.loads((out / "results.json").read_text("utf-8"))["who"][0]["left"] > 0.95


def test_check_and_pictures_take_a_drop_too(tmp_path, capsys):
    drop = "[drop]\nlength = 2.0\nwidth = 1.2\nposition = [-2, -0.5, 0.1]\nheading_deg = 14\n\n"
    path = with_lip(tmp_path, drop)
    assert cli.main(["check", str(path)]) == 0
    assert "riders leave the edge" in capsys.readouterr().out
    site = ll.Site.load(path)
    # Level across, it makes no difference how riders lean: nothing is said of it.
    assert cli.main(["forecast", str(path), "--passes", "64"]) == 0
    assert "leaning" not in capsys.readouterr().out
    passes = site.passes(n=64, seed=1)
    for ax in (
        plot.side(site, passes),
        plot.plan(site, passes),
        plot.severity(passes, takeoff=site.takeoff),
    ):
        assert ax.get_xlabel()
    assert any("left of the middle" in text for text in [ax.get_ylabel()])
    assert {t.get_text() for t in plot.plan(site).texts} >= {"drop"}

"""What the command line does with wrong input: exit code 2, one line that names it, nothing written."""

import math
import os
import re
import resource
import subprocess
import sys
import tomllib

import pytest

import loamline as ll
from loamline.likely import unlikely


def toml(value):
    """A value as TOML, tables inline."""
    match value:
        case bool():
            return str(value).lower()
        case float() if not math.isfinite(value):
            return "nan" if math.isnan(value) else ("inf" if value > 0 else "-inf")
        case int() | float():
            return repr(value)
        case str():
            return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
        case list():
            return "[" + ", ".join(map(toml, value)) + "]"
        case dict():
            return "{ " + ", ".join(f"{key} = {toml(v)}" for key, v in value.items()) + " }"
    raise TypeError(value)


class Site:
    """A copy of the demo site in a folder of its own, to be spoilt."""

    def __init__(self, folder):
        self.folder, self.path = folder, folder / "site.toml"
        ll.Site.demo().save(str(self.path))
        self.keys = tomllib.loads(self.path.read_text("utf-8"))

    def write(self):
        lines = [f"{key} = {toml(value)}" for key, value in self.keys.items()]
        self.path.write_text("\n".join(lines) + "\n", "utf-8")

    def table(self, name, rows):
        """Replaces a table beside the site file: `points` of the survey or `profile` of the run-in."""
        named = {"points": ("survey", "points"), "profile": ("run_in", "profile")}[name]
        path = self.folder / self.keys[named[0]][named[1]]
        header = path.read_text("utf-8").splitlines()[0]
        rows = "\n".join(",".join(map(str, row)) for row in rows)
        path.write_text(f"{header}\n{rows}\n", "utf-8")

    def rows(self, name):
        named = {"points": ("survey", "points"), "profile": ("run_in", "profile")}[name]
        lines = (self.folder / self.keys[named[0]][named[1]]).read_text("utf-8").split("\n")
        return [line.split(",") for line in lines[1:] if line and not line.startswith("#")]


@pytest.fixture
def site(tmp_path):
    folder = tmp_path / "site"
    folder.mkdir()
    return Site(folder)


def run(*arguments, **kwargs):
    command = [sys.executable, "-m", "loamline.cli", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, **kwargs)


def contents(folder):
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def refused(site, out, *extra, code=2):
    """Plans the site, asserts that it is refused and leaves no trace; returns what was said."""
    before = contents(site.folder)
    done = run("plan", site.path, "-o", out, "--passes", "256", *extra)
    assert done.returncode == code, done.stderr
    assert done.stdout == ""
    assert "Traceback" not in done.stderr
    lines = done.stderr.splitlines()
    assert len(lines) == 1, done.stderr
    assert lines[0].startswith("loamline: ")
    assert contents(site.folder) == before
    return lines[0]


def without(keys, *path):
    for key in path[:-1]:
        keys = keys[key]
    return keys.pop(path[-1])


def unknown_key(site):
    site.keys["wall"]["widht"] = without(site.keys, "wall", "width")


def wrong_unit(site):
    site.keys["wall"]["heading_rad"] = math.radians(without(site.keys, "wall", "heading_deg"))


def negative_mass(site):
    site.keys["riders"][0]["mass"] = -80.0


def no_number(site):
    site.keys["wall"]["width"] = math.nan


def steep_bank(site):
    site.keys["wall"]["bank_deg"] = [20.0, 95.0]


def two_points(site):
    site.table("points", site.rows("points")[:2])


def points_on_a_line(site):
    site.table("points", [(x, 2 * x, 0.1 * x) for x in range(8)])


def doubled_point(site):
    rows = site.rows("points")
    x, y, z = rows[0][:3]
    site.table("points", [*rows, [x, y, float(z) + 0.5]])


def profile_goes_back(site):
    rows = site.rows("profile")
    site.table("profile", [*rows[:2], rows[1], *rows[2:], rows[0]])


def nobody_comes(site):
    site.keys["riders"] = []


def nobody_leaves(site):
    for riders in site.keys["riders"]:
        riders["start"] = 0.05
        riders["leave"] = site.keys["wall"]["width"]


def weights_add_up_to_more(site):
    site.keys["riders"][0]["weight"] += 0.25


def no_barrows(site):
    site.keys["barrows"]["count"] = 0


def area_crosses_itself(site):
    site.keys["landing"]["area"] = [[2, -5], [11, -5], [2, 7], [11, 7]]


def keep_out_crosses_itself(site):
    mud = {"name": "mud", "corners": [[0, 0], [2, 0], [0, 2], [2, 2]]}
    site.keys["landing"]["keep_out"] = [mud]


def faces_steeper_than_loam(site):
    site.keys["landing"]["slope_deg"] = [40.0, 50.0]


def a_survey_line_without_height(site):
    rows = site.rows("points")
    site.table("points", [*rows[:4], rows[4][:2], *rows[5:]])


def a_survey_line_with_a_word(site):
    rows = site.rows("points")
    site.table("points", [*rows[:4], [rows[4][0], "wet", rows[4][2]], *rows[5:]])


def area_where_nobody_comes(site):
    site.keys["landing"]["area"] = [[8, -5], [11, -5], [11, -1], [8, -1]]


def survey_from_the_edge_on(site):
    site.table("points", [row for row in site.rows("points") if float(row[0]) > 0.6])


SPOILT = [
    (survey_from_the_edge_on, ["100 of 100", "the moment they fly", "behind and beside the edge"]),
    (area_where_nobody_comes, ["no flight reaches the allowed area", "move landing.area", "start higher"]),
    (faces_steeper_than_loam, ["slope_deg[0]", "40.0 degrees", "loam", "allow gentler faces"]),
    (a_survey_line_without_height, ["survey.csv, line 6", "2 fields", "expected 3"]),
    (a_survey_line_with_a_word, ["survey.csv, line 6, column 2", "y = `wet`", "in metres"]),
    (area_crosses_itself, ["landing.area", "side 2", "side 4", "walks around"]),
    (keep_out_crosses_itself, ["landing.keep_out[0].corners", "side 2", "side 4"]),
    (unknown_key, ["widht", "width"]),
    (wrong_unit, ["heading_rad", "heading_deg"]),
    (negative_mass, ["mass", "-80"]),
    (no_number, ["width", "nan"]),
    (steep_bank, ["bank_deg", "95"]),
    (two_points, ["2"]),
    (points_on_a_line, ["line"]),
    (doubled_point, []),
    (profile_goes_back, ["distance"]),
    (nobody_comes, ["riders"]),
    (nobody_leaves, ["leave"]),
    (weights_add_up_to_more, ["weight", "1.25"]),
    (no_barrows, ["count", "0"]),
]


@pytest.mark.parametrize("spoil,words", SPOILT, ids=[spoil.__name__ for spoil, _ in SPOILT])
def test_a_spoilt_site_is_refused_by_name(site, tmp_path, spoil, words):
    spoil(site)
    site.write()
    said = refused(site, tmp_path / "out")
    for word in words:
        assert word.lower() in said.lower(), (word, said)
    assert not (tmp_path / "out").exists()


def test_a_budget_below_any_landing_says_what_the_least_is(site, tmp_path):
    said = refused(site, tmp_path / "out", "--volume", "0.02")
    least = re.search(r"volume = 0\.020 m\^3 is too little: .* takes about ([0-9.]+) m\^3,.* bring at least that", said)
    assert least, said
    assert 0.02 < float(least[1]) < 1.0
    assert not (tmp_path / "out").exists()


def test_check_warns_of_an_area_out_of_reach(site):
    area_where_nobody_comes(site)
    site.write()
    done = run("check", site.path)
    assert done.returncode == 0, done.stderr
    assert "no flight reaches the allowed area" in " ".join(done.stdout.split())


@pytest.mark.parametrize("command", [("check",), ("forecast", "--passes", "256")])
def test_flights_off_the_survey_are_told_first(site, command):
    survey_from_the_edge_on(site)
    site.write()
    done = run(command[0], site.path, *command[1:])
    assert done.returncode == 0, done.stderr
    assert " ".join(done.stdout.split()).startswith("100 of 100 riders who leave the edge leave the surveyed ground")


@pytest.mark.parametrize("command", ["check", "forecast"])
def test_where_nobody_leaves_it_is_said_what_the_wall_holds(site, command):
    nobody_leaves(site)
    site.write()
    done = run(command, site.path)
    assert done.returncode == 2 and done.stdout == ""
    assert len(done.stderr.splitlines()) == 1 and "come onto the wall at" in done.stderr


def likely_slips(site):
    site.keys["barrows"]["volume"] = 80
    site.keys["landing"]["fall_limit"] = 90
    rows = site.rows("points")
    site.table("points", [*rows[:-1], [*rows[-1][:2], "-140"]])


def test_check_and_forecast_ask_about_numbers_that_are_likely_slips(site):
    likely_slips(site)
    site.write()
    for command in (("check",), ("forecast", "--passes", "64")):
        done = run(command[0], site.path, *command[1:])
        assert done.returncode == 0, done.stderr
        said = " ".join(done.stdout.split())
        for words in ("80000 litres", "fall height of 90 m counts as soft", "-140) lies 1"):
            assert words in said, (words, said)
    assert not unlikely(ll.Site.demo()) and len(unlikely(ll.Site.demo(), 2.0)) == 1


def test_a_folder_stands_for_the_site_file_in_it(site):
    site.write()
    command = [sys.executable, "-m", "loamline", "check", str(site.folder)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr


def test_the_copy_itself_is_good(site, tmp_path):
    """Or else the tests above would prove nothing."""
    site.write()
    done = run("check", site.path)
    assert done.returncode == 0, done.stderr


def test_a_missing_file_is_named(tmp_path):
    done = run("plan", tmp_path / "nowhere.toml", "-o", tmp_path / "out")
    assert done.returncode == 2
    assert "nowhere.toml" in done.stderr
    assert not (tmp_path / "out").exists()


def test_bad_toml_is_refused_with_its_line(site, tmp_path):
    text = site.path.read_text("utf-8")
    site.path.write_text(text + "\n[wall\n", "utf-8")
    said = refused(site, tmp_path / "out")
    assert str(len(text.splitlines()) + 2) in said
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("option", ["--volume", "--barrows", "--passes", "--fall-limit"])
@pytest.mark.parametrize("value", ["0", "-1", "nan"])
def test_a_budget_of_nothing_is_refused(site, tmp_path, option, value):
    said = refused(site, tmp_path / "out", option, value)
    assert value in said
    assert not (tmp_path / "out").exists()


def test_an_output_folder_that_cannot_be_made_is_refused(site, tmp_path):
    stands = tmp_path / "out"
    stands.write_text("a file stands here", "utf-8")
    said = refused(site, stands)
    assert "out" in said
    assert stands.read_text("utf-8") == "a file stands here"
    # At once, not when all is reckoned.
    refused(site, stands / "below", "--passes", "1000000")
    assert stands.read_text("utf-8") == "a file stands here"


def small_files():
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))


def test_a_write_that_fails_half_way_leaves_nothing(site, tmp_path):
    """The disk's fault, not the input's: another exit code, but nothing half-written either."""
    before = contents(site.folder)
    out = tmp_path / "out"
    done = run("plan", site.path, "-o", out, "--passes", "64", preexec_fn=small_files)
    assert done.returncode == 1, (done.returncode, done.stderr)
    assert "Traceback" not in done.stderr
    assert not out.exists()
    assert sorted(os.listdir(tmp_path)) == ["site"]
    assert contents(site.folder) == before

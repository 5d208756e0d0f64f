"""The command line as a builder meets it: what it says, what it writes, and how it fails."""

from __future__ import annotations

import csv
import json
import math
import resource
import signal
import subprocess
import sys
import time

import loamline as ll
import pytest

from terminals import on_a_terminal

FILES = {
    "explore.html",
    "field-sheet.pdf",
    "landing.obj",
    "landing.ply",
    "report.html",
    "results.json",
    "stakes.csv",
}
QUICK = ("--passes", "512")
# Where it does not matter what is planned.
QUICKEST = ("--passes", "64")


def run(*arguments, **kwargs):
    """Runs the command line in a process of its own, its output captured."""
    command = [sys.executable, "-m", "loamline.cli", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, **kwargs)


def one_message(done, code):
    """Asserts that a run failed with a code and one line that is no traceback; returns it."""
    assert done.returncode == code, done.stderr
    assert done.stdout == ""
    lines = done.stderr.splitlines()
    assert len(lines) == 1 and lines[0].startswith("loamline: "), done.stderr
    return lines[0]


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    folder = tmp_path_factory.mktemp("plan") / "out"
    done = run("plan", "demo", "-o", folder, *QUICK)
    assert done.returncode == 0, done.stderr
    return done, folder


def numbers(folder):
    def refuse(word):
        raise AssertionError(f"{word} is no JSON")

    return json.loads((folder / "results.json").read_text("utf-8"), parse_constant=refuse)


def test_plan_writes_its_files_and_nothing_else(planned):
    done, folder = planned
    assert {p.name for p in folder.iterdir()} == FILES
    assert [p.name for p in folder.parent.iterdir()] == ["out"]
    assert done.stderr == ""


def test_plan_says_first_what_to_build_or_who_never_leaves(planned):
    done, folder = planned
    found = numbers(folder)
    stay = 1.0 - found["who"][0]["left"]
    first = done.stdout.splitlines()[0]
    assert ("do not leave the edge" in first) == (stay > 0.05)
    if stay <= 0.05:
        assert first.startswith("Build a landing")
    assert f"{math.ceil(found['earth']['barrows'])} barrows" in done.stdout
    assert "certify nothing" in done.stdout


def test_shares_of_each_class_add_up(planned):
    found = numbers(planned[1])
    ends = ("soft", "hard", "short", "long", "wide", "rolled_off", "off_survey", "no_touchdown")
    for row in found["who"]:
        assert sum(row[e] for e in ends) == pytest.approx(1.0, abs=1e-9), row["name"]
    weights = [row["weight"] for row in found["who"]]
    assert sum(weights[1:]) == pytest.approx(weights[0], abs=1e-9)


def test_the_fits_own_score_agrees_with_the_table(planned):
    found = numbers(planned[1])
    assert found["fit"]["caught"] == pytest.approx(found["who"][0]["soft"], abs=1e-9)
    assert found["fit"]["p95_fall_height"] == pytest.approx(
        found["who"][0]["p95_fall_height"], abs=1e-9
    )


def test_tapes_and_heights_of_the_stakes_agree_with_their_places(planned):
    found = numbers(planned[1])
    a, b = (m["position"] for m in found["stakes"]["marks"])
    for row in found["stakes"]["rows"]:
        x, y = row["x_m"], row["y_m"]
        assert row["tape_first_m"] == pytest.approx(math.hypot(x - a[0], y - a[1]), abs=1e-9)
        assert row["tape_second_m"] == pytest.approx(math.hypot(x - b[0], y - b[1]), abs=1e-9)
        assert row["finished_over_first_m"] == pytest.approx(row["finished_m"] - a[2], abs=1e-9)
        assert row["fill_m"] == pytest.approx(row["finished_m"] - row["ground_m"], abs=1e-9)


def test_pegs_lie_where_the_landing_says(planned):
    found = numbers(planned[1])
    rows = {row["stake"]: row for row in found["stakes"]["rows"]}
    landing = found["landing"]
    angle = math.radians(landing["heading_deg"])
    for name, row in rows.items():
        along, across = row["along_m"], row["across_m"]
        x = landing["crest"][0] + along * math.cos(angle) - across * math.sin(angle)
        y = landing["crest"][1] + along * math.sin(angle) + across * math.cos(angle)
        assert (row["x_m"], row["y_m"]) == pytest.approx((x, y), abs=1e-9), name
    diagonal = math.dist(*[(rows[k]["x_m"], rows[k]["y_m"]) for k in ("A1", "C3")])
    assert diagonal == pytest.approx(found["stakes"]["diagonal"], abs=1e-9)


def test_stakes_csv_has_a_header_with_units_and_a_row_a_peg(planned):
    with (planned[1] / "stakes.csv").open(newline="", encoding="utf-8") as file:
        header, *rows = list(csv.reader(file))
    assert header[:2] == ["stake", "what"]
    assert all(name.endswith("_m") for name in header[2:])
    found = numbers(planned[1])["stakes"]["rows"]
    assert [row[0] for row in rows] == [row["stake"] for row in found]
    assert float(rows[0][2]) == pytest.approx(found[0]["x_m"], abs=5e-4)


def test_shapes_hold_triangles_of_finite_points(planned):
    lines = (planned[1] / "landing.obj").read_text("utf-8").splitlines()
    points = [list(map(float, line.split()[1:4])) for line in lines if line.startswith("v ")]
    faces = [line for line in lines if line.startswith("f ")]
    assert len(points) >= 4 and len(faces) >= 4
    assert all(math.isfinite(v) for point in points for v in point)
    used = {int(word.split("/")[0]) for face in faces for word in face.split()[1:]}
    assert used <= set(range(1, len(points) + 1))
    assert (planned[1] / "landing.ply").read_bytes().startswith(b"ply")


def test_again_on_a_terminal_progress_shows_files_are_the_same_and_others_left_alone(planned, tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "notes.txt").write_text("mine")
    (folder / "report.html").write_text("older")
    code, told = on_a_terminal("plan", "demo", "-o", folder, *QUICK, stdout=subprocess.DEVNULL, timeout=120)
    assert code == 0 and b"writing" in told
    assert planned[0].stderr == ""
    assert (folder / "notes.txt").read_text() == "mine"
    assert {p.name for p in folder.iterdir()} == FILES | {"notes.txt"}
    for name in sorted(FILES):
        assert (folder / name).read_bytes() == (planned[1] / name).read_bytes(), name


def test_json_is_the_results_file_in_a_folder_deep_and_new_and_earth_is_not_overspent(tmp_path):
    folder = tmp_path / "a" / "b"
    done = run("plan", "demo", "-o", folder, *QUICK, "--barrows", "40", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == numbers(folder)
    assert {p.name for p in folder.iterdir()} == FILES
    assert numbers(folder)["earth"]["barrows"] <= 40.5


def test_check_and_forecast_tell_and_give_numbers():
    told, numbers_told = run("check", "demo"), run("check", "demo", "--json")
    assert "the site file is right" in told.stdout
    facts = json.loads(numbers_told.stdout)
    assert sum(facts["rides"].values()) == 256 and 0.0 < facts["left"] <= 1.0
    site = ll.Site.demo()
    for one, told_one in zip(site.classes, facts["holds"], strict=True):
        slow, fast = site.wall.line(site.enter, told_one["leave"]).hold_speeds(one.rider, site.air)
        assert (told_one["slowest"], told_one["fastest"]) == pytest.approx((slow, fast))
        assert told_one["comes"][0] < told_one["comes"][1] and f"{one.name} come onto the wall at" in told.stdout
    told, numbers_told = run("forecast", "demo", *QUICK), run("forecast", "demo", *QUICK, "--json")
    assert "land softly" in told.stdout and "certify nothing" in told.stdout
    rows = json.loads(numbers_told.stdout)["who"]
    assert [r["name"] for r in rows][1:] == [c["name"] for c in facts["classes"]]


def test_schema_is_json_and_names_what_a_site_holds():
    schema = json.loads(run("schema").stdout)
    assert "classes" in json.dumps(schema)


def test_version_is_the_packages():
    assert run("--version").stdout == f"loamline {ll.__version__}\n"


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (("plan", "demo", "-o", "out", "--passes", "0"), "--passes"),
        (("plan", "demo", "-o", "out", "--passes", "many"), "many"),
        (("plan", "demo", "-o", "out", "--seed", "-1"), "--seed"),
        (("plan", "demo", "-o", "out", "--fall-limit", "nan"), "--fall-limit"),
        (("plan", "demo", "-o", "out", "--volume", "0"), "--volume"),
        (("plan", "demo", "-o", "out", "--volume", "3", "--barrows", "9"), "--barrows"),
        (("plan", "demo"), "--output"),
        (("plan", "no-such-site.toml", "-o", "out"), "no-such-site.toml"),
        (("check", "no-such-site.toml"), "no-such-site.toml"),
        (("build", "demo"), "build"),
        ((), "COMMAND"),
    ],
)
def test_bad_input_gives_one_message_and_writes_nothing(arguments, named, tmp_path):
    assert named in one_message(run(*arguments, cwd=tmp_path), 2)
    assert list(tmp_path.iterdir()) == []


def test_a_slip_in_the_site_file_is_named_with_file_and_line(tmp_path):
    site = tmp_path / "site.toml"
    ll.Site.demo().save(site)
    saved = sorted(tmp_path.iterdir())
    lines = site.read_text("utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("fall_limit"))
    lines[at] = "fall_limit = -1.0"
    site.write_text("\n".join(lines) + "\n", "utf-8")
    message = one_message(run("plan", site, "-o", tmp_path / "out"), 2)
    assert "site.toml" in message and "fall_limit" in message and str(at + 1) in message
    assert sorted(tmp_path.iterdir()) == saved


def test_a_file_in_the_folders_place_is_not_touched(tmp_path):
    (tmp_path / "out").write_text("mine")
    assert "out" in one_message(run("plan", "demo", "-o", tmp_path / "out", *QUICK), 2)
    assert (tmp_path / "out").read_text() == "mine"


def test_a_full_disk_leaves_the_folder_as_it_was(tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "results.json").write_text("older")

    def little_room():
        resource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000))

    done = run("plan", "demo", "-o", folder, *QUICKEST, preexec_fn=little_room)
    assert "could not write" in one_message(done, 1)
    assert [p.name for p in folder.iterdir()] == ["results.json"]
    assert (folder / "results.json").read_text() == "older"
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize(("sent", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_stopping_long_work_leaves_nothing_behind(sent, code, tmp_path):
    command = [sys.executable, "-m", "loamline.cli", "plan", "demo", "-o", str(tmp_path / "out")]
    work = subprocess.Popen(
        [*command, "--passes", "1000000"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    wait_for(lambda: any(tmp_path.iterdir()))
    time.sleep(0.5)
    work.send_signal(sent)
    out, err = work.communicate(timeout=20)
    assert (work.returncode, out) == (code, ""), err
    assert "Traceback" not in err
    assert list(tmp_path.iterdir()) == []


def wait_for(true, seconds=30.0):
    """Waits until something is true, and fails when it takes too long."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "took too long"
        time.sleep(0.02)


def test_a_reader_who_leaves_early_meets_no_traceback():
    command = [sys.executable, "-m", "loamline.cli", "schema"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as work:
        assert work.stdout is not None and work.stderr is not None
        work.stdout.close()
        err = work.stderr.read()
        work.wait(timeout=30)
    assert b"Traceback" not in err


def test_commands_do_not_import_what_they_do_not_need():
    code = (
        "import sys; from loamline.cli import main; main(['schema']); "
        "sys.exit('matplotlib' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, timeout=30)
    assert done.returncode == 0

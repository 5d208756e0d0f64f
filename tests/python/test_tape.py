"""From the tape to a site: readings, the interview at a terminal and from a pipe, the sheet, and files."""

from __future__ import annotations

import io
import math
import os
import pty
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from loamline.tape import questions
from loamline.tape.asking import Asker
from loamline.tape.new import new_site
from loamline.tape.readings import Unread, angle, length, one_of, row, whole, word
from loamline.tape.template import pages

import loamline as ll

TURN = 52.0
RADIUS = 7.0
FOOT = RADIUS * math.radians(TURN)
# An invented wall: what the tape would say of it.
CHORD = 2.0 * RADIUS * math.sin(math.radians(20.0))
GAP = RADIUS * (1.0 - math.cos(math.radians(20.0)))
WALL = ["wall", "right", "chord", f"{CHORD:.6f}", f"{GAP:.6f}", f"{FOOT:.6f}", "22", "60°", "7 ft 10 in", "-10 cm", ""]
RUN_IN = ["", "2.5, 0.1", "5, 0.5", "15, 2.6", "30, 5.8", ""]
GROUND = ["", "-1, -4, -0.2", "-1, 5, 0", "4 -4 -1.2", "4 5 -1", "8 -4 -1.4", "8 5 -1.2", "12 -4 -1.5", "12 5 -1.4", ""]
RIDERS = ["locals, 60", "22, 24, 26", "0.8, 1.1, 1.4", "", "guests, 40", "19, 21, 23", "0.5, 0.8, 1.2", "60, 80, 110"]
EARTH = ["loam", "40", "", "", "1.5", "peg A, -2, -2, -0.1", "nail, 3 ft, 4 ft 2 in, 0", "", "rock, 7, 3, 0.4", ""]
ANSWERS = ["# invented", "Sand pit", "120", *WALL, *RUN_IN, *GROUND, *RIDERS, *EARTH]


def told(lines):
    return io.StringIO("".join(f"{line}\n" for line in lines))


def made(folder, lines=ANSWERS):
    return new_site(str(folder), Asker(told(lines), io.StringIO(), terminal=False))


@pytest.mark.parametrize(
    ("text", "metres"),
    [("2.4", 2.4), ("240 cm", 2.4), ("35mm", 0.035), ("-1.5 m", -1.5), ("8ft", 2.4384), ("7' 10\"", 2.3876),
     ("-1 ft 6 in", -0.4572), (".5", 0.5)],
)  # fmt: skip
def test_lengths_are_read_as_they_are_said(text, metres):
    assert length(text) == pytest.approx(metres, abs=1e-12)


@pytest.mark.parametrize("text", ["", "two", "2,4", "2 4", "1e999", "nan", "3 ft 2 ft", "2 m 3 in", "5 yd"])
def test_what_is_no_length_is_refused(text):
    with pytest.raises(Unread):
        length(text)


@given(st.text(max_size=20))
def test_no_reading_ends_in_anything_but_a_number_or_a_word_why(text):
    for read in (length, angle, whole, word, one_of("wall", "lip"), row(word, length)):
        try:
            read(text)
        except Unread as why:
            assert str(why)


def test_a_comma_for_a_point_is_told():
    with pytest.raises(Unread, match="decimal point"):
        length("2,4")


def test_readings_in_other_units_say_how_they_are_written():
    with pytest.raises(Unread, match="22 % is 12.4 degrees"):
        questions.LIP_ANGLE.answer("22%")
    with pytest.raises(Unread, match="centimetres are written 180 cm"):
        questions.WIDTH.answer("180")
    with pytest.raises(Unread, match="to 12 m$"):
        questions.WIDTH.answer("18000")
    assert questions.MASS.answer("65, 185 lb, 110 kg") == pytest.approx((65.0, 185.0 * 0.45359237, 110.0))
    assert questions.LITRES.answer("80 l") == 80.0 and questions.CLASS.answer("locals, 70 %") == ("locals", 70.0)


@pytest.mark.parametrize("text", ["4 0,3", "4,0 0,3", "4; 0,3"])
def test_commas_for_points_in_a_row_are_told(text):
    with pytest.raises(Unread, match="decimal point"):
        questions.PROFILE.answer(text)
    assert questions.PROFILE.answer("4; 0.3") == (4.0, 0.3)


def test_from_a_pipe_the_tape_makes_the_wall(tmp_path):
    site = made(tmp_path)
    assert site == ll.Site.load(tmp_path / "site.toml")
    wall = site.wall
    # Its foot ends in the origin and heads along x there.
    assert wall.edge(0.0) == pytest.approx([0.0, 0.0, 0.0], abs=1e-3)
    assert wall.heading_deg == pytest.approx(TURN, abs=1e-3) and wall.turn == "right"
    assert wall.length == pytest.approx(FOOT, abs=1e-3)
    assert wall.width == pytest.approx(7.0 * 0.3048 + 0.254, abs=1e-4)
    assert wall.grade * wall.length == pytest.approx(-0.1, abs=1e-3)
    assert (wall.bank_deg_at(0.0), wall.bank_deg_at(wall.length)) == pytest.approx((22.0, 60.0))
    foot = wall.mesh(400, 2)[:, 0]
    ahead = foot[-1] - foot[-2]
    assert abs(ahead[1]) < 0.02 * ahead[0]


def test_everything_else_stands_in_the_site(tmp_path):
    site = made(tmp_path)
    assert site.name == "Sand pit" and site.enter == 0.3
    assert site.run_in_length == pytest.approx(30.0)
    assert len(site.survey) == 8
    assert [(c.name, c.weight) for c in site.classes] == [("locals", 0.6), ("guests", 0.4)]
    assert site.classes[1].start == {"low": 19.0, "mode": 21.0, "high": 23.0}
    assert (site.barrow_count, site.barrow_volume, site.fall_limit) == (40, 0.08, 1.0)
    assert site.marks["nail"] == pytest.approx([0.9144, 1.27, 0.0], abs=1e-4)
    name, place, radius = site.obstacles[0]
    assert (name, place[:2], radius) == ("rock", (7.0, 3.0), 0.4)
    text = (tmp_path / "site.toml").read_text("utf-8")
    assert "certify nothing" in text and "# share of all riders" in text
    assert site.passes(n=32).leaving > 0.5


@pytest.mark.parametrize("kind", ["lip", "drop"])
def test_lips_and_drops_end_in_the_origin(tmp_path, kind):
    takeoff = {"lip": ["lip", "60 cm", "32", "1.6"], "drop": ["drop", "3", "0.1", "1.6"]}[kind]
    riders = ["all, 100", "18, 20, 24", "", ""]
    site = made(tmp_path, ["x", "", *takeoff, *RUN_IN, *GROUND, *riders, *EARTH])
    assert site.takeoff.edge() == pytest.approx([0.0, 0.0, 0.0], abs=1e-3)
    assert site.classes[0].leave == {"low": -0.1, "mode": 0.0, "high": 0.1}
    if kind == "lip":
        assert site.takeoff == ll.Lip(height=0.6, end_angle_deg=32.0, width=1.6, position=site.takeoff.position)


# What stands in ANSWERS, what is said instead, and a word of what is told.
WRONG = {
    "kind": ("wall", "ramp", "lip"),
    "gap": (f"{GAP:.6f}", "9", "half the tape"),
    "bank": ("60°", "95", "90"),
    "width": ("7 ft 10 in", "2,4", "decimal point"),
    "uphill": ("5, 0.5", "1, 0.5", "up the hill"),
    "share": ("locals, 60", "locals, 160", "100"),
    "order": ("22, 24, 26", "26, 24, 22", "in order"),
    "beyond": ("22, 24, 26", "22, 24, 66", "the run-in"),
    "above": ("0.8, 1.1, 1.4", "0.8, 1.1, 3", "the panel"),
    "soil": ("loam", "chalk", "clay"),
    "half": ("40", "40.5", "whole"),
    "twice": ("nail, 3 ft, 4 ft 2 in, 0", "peg A, 1, 1, 0", "one name"),
}


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_reading_from_a_pipe_names_its_line_and_writes_nothing(tmp_path, case):
    right, wrong, why = WRONG[case]
    at = ANSWERS.index(right)
    with pytest.raises(ll.InputError, match=why) as caught:
        made(tmp_path / "site", [*ANSWERS[:at], wrong, *ANSWERS[at + 1 :]])
    assert f"line {at + 1}, " in str(caught.value)
    assert not (tmp_path / "site").exists()


@pytest.mark.parametrize(("point", "why"), [("0, 0", "there already"), ("4", "2 readings"), ("-3 0,4", "decimal point")])
def test_a_wrong_point_where_a_file_is_asked_for_is_told(tmp_path, point, why):
    with pytest.raises(ll.InputError, match=why):
        made(tmp_path / "site", ["x", "", *WALL, point])


@pytest.mark.parametrize("takeoff", [["lip", "60 cm", "32", "1.6"], [*WALL]])
def test_a_survey_has_to_reach_where_flights_begin(tmp_path, takeoff):
    # Only what lies ahead of the edge.
    ahead = ["", "0.1, -4, 0", "0.1, 5, 0", *GROUND[3:]]
    lines = ["x", "", *takeoff, *RUN_IN, *ahead]
    with pytest.raises(ll.InputError, match="where flights begin") as caught:
        made(tmp_path / "site", lines)
    assert f"line {len(lines)}, " in str(caught.value)


def test_answers_that_end_early_say_at_what(tmp_path):
    with pytest.raises(ll.InputError, match="length along the foot"):
        made(tmp_path / "site", ANSWERS[:8])
    assert not (tmp_path / "site").exists()


def test_an_older_site_is_not_written_over(tmp_path):
    made(tmp_path)
    with pytest.raises(ll.FileError, match="already"):
        made(tmp_path)


def test_at_a_terminal_a_wrong_reading_is_asked_again_and_back_goes_back(tmp_path):
    lines = ["Sand pit", "high", "120", "wall", "back", "wal", "left", "back", "right", *WALL[2:]]
    lines += [*RUN_IN, *GROUND, *RIDERS, *EARTH]
    said = io.StringIO()
    site = new_site(str(tmp_path), Asker(told(lines), said, terminal=True))
    assert site.wall.turn == "right"
    assert "'high' is not a length" in said.getvalue() and "back one reading" in said.getvalue()


def test_points_may_begin_where_a_file_is_asked_for(tmp_path):
    lines = ["Sand pit", "120", *WALL, "0, 0", *RUN_IN[1:], *GROUND[1:], *RIDERS, *EARTH]
    said = io.StringIO()
    new_site(str(tmp_path / "begun"), Asker(told(lines), said, terminal=True))
    made(tmp_path / "whole")
    for name in ("site.toml", "run-in.csv", "survey.csv"):
        assert (tmp_path / "begun" / name).read_bytes() == (tmp_path / "whole" / name).read_bytes()
    assert "start, 0 and 0, is there already" in said.getvalue() and "run-in point 2:" in said.getvalue()
    assert "run-in point 1:" not in said.getvalue()


def test_a_question_mark_says_how_to_measure():
    said = io.StringIO()
    ask = Asker(told(["?", "24"]), said, terminal=True)
    assert ask(questions.BANK_START) == 24.0
    assert "Inclinometer" in said.getvalue()


def run(*arguments, **how):
    return subprocess.run(
        [sys.executable, "-m", "loamline.cli", *map(str, arguments)], capture_output=True, text=True, timeout=60, **how
    )


def test_the_command_reads_a_pipe_and_is_quiet(tmp_path):
    done = run("new", tmp_path / "site", input=told(ANSWERS).read())
    assert (done.returncode, done.stderr) == (0, "")
    assert "loamline check" in done.stdout
    short = run("new", tmp_path / "short", input="Sand pit\n")
    assert short.returncode == 2 and short.stderr.startswith("loamline: the answers end before: height above the sea")


def test_the_command_asks_at_a_terminal(tmp_path):
    master, end = pty.openpty()
    command = [sys.executable, "-m", "loamline.cli", "new", str(tmp_path / "site")]
    asked = subprocess.Popen(command, stdin=end, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    os.close(end)
    os.write(master, told(ANSWERS).read().encode())
    out, said = asked.communicate(timeout=60)
    os.close(master)
    assert asked.returncode == 0, said
    assert "name of the site: " in said and "bank at the end, degrees: " in said
    assert "name of the site" not in out
    assert ll.Site.load(tmp_path / "site" / "site.toml").name == "Sand pit"


@pytest.mark.parametrize("takeoff", ["wall", "lip", "drop"])
def test_the_sheet_asks_for_all_that_the_command_asks(takeoff, tmp_path):
    from pypdf import PdfReader

    ll.tape_sheet(tmp_path / "tape.pdf", takeoff)
    read = PdfReader(tmp_path / "tape.pdf").pages
    assert len(read) == 3
    words = [t.get_text() for page in pages(takeoff) for t in page.texts]
    asked = {"wall": questions.WALL, "lip": questions.LIP, "drop": questions.DROP}[takeoff]
    for question in (questions.NAME, *asked, questions.SOIL, questions.BARROWS, questions.LIMIT):
        assert question.ask in words
    assert any("certify nothing" in line for line in words)


def test_words_of_the_sheet_neither_meet_nor_leave_the_paper():
    for page in [p for takeoff in ("wall", "lip", "drop") for p in pages(takeoff)]:
        page.set_dpi(100)
        page.canvas.draw()
        boxes = [(t.get_text(), t.get_window_extent()) for t in page.texts if t.get_text().strip()]
        for k, (words, box) in enumerate(boxes):
            assert 20 < box.x0 and box.x1 < 827 - 20 and 20 < box.y0 and box.y1 < 1169 - 20, words
            for other, there in boxes[k + 1 :]:
                apart = min(box.x1, there.x1) - max(box.x0, there.x0), min(box.y1, there.y1) - max(box.y0, there.y0)
                assert min(apart) < 1.5, (words, other)


def test_a_sheet_for_nothing_is_refused(tmp_path):
    with pytest.raises(ll.InputError, match="lip"):
        ll.tape_sheet(tmp_path / "x.pdf", "ramp")

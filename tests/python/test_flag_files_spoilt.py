"""Flags files, spoilt at random, are read or refused with the file, the line and words; nothing else comes out."""

import math
import tempfile
from pathlib import Path

import loamline as ll
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

FILE = """# Invented rides.
name,who,start,start_sd,leave,brake,x,y,tape_from,tape_towards,along,left,mark_sd,tyre,seconds,seconds_from,seconds_to,seconds_sd
first,regulars,20.0,0.1,0.95,1.0,2.63,0.92,,,,,0.2,,,,,
second,regulars,20.6,,1.05,,,,oak peg,iron pin,2.5,0.4,,rear,1.31,edge,touch,0.1
"""
HOSTILE = ["", "nan", "-inf", "inf", "1e308", "-1e308", "1e999", "5e-324", "-1", "0", "x", '"', "1,2", "\0", "é", "0x1", "1_0"]

spoils = st.lists(
    st.one_of(
        st.tuples(st.just("cell"), st.integers(0, 10**6), st.sampled_from(HOSTILE)),
        st.tuples(st.just("put"), st.integers(0, 10**6), st.text(max_size=3)),
        st.tuples(st.just("drop"), st.integers(0, 10**6), st.just("")),
        st.tuples(st.just("double"), st.integers(0, 10**6), st.just("")),
        st.tuples(st.just("cut"), st.integers(0, 10**6), st.just("")),
    ),
    min_size=1,
    max_size=4,
)


def spoil(text, way, at, by):
    """The text with one thing wrong."""
    if way == "cell":
        cells = text.split(",")
        cells[at % len(cells)] = by
        return ",".join(cells)
    if way == "put":
        return text[: at % (len(text) + 1)] + by + text[at % (len(text) + 1) :]
    if way == "cut":
        return text[: at % (len(text) + 1)]
    lines = text.splitlines(keepends=True) or [""]
    line = lines.pop(at % len(lines))
    if way == "double":
        lines[at % (len(lines) + 1) : 0] = [line, line]
    return "".join(lines)


def read(text):
    """The flags of a text, or the error that refuses it."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "flags.csv"
        file.write_bytes(text.encode("utf-8", "surrogatepass"))
        try:
            return ll.load_flags(file)
        except ll.FileError as error:
            assert str(error).startswith(str(file)), error
            assert error.line is None or error.line > 0
            return error


@settings(max_examples=150, deadline=None)
@given(spoils)
@example([("cell", 19, "1e308")])
@example([("put", 0, "\ufeff")])
@example([("put", 30, "\x85")])
def test_a_spoilt_file_is_read_or_refused_with_words(ways):
    text = FILE
    for way, at, by in ways:
        text = spoil(text, way, at, by)
    flags = read(text)
    if isinstance(flags, ll.FileError):
        return
    for flag in flags:
        assert math.isfinite(flag.start)
        assert flag.start > 0


def test_the_file_itself_reads():
    assert [flag.name for flag in read(FILE)] == ["first", "second"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("who;start;x;y\nregulars;20;2,6;0,9\n", "line 1: columns are parted by semicolons"),
        ('who,start,x,y\nregulars,20,"2,6",0.9\n', "line 2: x = '2,6' is not a number; a decimal point"),
        ("who,start,x,y\nregulars,20,2.6,\n", "line 2: a mark wants x and y"),
    ],
)
def test_common_slips_are_told_once_and_with_their_line(tmp_path, text, said):
    file = tmp_path / "flags.csv"
    file.write_text(text, "utf-8")
    with pytest.raises(ll.FileError) as caught:
        ll.load_flags(file)
    assert str(caught.value).startswith(f"{file}, {said}") and str(caught.value).count(", line ") == 1


def test_names_of_columns_may_be_in_capitals(tmp_path):
    file = tmp_path / "flags.csv"
    file.write_text("Who,Start,X,Y\nregulars,20,2.6,0.9\n", "utf-8")
    assert ll.load_flags(file) == [ll.Flag(20.0, "regulars", (2.6, 0.9))]

"""What is handed in may be anything: not a number, infinite, empty, huge. What comes back is an answer or an error.

A panic of the native part is no `Exception`: it would end these tests.
"""

import functools
import inspect
import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from things import MADE, calls, things

import loamline as ll

JUNK = (
    math.nan, math.inf, -math.inf, 0.0, -1.0, 1e308, -1e308, 5e-324, 10**13, -(2**70), "", "\x00", None, [], [[]], {},
    (math.nan, math.nan), (1.0,), [1e308] * 3, np.zeros((0, 3)), np.full((3, 3), math.nan), np.zeros((2, 2, 2)),
)  # fmt: skip
FEW = (math.nan, math.inf, -1.0, 10**13, [], "")
UNENDING = (("next_barrows", "count", 10**13),)
# Each of these works for a while before it answers.
LONG = (
    "bargain", "fit_landing", "tradeoff", "free_landing", "next_barrows", "barrow_map", "ladder", "next_step",
    "fit_flags",
)  # fmt: skip
# What these are given is written or waited for.
PASSED_OVER = {"progress", "threads", "out", "path", "self"}
ERRORS = (ll.LoamlineError, TypeError, ValueError, OverflowError, IndexError)
NAMES = sorted(calls())


def tried(call, arguments):
    """Calls; an answer or an error of these is well."""
    try:
        return call(**arguments)
    except ERRORS as error:
        assert str(error) or isinstance(error, OverflowError | IndexError)
        return None


@pytest.mark.parametrize("name", NAMES)
def test_junk_for_one_argument_is_told(name):
    call, usual = getattr(ll, name), calls()[name]
    # Any whole number is a seed: that would only be work.
    passed_over = PASSED_OVER | ({"seed"} if name in LONG else set())
    names = [p for p in inspect.signature(call).parameters if p not in passed_over]
    for argument in names:
        for junk in FEW[:3] if name == "bargain" else FEW if name in LONG else JUNK:
            if isinstance(junk, int) and (name, argument, junk) in UNENDING:
                continue
            tried(call, {**usual, argument: junk})


# Methods that are properties of pictures or take one number.
PLACES = ("mesh", "points", "normals", "on_panel", "path", "paths")


@pytest.mark.parametrize("name", MADE)
def test_junk_for_methods_is_told(name):
    thing = things()[name]
    for member in dir(type(thing)):
        method = getattr(type(thing), member)
        if member.startswith("_") or not callable(method) or member in ("save", "forecast", "what_next", "passes"):
            continue
        try:
            parameters = inspect.signature(method).parameters
        except ValueError:
            continue
        wanted = [p for p in parameters.values() if p.name not in PASSED_OVER]
        for junk in JUNK:
            given_ = {p.name: junk for p in wanted if p.default is inspect.Parameter.empty}
            for one in wanted:
                tried(functools.partial(getattr(thing, member)), {**given_, one.name: junk})


@pytest.mark.parametrize("count", [2**24 + 1, 10**13, 2**60, 2**63 - 1])
def test_no_number_of_places_ends_the_program(count):
    made = things()
    for name, method in (
        ("Wall", "mesh"), ("Lip", "mesh"), ("Drop", "mesh"), ("Entrance", "mesh"), ("Line", "points"),
        ("Line", "normals"),
        ("Line", "on_panel"), ("Flight", "path"), ("RigidFlight", "path"), ("EvenLanding", "paths"),
    ):  # fmt: skip
        with pytest.raises(ll.InputError, match="out of range"):
            getattr(made[name], method)(count)
    with pytest.raises(ll.InputError, match="out of range"):
        made["Passes"].path(0, count)
    with pytest.raises(ll.InputError, match="threads"):
        made["Site"].passes(n=8, threads=count)


numbers = st.one_of(st.floats(), st.integers(), st.none(), st.text(max_size=3), st.lists(st.floats(), max_size=4))


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_junk_for_several_arguments_is_told(data):
    name = data.draw(st.sampled_from([n for n in NAMES if n not in LONG]))
    call, usual = getattr(ll, name), calls()[name]
    names = [p for p in inspect.signature(call).parameters if p not in PASSED_OVER]
    some = data.draw(st.lists(st.sampled_from(names), unique=True, max_size=4)) if names else []
    tried(call, {**usual, **{argument: data.draw(numbers) for argument in some}})


def test_files_that_are_none_are_told(tmp_path):
    for text in ("", "\x00", "version = 1", "[site]\nname = 1", "version = nan", "a" * 100_000):
        (tmp_path / "site.toml").write_text(text, "utf-8")
        with pytest.raises(ll.FileError):
            ll.Site.load(tmp_path / "site.toml")
        (tmp_path / "flags.csv").write_text(text, "utf-8")
        with pytest.raises(ll.LoamlineError):
            ll.load_flags(tmp_path / "flags.csv")

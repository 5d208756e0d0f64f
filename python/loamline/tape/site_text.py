"""Answers as a site file that explains itself, with its two tables."""

from __future__ import annotations

import csv
import io
import json
import math
from typing import TYPE_CHECKING, Any

import loamline as ll

from .questions import ORIGINS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from .interview import Answers, Class

_HEAD = """# {name}: made from tape readings by loamline new. Look it over; `loamline check` says what does not fit.
#
# Lengths in metres, masses in kilograms, times in seconds; angles in degrees, in keys that end in _deg.
# Origin: {origin}. x ahead, the way the edge is left; y to the left; z up;
# headings counter-clockwise from x.

version = 1

[site]
name = {quoted}
note = "Numbers guide a first build and the next test; they certify nothing."

[air]
elevation = {elevation}
# temperature_c = 14                   # the standard atmosphere's where it is not given
# wind = {{ heading_deg = 0, speed = {{ mean = 0.0, sd = 1.0, low = -3.0, high = 3.0 }} }}

[survey]
points = "survey.csv"

[run_in]
profile = "run-in.csv"
"""
_RIDER = """
[[riders]]
name = {name}
weight = {weight}                        # share of all riders
start = {start}   # level metres up the hill from the takeoff
leave = {leave}   # {place}
mass = {mass}   # rider and bike
cda = {{ low = 0.45, high = 0.65 }}         # drag area, m2: upright in loose clothes (common practice)
# pop = {{ low = -0.2, mode = 0.0, high = 0.2 }}    # push off the edge, m/s
# brake = {{ low = 0.0, high = 0.1 }}               # held down the run-in, m/s2
# crr = 0.03                             # rolling resistance: smooth earth or boards less, grass more
# grip = 0.6                             # wet or dusty ground has less
"""
_EARTH = """
[soil]
kind = "{soil}"

[barrows]
count = {barrows}
volume = {volume}                         # loose earth in a heaped barrow, m3

# What the landing may be, and what it keeps clear of. The ranges are wide on purpose: narrow them where the place does.

[landing]
fall_limit = {limit}                       # equivalent fall height up to which a touchdown counts as soft
edge_clearance = {clearance}
slope_deg = [{gentle}, {steep}]                    # the soil stands at {stands:.0f} degrees
heading_deg = [-45, 45]
length = [2.0, 6.0]
width = [1.5, 4.0]
# area = [[1.5, -4.0], [9.0, -4.0], [9.0, 4.0], [1.5, 4.0]]   # corners in plan that it must lie in
# [[landing.keep_out]]                   # where no earth may lie: roots, mud, the trail's edge
# name = "birch"
# corners = [[6.0, 2.0], [8.0, 2.0], [8.0, 4.0], [6.0, 4.0]]
"""
_LEFT = "to the left of the edge's middle"
_PLACES = {"wall": "up the panel from its foot", "lip": _LEFT, "drop": _LEFT}


def site_files(answers: Answers) -> dict[str, str]:
    """Returns the files of a site by name: the site file and its two tables."""
    return {
        "site.toml": _site(answers),
        "run-in.csv": table("The run-in, from its top down to the takeoff.", "distance height", answers.profile),
        "survey.csv": table(f"The ground, from {ORIGINS[answers.kind]}.", "x y z", answers.survey),
    }


def _site(answers: Answers) -> str:
    soil = ll.Soil(answers.soil)
    stands = soil.stand_up_deg[0]
    parts = [
        _HEAD.format(
            name=answers.name, origin=ORIGINS[answers.kind], quoted=json.dumps(answers.name, ensure_ascii=False),
            elevation=_number(answers.elevation),
        ),
        _takeoff(answers),
        *(_rider(one, answers.kind) for one in answers.classes),
        _EARTH.format(
            soil=answers.soil, barrows=answers.barrows, volume=_number(answers.litres / 1000.0),
            limit=_number(answers.limit), clearance=_number(answers.clearance), gentle=6, steep=math.floor(stands) - 1,
            stands=stands,
        ),
        *(_entry("landing.obstacle", name, (x, y), radius) for name, x, y, radius in answers.stones),
        *(_entry("mark", name, (x, y, z)) for name, x, y, z in answers.pegs),
    ]
    return "".join(parts)


def _takeoff(answers: Answers) -> str:
    lines = [f"\n[{answers.kind}]\n"]
    for key, value in answers.takeoff.items():
        lines.append(f"{key} = {_value(value)}\n")
    if answers.kind == "wall":
        lines.append(f"\n[ride]\nenter = {_number(answers.enter)}\n")
    return "".join(lines)


def _rider(one: Class, kind: str) -> str:
    spreads = {key: _spread(getattr(one, key)) for key in ("start", "leave", "mass")}
    name = json.dumps(one.name, ensure_ascii=False)
    return _RIDER.format(name=name, weight=_number(one.weight), place=_PLACES[kind], **spreads)


def _entry(table: str, name: str, place: Iterable[float], radius: float | None = None) -> str:
    size = "" if radius is None else f"radius = {_number(radius)}\n"
    quoted = json.dumps(name, ensure_ascii=False)
    return f"\n[[{table}]]\nname = {quoted}\nposition = {_value(tuple(place))}\n{size}"


def _spread(values: tuple[float, float, float]) -> str:
    low, mode, high = (_number(value) for value in values)
    return f"{{ low = {low}, mode = {mode}, high = {high} }}"


def _value(value: Any) -> str:
    if isinstance(value, str):
        return json.dumps(value)
    if isinstance(value, tuple):
        return f"[{', '.join(_number(one) for one in value)}]"
    return _number(value)


def _number(value: float) -> str:
    """Returns a number to a tenth of a millimetre, without a minus before nothing."""
    return f"{round(float(value), 4) + 0.0:.10g}"


def table(about: str, columns: str, rows: Iterable[Iterable[float]]) -> str:
    """Returns a table as CSV, with a line that says what it is of."""
    file = io.StringIO()
    file.write(f"# {about}\n")
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(columns.split())
    writer.writerows([_number(value) for value in row] for row in rows)
    return file.getvalue()

"""The second page: how to set out, the stakes, the barrows, the cautions and the first flags."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from ..answer import barrows
from ..cautions import ALL
from ..numbers import stake_rows
from . import paper

if TYPE_CHECKING:
    from ..planning import Plan

_ROW = 0.2
_MOST_BOXES = 320


def setting_out(plan: Plan) -> Figure:
    """Returns the page with the tables."""
    page = paper.blank(plan, 2)
    down = _how(page, plan, 1.1)
    down = _stakes(page, plan, down + 0.3)
    down = _barrows(page, plan, down + 0.38)
    down = _cautions(page, down + 0.36)
    _flags(page, down + 0.36)
    return page


def _how(page: Figure, plan: Plan, down: float) -> float:
    a, b = plan.stakes.marks
    stand = {
        "left": f"all pegs lie on your left when you stand at {a} and look at {b}",
        "right": f"all pegs lie on your right when you stand at {a} and look at {b}",
        "both sides": "pegs lie on both sides of the line between the marks: use along and across",
    }
    steps = (
        f"1  Check the marks: {a} to {b} is {plan.stakes.base:.2f} m. Hold tapes level and tight.",
        f"2  Swing both tapes to A1 and A3, drive pegs; {stand[plan.stakes.side]}.",
        f"3  Peg C1 and C3. Both diagonals A1-C3 and A3-C1 must be {plan.stakes.diagonal:.2f} m.",
        f"4  Mark on each peg the height over {a} (string and line level), then the fill to build.",
        f"5  Barrow, tread each layer of {100 * plan.earth.lift_loose:.0f} cm loose, shape to the string, measure again.",
    )
    paper.heading(page, down, "Setting out")
    lines = [line for step in steps for line in textwrap.wrap(step, 110, subsequent_indent="    ")]
    return _lines(page, down + 0.06, lines, 0.19)


def _lines(
    page: Figure, down: float, lines: Sequence[str], step: float, size: float = 8.5
) -> float:
    for line in lines:
        down += step
        paper.write(page, paper.MARGIN, down, line, size=size)
    return down


def _stakes(page: Figure, plan: Plan, down: float) -> float:
    a, b = (paper.short(mark, 11) for mark in plan.stakes.marks)
    note = "metres; along from the crest line, across to the left positive"
    paper.heading(page, down, "Pegs", note)
    names: tuple[str, ...] = (
        "peg",
        "what",
        f"tape from\n{a}",
        f"tape from\n{b}",
        "along",
        "across",
    )
    names += (f"finished\nover {paper.short(a, 7)}", "fill (−cut)\nfinished", "fill to\nbuild")
    keys: tuple[str, ...] = ("tape_first_m", "tape_second_m", "along_m", "across_m")
    keys += ("finished_over_first_m", "fill_m", "build_fill_m")
    rows = [[r["stake"], r["what"], *(_metres(r[k]) for k in keys)] for r in stake_rows(plan)]
    return _table(page, down + 0.34, names, rows)


def _metres(value: float) -> str:
    """Returns metres to the centimetre, with a true minus and no minus before nothing."""
    return f"{value:.2f}".replace("-0.00", "0.00").replace("-", "−")


# Where each column of the peg table ends (words: begins), in inches from the margin.
_COLUMNS = (0.0, 0.42, 3.0, 3.75, 4.35, 4.95, 5.72, 6.5, 7.12)


def _table(page: Figure, down: float, names: Sequence[str], rows: list[list[str]]) -> float:
    for name, at in zip(names, _COLUMNS, strict=True):
        look: dict[str, Any] = {
            "color": paper.GREY,
            "ha": "left" if at < 1.0 else "right",
            "linespacing": 1.05,
        }
        paper.write(page, paper.MARGIN + at, down, name, size=7.5, **look)
    paper.rule(page, down + 0.07, width=0.9)
    for number, row in enumerate(rows):
        down += _ROW
        for text, at in zip(row, _COLUMNS, strict=True):
            weight = "bold" if at == 0.0 or at == _COLUMNS[-1] else "normal"
            ha = "left" if at < 1.0 else "right"
            paper.write(page, paper.MARGIN + at, down, text, size=8.5, ha=ha, weight=weight)
        paper.rule(page, down + 0.06, width=0.25 if number % 3 != 2 else 0.6)
    return down


def _barrows(page: Figure, plan: Plan, down: float) -> float:
    earth, (shape, extra) = plan.earth, barrows(plan)
    count = shape + extra
    litres = 1000.0 * plan.site.barrow_volume
    note = (
        f"{shape} of {litres:.0f} litres = {earth.loose:.1f} m³ loose = "
        f"{earth.fill:.1f} m³ of {plan.site.soil} in place, {earth.mass / 1000:.1f} t. "
        f"It settles by {100 * earth.settlement:.0f} %: 'fill to build' allows for it, "
        f"with {extra} barrows more. Tamp it in {earth.lifts} layers, {100 * earth.lift_loose:.0f} cm loose; "
        f"{earth.hours[0]:.0f} person-hours by hand ({earth.hours[1]:.0f} to {earth.hours[2]:.0f})."
    )
    each = math.ceil(count / _MOST_BOXES)
    loads = "one box a load" if each == 1 else f"one box for {each} loads"
    paper.heading(page, down, "Barrows", f"cross off {loads}")
    down = _lines(page, down + 0.02, textwrap.wrap(note, 112), 0.18)
    return _boxes(page, math.ceil(count / each), down + 0.08)


def _boxes(page: Figure, count: int, down: float) -> float:
    """Draws a box a barrow, ten to a group, forty to a row."""
    side, gap, group = 0.135, 0.17, 0.11
    for k in range(count):
        row, column = divmod(k, 40)
        left = paper.MARGIN + column * gap + (column // 10) * group
        top = down + row * 0.2
        box = Rectangle(
            (left / paper.WIDTH, 1 - (top + side) / paper.HEIGHT),
            side / paper.WIDTH,
            side / paper.HEIGHT,
            fill=False,
            lw=0.5,
            ec=paper.INK,
        )
        page.add_artist(box)
    return down + (math.ceil(count / 40)) * 0.2 - 0.05


def _cautions(page: Figure, down: float) -> float:
    paper.heading(page, down, "Before anybody rides")
    lines = []
    for caution in ALL:
        first, *rest = textwrap.wrap(caution, 118)
        lines += [f"•  {first}", *(f"    {line}" for line in rest)]
    return _lines(page, down + 0.05, lines, 0.16, size=8)


def _flags(page: Figure, down: float) -> None:
    """Draws a ruled table for the first rides, as far as the page has room."""
    room = int((paper.HEIGHT - 0.62 - down - 0.3) / 0.26)
    if room < 2:
        return
    note = "a flag where the tyres came down; along and across from A2"
    paper.heading(page, down, "First flags", note)
    columns: tuple[tuple[str, float], ...] = (
        ("ride", 0.0),
        ("rider", 0.5),
        ("start mark", 1.9),
        ("exit height", 3.0),
    )
    columns += (("along", 4.1), ("across", 4.9), ("how it felt", 5.7))
    for name, left in columns:
        paper.write(page, paper.MARGIN + left, down + 0.22, name, size=7.5, color=paper.GREY)
    paper.rule(page, down + 0.28, width=0.9)
    for k in range(min(room, 8)):
        paper.rule(page, down + 0.28 + 0.26 * (k + 1), width=0.3)

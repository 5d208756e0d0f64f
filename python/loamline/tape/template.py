"""The tape sheet: pages to print and fill in outside, in the order in which `loamline new` asks."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

from . import questions as q

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from .readings import Question

_TAKEOFFS = {"wall": q.WALL, "lip": q.LIP, "drop": q.DROP}
_PAGES = 3
# Places along and across a page, inches.
_BLANK, _STEP, _ROW = 1.25, 0.44, 0.26
_FOOT_NOTE = "Heights by hand level or water level, to 2 cm; lengths to 5 cm; angles to a degree. Read each one back."


def tape_sheet(file: Any, takeoff: str = "wall") -> None:
    """Writes the sheet of tape readings as a PDF of three A4 pages, black on white.

    Its blanks come in the order in which `loamline new` asks for them.

    Args:
        file: a path or an open binary file.
        takeoff: "wall", "lip" or "drop".

    Raises:
        InputError: another takeoff.
    """
    from loamline import InputError
    from matplotlib.backends.backend_pdf import PdfPages

    from ..plot import sheet

    if takeoff not in _TAKEOFFS:
        raise InputError(f"takeoff = {takeoff!r} is out of range: expected one of {', '.join(_TAKEOFFS)}")
    about = {"Title": f"tape sheet: {takeoff}", "Creator": "loamline", "CreationDate": None}
    with sheet("light"), PdfPages(file, metadata=about) as pdf:
        for page in pages(takeoff):
            pdf.savefig(page, facecolor="white")


def pages(takeoff: str) -> list[Figure]:
    """Returns the sheet's pages."""
    return [_first(takeoff), _points(takeoff), _people(takeoff)]


def _first(takeoff: str) -> Figure:
    from ..sheet import paper
    from .sketch import sketch

    page = _page(takeoff, 1)
    down = _blanks(page, 1.15, (q.NAME, q.ELEVATION))
    paper.heading(page, down + 0.1, f"The {takeoff}", f"origin: {q.ORIGINS[takeoff]}")
    sketch(paper.window(page, down + 0.2, paper.INNER, 2.5), takeoff)
    _blanks(page, down + 3.0, _TAKEOFFS[takeoff])
    return page


def _points(takeoff: str) -> Figure:
    from ..sheet import paper

    page = _page(takeoff, 2)
    paper.heading(page, 1.1, "The run-in", "from the takeoff up the hill: level tape, hand level")
    _table(page, 1.2, ("level m up the hill", "m over the takeoff's start"), 8, 2)
    paper.heading(page, 3.95, "The ground", f"from the origin, {q.ORIGINS[takeoff]}: ahead, to the left, up")
    _lines(page, 4.15, q.SURVEY.how)
    _table(page, 4.55, ("ahead", "left", "up"), 22, 2)
    return page


def _people(takeoff: str) -> Figure:
    from ..sheet import paper

    page = _page(takeoff, 3)
    leave = "up the panel" if takeoff == "wall" else "left of middle"
    paper.heading(page, 1.1, "Who rides here", "three readings in a box, as 12, 15, 20: least, usual, most; kg: rider and bike together")
    heads = ("class", "of 100", "start marks, m", f"leave {leave}, m", "kg")
    _table(page, 1.2, heads, 5, 1)
    paper.heading(page, 3.1, "Earth, and what a landing may be")
    down = _blanks(page, 3.4, (q.SOIL, q.BARROWS, q.LITRES, q.LIMIT, q.CLEARANCE))
    paper.heading(page, down + 0.1, "Marks to tape from", "a peg, a nail, a painted stone that stays; two or more")
    _table(page, down + 0.2, ("name", "ahead", "left", "up"), 6, 1)
    paper.heading(page, down + 2.35, "What stays where it is", "a rock, a trunk, a post")
    _table(page, down + 2.45, ("name", "ahead", "left", "radius"), 4, 1)
    return page


def _page(takeoff: str, number: int) -> Figure:
    import loamline as ll
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from ..cautions import SHORT
    from ..sheet import paper

    page = Figure(figsize=(paper.WIDTH, paper.HEIGHT), constrained_layout=False)
    FigureCanvasAgg(page)
    paper.write(page, paper.MARGIN, 0.72, f"Tape sheet: {takeoff}", size=17, weight="bold")
    right = f"page {number} of {_PAGES}   ·   by ______________   date ___________"
    paper.write(page, paper.WIDTH - paper.MARGIN, 0.72, right, size=9, ha="right", color=paper.GREY)
    paper.rule(page, 0.82, width=1.4)
    paper.write(page, paper.MARGIN, paper.HEIGHT - 0.55, _FOOT_NOTE, size=7.5, color=paper.GREY)
    paper.write(page, paper.MARGIN, paper.HEIGHT - 0.38, SHORT, size=7, color=paper.GREY)
    side = paper.WIDTH - paper.MARGIN
    paper.write(page, side, paper.HEIGHT - 0.55, f"loamline {ll.__version__}", size=7, ha="right", color=paper.GREY)
    return page


def _blanks(page: Figure, down: float, asked: tuple[Question, ...]) -> float:
    """Writes a row for each reading, with a blank at its end; returns where the rows end."""
    from ..sheet import paper

    right = paper.WIDTH - paper.MARGIN
    for question in asked:
        paper.write(page, paper.MARGIN, down, question.ask, size=9.5)
        hint = question.how if question.default is None else f"{question.how} Usual: {question.default}."
        _lines(page, down + 0.14, hint, 98, 0.1)
        paper.rule(page, down + 0.02, left=right - _BLANK - 0.6, right=right - 0.6)
        paper.write(page, right, down, question.unit, size=8.5, ha="right", color=paper.GREY)
        down += _STEP
    return down


def _lines(page: Figure, down: float, words: str, letters: int = 130, step: float = 0.13) -> None:
    from ..sheet import paper

    for number, line in enumerate(textwrap.wrap(words, letters)):
        paper.write(page, paper.MARGIN, down + step * number, line, size=7.0, color=paper.GREY)


def _table(page: Figure, down: float, heads: tuple[str, ...], rows: int, blocks: int) -> None:
    """Draws empty tables side by side, their first column numbered."""
    from ..sheet import paper

    gap = 0.25
    width = (paper.INNER - gap * (blocks - 1)) / blocks
    for block in range(blocks):
        left = paper.MARGIN + block * (width + gap)
        cell = (width - 0.3) / len(heads)
        for k, head in enumerate(heads):
            paper.write(page, left + 0.35 + k * cell, down + 0.17, head, size=7.5, color=paper.GREY)
        for row in range(rows + 1):
            below = down + 0.24 + row * _ROW
            paper.rule(page, below, width=0.4 if row else 0.9, left=left, right=left + width)
            if row < rows:
                number = str(block * rows + row + 1)
                paper.write(page, left + 0.02, below + 0.18, number, size=7.5, color=paper.GREY)
        _uprights(page, down + 0.24, rows * _ROW, [left + 0.3 + k * cell for k in range(len(heads) + 1)])


def _uprights(page: Figure, down: float, height: float, lefts: list[float]) -> None:
    from matplotlib.lines import Line2D

    from ..sheet import paper

    ends = [1.0 - down / paper.HEIGHT, 1.0 - (down + height) / paper.HEIGHT]
    for left in lefts:
        page.add_artist(Line2D([left / paper.WIDTH] * 2, ends, color=paper.INK, lw=0.3))

"""Dimension lines: arrows at both ends, thin lines out to what is measured, words between."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from matplotlib.axes import Axes

from .paper import GREY, INK

if TYPE_CHECKING:
    from ..frames import Point

_WHITE = {"boxstyle": "square,pad=0.12", "facecolor": "white", "edgecolor": "none"}


def level(ax: Axes, start: Point, end: Point, at: float, words: str, size: float = 8.5) -> None:
    """Draws a level dimension at height `at` from the points `start` to `end`."""
    for x, y in (start, end):
        ax.plot([x, x], [y, at], "-", color=GREY, lw=0.45, zorder=2)
    arrow(ax, (start[0], at), (end[0], at))
    _words(ax, 0.5 * (start[0] + end[0]), at, words, size)


def upright(
    ax: Axes, low: Point, high: Point, at: float, words: str, size: float = 8.5, side: str = "left"
) -> None:
    """Draws an upright dimension at abscissa `at` from the points `low` to `high`."""
    for x, y in (low, high):
        ax.plot([x, at], [y, y], "-", color=GREY, lw=0.45, zorder=2)
    arrow(ax, (at, low[1]), (at, high[1]))
    shift = (-4, 0) if side == "left" else (4, 0)
    ax.annotate(
        words,
        (at, 0.5 * (low[1] + high[1])),
        shift,
        textcoords="offset points",
        ha="right" if side == "left" else "left",
        va="center",
        fontsize=size,
        bbox=_WHITE,
        zorder=7,
    )


def along(
    ax: Axes, start: Point, end: Point, words: str, off: Point = (0, 6), size: float = 8.5
) -> None:
    """Writes words along the line from `start` to `end`, a few points off it."""
    angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    ax.annotate(
        words,
        (0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1])),
        off,
        textcoords="offset points",
        rotation=angle,
        rotation_mode="anchor",
        ha="center",
        va="bottom",
        fontsize=size,
        zorder=7,
    )


def arrow(ax: Axes, start: Point, end: Point) -> None:
    """Draws a thin line with an arrow at both ends."""
    style = {"arrowstyle": "<|-|>,head_width=0.13,head_length=0.35", "lw": 0.6, "color": INK}
    style |= {"shrinkA": 0, "shrinkB": 0, "mutation_scale": 10}
    ax.annotate("", start, end, arrowprops=style, zorder=6)


def _words(ax: Axes, x: float, y: float, words: str, size: float) -> None:
    ax.text(x, y, words, ha="center", va="center", fontsize=size, bbox=_WHITE, zorder=7)

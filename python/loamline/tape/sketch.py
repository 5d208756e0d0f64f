"""A sketch of each takeoff, not to scale: where the origin lies and what is taped."""

from __future__ import annotations

from typing import Any

import numpy as np


def sketch(ax: Any, takeoff: str) -> None:
    """Draws a takeoff's sketch on bare axes."""
    {"wall": _wall, "lip": _lip, "drop": _drop}[takeoff](ax)
    ax.set_aspect("equal")
    ax.autoscale_view()
    ax.margins(0.08)


def _wall(ax: Any) -> None:
    """A wall from above, turning left, with its chord and gap."""
    radius, sweep, width = 6.0, np.radians(62.0), 1.5
    turn = np.linspace(-sweep, 0.0, 60)
    foot = np.column_stack([radius * np.sin(turn), radius - radius * np.cos(turn)])
    top = np.column_stack([(radius + width) * np.sin(turn), radius - (radius + width) * np.cos(turn)])
    ax.fill(*np.vstack([foot, top[::-1]]).T, facecolor="#e4e4e4", edgecolor="none")
    ax.plot(*foot.T, "-k", lw=1.6)
    ax.plot(*top.T, "-k", lw=0.7)
    ax.plot(*np.vstack([foot[-1], top[-1]]).T, "-k", lw=3.0)
    ax.plot(*foot[[0, -1]].T, "--k", lw=0.8)
    middle = foot[[0, -1]].mean(axis=0)
    _arrow(ax, middle, foot[30], "<->")
    _word(ax, middle, "tape (chord)", (-4, 10))
    _word(ax, 0.5 * (middle + foot[30]), "gap", (8, -2))
    _pointer(ax, foot[18], "length along the foot", (-150, -6))
    _word(ax, 0.5 * (foot[-1] + top[-1]), "width of the panel", (10, -4))
    _axes(ax)


def _lip(ax: Any) -> None:
    """A lip from the side, with height and angle."""
    turn = np.linspace(0.0, np.radians(35.0), 40)
    curve = np.column_stack([4.0 * np.sin(turn), 4.0 - 4.0 * np.cos(turn)]) - (4.0 * np.sin(turn[-1]), 0.0)
    height = curve[-1, 1]
    curve[:, 1] -= height
    ax.fill_between(curve[:, 0], -height, curve[:, 1], color="#e4e4e4", lw=0)
    ax.plot(*np.vstack([[-4.2, -height], curve]).T, "-k", lw=1.6)
    _arrow(ax, (0.15, -height), (0.15, 0.0), "<->")
    _word(ax, (0.15, -height / 2), "height", (5, 0))
    ax.plot([0, 1.0], [0, np.tan(turn[-1])], "--k", lw=0.8)
    _word(ax, (0.7, 0.25), "angle at the edge", (6, 0))
    _axes(ax, "up", (-36, 7))


def _drop(ax: Any) -> None:
    """A drop from the side."""
    ax.fill_between([-3.0, 0.0], -1.2, [0.15, 0.0], color="#e4e4e4", lw=0)
    ax.plot([-3.0, 0.0, 0.0], [0.15, 0.0, -1.2], "-k", lw=1.6)
    ax.plot([0.0, 2.5], [-1.2, -1.5], "-k", lw=0.8)
    _arrow(ax, (-3.0, 0.45), (0.0, 0.3), "<->")
    _word(ax, (-1.5, 0.4), "length of the deck", (-30, 6))
    _axes(ax, "up")


def _axes(ax: Any, second: str = "left", origin: tuple[float, float] = (-32, -12)) -> None:
    """Draws the origin, its word shifted, with its arrows ahead and to the left, or up."""
    ax.plot(0, 0, "ok", ms=5, mfc="white", zorder=5)
    _word(ax, (0, 0), "origin", origin)
    _arrow(ax, (0, 0), (2.2, 0), "-|>")
    _word(ax, (2.2, 0), "ahead", (3, -3))
    _arrow(ax, (0, 0), (0, 1.6), "-|>")
    _word(ax, (0, 1.6), second, (4, 0))


def _arrow(ax: Any, start: Any, end: Any, kind: str) -> None:
    # Annotations alone do not widen the picture.
    ax.update_datalim([start, end])
    ax.annotate("", end, start, arrowprops={"arrowstyle": kind, "lw": 0.9, "color": "k", "shrinkA": 0, "shrinkB": 0})


def _pointer(ax: Any, place: Any, words: str, shift: tuple[float, float]) -> None:
    """Writes words beside the picture, with a thin line to what they are of."""
    line = {"arrowstyle": "-", "lw": 0.6, "color": "k", "shrinkA": 0, "shrinkB": 0}
    ax.annotate(words, place, shift, textcoords="offset points", fontsize=8, color="k", va="center", arrowprops=line)


def _word(ax: Any, place: Any, words: str, shift: tuple[float, float]) -> None:
    ax.annotate(words, place, shift, textcoords="offset points", fontsize=8, color="k")

"""The map of the next barrow: where earth helps, and where it makes it worse."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.ticker import MaxNLocator

from . import style

# Numbers nearer than this share a label, metres.
NEAR = 0.35


@style.styled(figsize=(5.4, 3.6))
def barrows(map: Any, places: Any = None, passes: Any = None, ax: Any = None) -> Any:
    """Draws how much a barrow of earth helps by where it may be put; returns the axes.

    Args:
        map: the map of the next barrow.
        places: (n, 2), m, of barrows to number in their order, or None.
        passes: whose marks are drawn as dots, or None.
        ax: axes to draw on, or None.
    """
    gain = np.ma.masked_where(~map.free, 100.0 * map.gain / map.severity)
    most = float(np.abs(gain).max()) or 1.0
    levels = np.linspace(-most, most, 22)
    mesh = ax.contourf(map.x, map.y, gain, levels, cmap="PuOr", zorder=1)
    bar = ax.figure.colorbar(mesh, ax=ax, ticks=MaxNLocator(6, steps=[1, 2, 5, 10]), shrink=0.8)
    bar.set_label("a barrow lowers the severity by, %")
    if passes is not None:
        # The map has light and dark places by day and by night: the dots have both colours.
        dot = {"color": style.INK, "markeredgecolor": style.PAPER, "markeredgewidth": 0.4, "markersize": 3.0}
        ax.plot(*passes.mark[:, :2].T, "o", zorder=2, label="tyres touch", **dot)
        ax.legend(loc="lower right", bbox_to_anchor=(1.0, 1.0), frameon=False, borderpad=0.0)
    look = {"boxstyle": "round,pad=0.25", "facecolor": style.PAPER, "edgecolor": style.INK, "linewidth": 0.6}
    for (x, y), words in _labels(places if places is not None else ()):
        ax.text(x, y, words, ha="center", va="center", fontsize=7, bbox=look, zorder=4)
    ax.set(xlabel="x, m", ylabel="y, m", aspect="equal")
    return ax


def _labels(places: Any) -> list[tuple[Any, str]]:
    """Numbers the places in order; those that lie near the first of a label share it, three a line."""
    labels: list[tuple[Any, list[int]]] = []
    for number, place in enumerate(places, start=1):
        for first, numbers in labels:
            if np.hypot(*(np.asarray(first) - place)) < NEAR:
                numbers.append(number)
                break
        else:
            labels.append((place, [number]))
    return [(place, _lines(numbers)) for place, numbers in labels]


def _lines(numbers: list[int]) -> str:
    rows = (numbers[i : i + 3] for i in range(0, len(numbers), 3))
    return "\n".join(" ".join(str(number) for number in row) for row in rows)

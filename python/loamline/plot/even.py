"""The even landing from the side: its earth and some of the flights that land on it."""

from __future__ import annotations

from typing import Any

import numpy as np

from . import style
from .units import told


@style.styled(figsize=(5.4, 3.0))
def even(even: Any, flights: int = 8, ax: Any = None) -> Any:
    """Draws the earth of an even landing and flights that land on it; returns the axes.

    Args:
        even: the even landing.
        flights: how many flights to draw, spread from its near end to its far end.
        ax: axes to draw on, or None.

    Flights are the paths of the rider's centre of mass; the dashed line is where it lands.
    """
    profile = even.profile()
    near, far = even.reach
    x = np.linspace(near, far, 200)
    earth = even.height(x)
    ax.fill_between(x, earth.min() - 0.6, earth, color=style.EARTH, alpha=0.85, lw=0)
    ax.plot(x, earth, "-", color=style.INK, lw=1.2)
    for path in even.paths(flights):
        ax.plot(path[:, 0], path[:, 1], "-", color=style.BLUE, lw=0.8, alpha=0.75)
    com = profile["com_distance"], profile["com_height"]
    ax.plot(*com, "--", color=style.BLUE, lw=1.0)
    # Between that line and the earth there is room: a leg's height.
    middle = len(com[0]) // 2
    words = {"textcoords": "offset points", "ha": "center", "va": "top", "fontsize": 8}
    ax.annotate("centre of mass as it lands", (com[0][middle], com[1][middle]), (0, -8), **words)
    ax.set(xlabel="along the landing from the launch, m", ylabel="height, m", aspect="equal")
    ax.set_ylim(bottom=earth.min() - 0.6)
    ax.set_title(f"every flight lands with a fall height of {told(even.fall_height, 'm')}")
    return ax

"""The map of the next barrow: where earth helps, and where it makes it worse."""

from __future__ import annotations

from typing import Any

import numpy as np

from . import style


@style.styled(figsize=(4.4, 3.6))
def barrows(map: Any, places: Any = None, ax: Any = None) -> Any:
    """Draws how much a barrow of earth helps by where it is put; returns the axes.

    Args:
        map: the map of the next barrow.
        places: (n, 2), m, of barrows to number in their order, or None.
        ax: axes to draw on, or None.
    """
    gain = 100.0 * map.gain / map.severity
    most = np.abs(gain).max() or 1.0
    look = {"cmap": "PuOr", "vmin": -most, "vmax": most, "shading": "nearest"}
    mesh = ax.pcolormesh(map.x, map.y, gain, **look)
    bar = ax.figure.colorbar(mesh, ax=ax)
    bar.set_label("a barrow lowers the severity by, %")
    for number, (x, y) in enumerate(() if places is None else places, start=1):
        ax.annotate(str(number), (x, y), ha="center", va="center", fontsize=8, color=style.INK)
    ax.set(xlabel="x, m", ylabel="y, m", aspect="equal")
    return ax

"""The free landing from above: how deep the earth lies, and where tyres come down on it."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.colors import LinearSegmentedColormap

from . import style

# Depths are drawn from a centimetre on: less is no earth.
LEAST, STEP = 0.01, 0.05


@style.styled(figsize=(5.4, 3.6))
def earth(landing: Any, passes: Any = None, ax: Any = None) -> Any:
    """Draws how deep the earth of a free landing lies, with a line every 5 cm; returns the axes.

    Args:
        landing: the free landing.
        passes: whose marks are drawn as dots, or None.
        ax: axes to draw on, or None.
    """
    colours = LinearSegmentedColormap.from_list("loamline_earth", [style.PAPER, style.EARTH, style.GROUND])
    most = max(float(landing.earth.max()), STEP)
    levels = [LEAST, *np.arange(STEP, most + STEP, STEP)]
    mesh = ax.contourf(landing.x, landing.y, landing.earth, levels, cmap=colours, zorder=1)
    lines = ax.contour(
        landing.x, landing.y, landing.earth, levels[1:-1], colors=style.INK, linewidths=0.6, zorder=3
    )
    ax.clabel(lines, fmt=lambda level: f"{100 * level:.0f} cm", fontsize=7)
    if passes is not None:
        ax.plot(*passes.mark[:, :2].T, ".", color=style.BLUE, markersize=2, zorder=2, label="tyres touch")
        ax.legend(loc="lower right", bbox_to_anchor=(1.0, 1.0), frameon=False, borderpad=0.0)
    bar = ax.figure.colorbar(mesh, ax=ax, shrink=0.8)
    bar.set_label("earth on the present ground, m")
    ax.set(xlabel="x, m", ylabel="y, m", aspect="equal")
    return ax

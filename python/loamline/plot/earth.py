"""The free landing from above: how deep the earth lies, and where tyres come down on it."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.colors import LinearSegmentedColormap, to_rgb

from . import style
from .units import length

# Depths are drawn from a centimetre on: less is no earth.
LEAST = 0.01
# In what depths are told, its size in metres, and how many of it lie between two lines.
_METRIC, _INCHES = ("cm", 0.01, 5), ("in", 0.0254, 2)


@style.styled(figsize=(5.4, 3.6))
def earth(landing: Any, passes: Any = None, ax: Any = None) -> Any:
    """Draws how deep the earth of a free landing lies, with a line every 5 cm or 2 inches; returns the axes.

    Args:
        landing: the free landing.
        passes: whose marks are drawn as dots, or None.
        ax: axes to draw on, or None.
    """
    # More earth stands out more from its paper: darker by day, lighter by night.
    tones = sorted((style.EARTH, style.GROUND), key=_lightness, reverse=_lightness(style.PAPER) > 0.5)
    colours = LinearSegmentedColormap.from_list("loamline_earth", [style.PAPER, *tones])
    name, size, count = _METRIC if length().size == 1.0 else _INCHES
    step = size * count
    most = max(float(landing.earth.max()), step)
    levels = [LEAST, *np.arange(step, most + step, step)]
    mesh = ax.contourf(landing.x, landing.y, landing.earth, levels, cmap=colours, zorder=1)
    thin = {"colors": style.INK, "linewidths": 0.6, "zorder": 3}
    lines = ax.contour(landing.x, landing.y, landing.earth, levels[1:-1], **thin)
    # Every other one: names of lines close by would hide each other.
    ax.clabel(lines, levels[2:-1:2], fmt=lambda level: f"{level / size:.0f} {name}", fontsize=7)
    if passes is not None:
        dot = {"color": style.INK, "markeredgecolor": style.PAPER, "markeredgewidth": 0.4, "markersize": 3.0}
        ax.plot(*passes.mark[:, :2].T, "o", zorder=2, label="tyres touch", **dot)
        ax.legend(loc="lower right", bbox_to_anchor=(1.0, 1.0), frameon=False, borderpad=0.0)
    ticks = levels[1 :: max(1, len(levels) // 8)]
    bar = ax.figure.colorbar(mesh, ax=ax, shrink=0.8, ticks=ticks, format=lambda level, _: f"{level / size:.0f}")
    bar.set_label(f"earth on the present ground, {name}")
    ax.set(xlabel="x, m", ylabel="y, m", aspect="equal")
    return ax


def _lightness(colour: str) -> float:
    red, green, blue = to_rgb(colour)
    return float(0.2126 * red**2.2 + 0.7152 * green**2.2 + 0.0722 * blue**2.2)

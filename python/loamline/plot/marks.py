"""Where everyone's marks lie: the regions that hold half and nine tenths of them."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..regions import Regions
from . import style
from .flags import close_up
from .plan import draw_contours, draw_landing, draw_named, draw_takeoff

_SHARES = (0.9, 0.5)


@style.styled(figsize=(5.4, 4.6))
def marks(site: Any, passes: Any, landing: Any = None, ax: Any = None) -> Any:
    """Draws everyone's marks from above with the regions that hold 50 and 90 % of them; returns the axes.

    Args:
        site: the site; gives contours, takeoff, named marks, keep-outs and obstacles.
        passes: passes whose marks are drawn.
        landing: the landing whose face is outlined, or None.
        ax: axes to draw on, or None.
    """
    down = np.isfinite(passes.mark[:, 0]) & (passes.weight > 0.0)
    places, weight = passes.mark[down, :2], passes.weight[down]
    box = close_up(site, landing, [passes.mark[:, :2]])
    draw_contours(ax, site.ground, box)
    draw_takeoff(ax, site.takeoff)
    ax.plot(*places.T, ".", color=style.INK, ms=1.5, alpha=0.5, zorder=3, rasterized=True, label="marks")
    if len(places) > 2:
        _regions(ax, places, weight)
    if landing is not None:
        draw_landing(ax, landing)
    draw_named(ax, site, box)
    ax.set(xlabel="x, m", ylabel="y, m", aspect="equal", xlim=box[:2], ylim=box[2:])
    ax.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=3, borderpad=0.0, markerscale=3)
    return ax


def _regions(ax: Any, places: Any, weight: Any) -> None:
    regions = Regions.of(places, weight)
    over = regions.x, regions.y, regions.density
    levels = [regions.level(share) for share in _SHARES]
    ax.contourf(*over, [*levels, np.inf], colors=[style.BLUE, style.BLUE], alpha=0.22, zorder=2)
    for share, at, dash in zip(_SHARES, levels, ("--", "-")):
        ax.contour(*over, [at], colors=[style.BLUE], linestyles=dash, linewidths=1.2, zorder=4)
        ax.plot([], [], dash, color=style.BLUE, lw=1.2, label=f"{100 * share:.0f} % of marks")

"""Fall height over speed and place on the edge, reckoned on a grid: how far off a ride may be."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.collections import PatchCollection
from matplotlib.patches import Patch, Rectangle

from .. import takeoffs
from . import style
from .units import told

# How many speeds and places on the edge: each is three rides.
_GRID = (25, 17)


@style.styled(figsize=(5.4, 3.6))
def falls(
    site: Any,
    landing: Any = None,
    who: str | None = None,
    grid: tuple[int, int] = _GRID,
    fall_limit: float | None = None,
    ax: Any = None,
) -> Any:
    """Draws the fall height of the hardest lean over speed and place on the edge; returns the axes.

    The middle rider of a class, without pop; the line is the limit, hatched is who does not leave the edge,
    stippled who misses the landing.

    Args:
        site: the site.
        landing: a landing to be built on its ground, or None for the ground as it is.
        who: class of the rider; None takes the commonest.
        grid: how many speeds, and how many places on the edge.
        fall_limit: limit in metres for line and colours; the site's where None.
        ax: axes to draw on, or None.
    """
    # Here and not above: the sliders draw in this package's style.
    from ..sliders.bench import Bench

    limit = site.fall_limit if fall_limit is None else fall_limit
    bench = Bench(site, who, landing, riders=64, seed=1)
    ground = site.ground if landing is None else site.ground.with_landing(landing)
    speeds, places = (np.linspace(s.low, s.high, n) for s, n in zip(bench.sliders[:2], grid))
    fall, missed = _fall(bench, ground, speeds, places)
    how = {"cmap": style.FALL_HEIGHT, "norm": style.severity_norm(limit), "shading": "nearest", "rasterized": True}
    mesh = ax.pcolormesh(speeds, places, fall, **how)
    stayed = np.isnan(fall)
    handles = [ax.plot([], [], color=style.INK, label=f"limit, {told(limit, 'm')}")[0]]
    # Contours of the limit end where nobody leaves.
    if np.nanmin(fall, initial=np.inf) < limit < np.nanmax(fall, initial=-np.inf):
        ax.contour(speeds, places, np.ma.masked_invalid(fall), [limit], colors=style.INK, linewidths=1.4)
    for where, hatch, words in ((stayed, "////", "does not leave"), (missed, "..", "misses the landing")):
        if where.any():
            look: dict[str, Any] = {"facecolor": "none", "edgecolor": style.INK, "hatch": hatch}
            ax.add_collection(PatchCollection(_cells(speeds, places, where), lw=0.0, **look))
            handles.append(Patch(label=words, lw=0.5, **look))
    bar = ax.figure.colorbar(mesh, ax=ax, extend="max", shrink=0.8)
    bar.set_label("fall height, m")
    bar.outline.set_visible(False)
    kind = takeoffs.kind(site.takeoff)
    ax.set(xlabel=f"speed onto the {kind}, m/s", ylabel=f"{takeoffs.place_words(site.takeoff)}, m")
    ax.grid(visible=False)
    ax.legend(handles=handles, loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=3, borderpad=0.0, handlelength=1.2,
              columnspacing=1.0, fontsize=8)
    return ax


def _cells(speeds: Any, places: Any, where: Any) -> list[Rectangle]:
    """Returns the cells of the grid that are meant, as they are coloured: about their speed and place."""
    wide, high = speeds[1] - speeds[0], places[1] - places[0]
    corners = ((speeds[k] - 0.5 * wide, places[i] - 0.5 * high) for i, k in np.argwhere(where))
    return [Rectangle(corner, wide, high) for corner in corners]


def _fall(bench: Any, ground: Any, speeds: Any, places: Any) -> tuple[Any, Any]:
    """Returns fall heights, NaN for who does not leave, and who misses a landing: rows are places."""
    fall = np.full((len(places), len(speeds)), np.nan)
    missed = np.zeros(fall.shape, dtype=bool)
    for i, place in enumerate(places):
        for k, speed in enumerate(speeds):
            ways = bench.ways(float(speed), float(place))
            touches = bench.touches(ways, ground)
            judge = bench.hardest(ways, touches)
            if judge is not None:
                fall[i, k] = touches[judge].fall_height
                missed[i, k] = touches[judge].outcome in ("short", "long", "wide")
    return fall, missed

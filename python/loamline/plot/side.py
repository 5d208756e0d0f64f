"""The side view: ground, edge, flights and landing in the landing's own vertical plane."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
from matplotlib.axes import Axes

from ..frames import Heading, edge_offset
from . import style


@style.styled(figsize=(5.4, 3.0))
def side(
    site: Any,
    passes: Any,
    built: Any = None,
    landing: Any = None,
    fall_limit: float | None = None,
    flights: int = 40,
    ax: Any = None,
) -> Any:
    """Draws the ground, the edge, some flights and the landing from the side; returns the axes.

    Args:
        site: the site; gives the present ground, the takeoff and the limit.
        passes: passes on the ground to show (with the landing, where there is one).
        built: ground with the landing, or None for the site as it is.
        landing: the landing, for its plane; None takes the plane of the mean launch.
        fall_limit: limit in metres for the colours; the site's where None.
        flights: how many flights to draw, spread evenly over the passes.
        ax: axes to draw on, or None.

    Flights are drawn as the paths of the rider's centre of mass, projected level onto the plane.
    """
    limit = site.fall_limit if fall_limit is None else fall_limit
    frame = Heading.of_passes(passes, site.takeoff) if landing is None else Heading.of_landing(landing)
    offset = edge_offset(frame, site.takeoff)
    _flights(ax, passes, spread(passes, flights), frame, offset, limit)
    draw_edge(ax, site.takeoff, frame, offset)
    reach = _reach(passes, landing, frame, offset)
    draw_ground(ax, site.ground, built, frame, offset, reach)
    ax.set(xlabel="along the landing from the edge, m", ylabel="height, m", aspect="equal")
    ax.set_xlim(reach)
    return ax


def spread(passes: Any, count: int) -> npt.NDArray[np.intp]:
    """Returns the indices of `count` members that came down, evenly spread by distance."""
    down = np.flatnonzero(np.isfinite(passes.fall_height) & np.isfinite(passes.mark[:, 0]))
    order = down[np.argsort(passes.distance[down], kind="stable")]
    if len(order) <= count:
        return order
    even = np.linspace(0, len(order) - 1, count).round().astype(np.intp)
    return np.asarray(order[even])


def _flights(
    ax: Axes, passes: Any, chosen: npt.NDArray[np.intp], frame: Heading, offset: float, limit: float
) -> None:
    norm = style.severity_norm(limit)
    for i in chosen:
        path = passes.path(int(i), 40)
        colour = style.FALL_HEIGHT(norm(passes.fall_height[i]))
        ax.plot(frame.along(path) - offset, path[:, 2], "-", color=colour, lw=0.8, alpha=0.75)
        mark, shape = passes.mark[i], style.MARKERS.get(str(passes.outcome[i]), "o")
        ax.plot(frame.along(mark) - offset, mark[2], shape, color=colour, ms=4, zorder=5)
    style.name_shapes(ax, np.asarray(passes.outcome).astype(str)[chosen])


def draw_edge(
    ax: Axes, takeoff: Any, frame: Heading, offset: float, label: str = "edge"
) -> None:
    """Draws the takeoff's two sides lightly and the edge that is left in full."""
    mesh = takeoff.mesh(24, 6)
    along = frame.along(mesh) - offset
    for rim in (0, -1):
        ax.plot(along[:, rim], mesh[:, rim, 2], "-", color=style.TIMBER, lw=0.8, alpha=0.6)
    ax.plot(along[-1], mesh[-1, :, 2], "-", color=style.TIMBER, lw=3.0, solid_capstyle="butt")
    top = along[-1, -1], mesh[-1, -1, 2]
    # To the left of it: to the right flights begin.
    ax.annotate(label, top, (-3, 4), textcoords="offset points", ha="right", fontsize=8)


def _reach(passes: Any, landing: Any, frame: Heading, offset: float) -> tuple[float, float]:
    """Returns how far the picture goes, back and forth, in metres from the edge."""
    marks = passes.mark[np.isfinite(passes.mark[:, 0])]
    along = frame.along(marks) - offset
    ahead = [float(np.percentile(along, 99.5)) + 1.0] if len(along) else [5.0]
    if landing is not None:
        ahead.append(landing.length - offset + 2.0)
    return -2.0, max(ahead)


def draw_ground(
    ax: Axes,
    ground: Any,
    built: Any,
    frame: Heading,
    offset: float,
    reach: tuple[float, float],
    across: float = 0.0,
) -> None:
    """Draws the present ground and, where there is one, the landing's earth in section."""
    u = np.linspace(*reach, 400)
    x, y = frame.place(u + offset, across)
    now = ground.height(x, y)
    low = np.nanmin(now) - 0.6 if np.isfinite(now).any() else 0.0
    ax.fill_between(u, low, now, color=style.GROUND, alpha=0.35, lw=0)
    ax.plot(u, now, "-", color=style.GROUND, lw=1.4)
    if built is not None:
        new = built.height(x, y)
        above = new > now + 1e-6
        ax.fill_between(u, now, new, where=above, color=style.EARTH, alpha=0.85, lw=0)
        ax.plot(u, np.where(above, new, np.nan), "-", color=style.INK, lw=1.2)
    ax.set_ylim(bottom=low)

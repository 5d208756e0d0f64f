"""The two-wheel ride from the side: the ground, and the bike at several moments."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt
from matplotlib.axes import Axes
from matplotlib.patches import Circle

from . import style
from .units import worded

Array = npt.NDArray[np.float64]

_BEFORE, _AFTER = 4.0, 6.0
_LEAST_APART = 1.45  # wheelbases, of a bike drawn light
_LEAST_APART_MARKED = 0.75


@style.styled(figsize=(7.6, 3.6))
def two_wheel(ride: Any, span: tuple[float, float] | None = None, ax: Any = None) -> Any:
    """Draws the terrain, the path of the centre of mass and the bike at several moments.

    Bikes drawn dark are those at which a wheel leaves the ground or comes down on it, and the one
    at the end of the ride, as far as they do not hide each other; light ones stand between them.
    The line over each bike's wheels runs from hub to hub by the centre of mass. A wheel with its
    hub filled is on the ground.

    Args:
        ride: a two-wheel ride.
        span: level distances from and to, m; None takes the longest hop with some room, or the
            whole terrain where there was none.
        ax: axes to draw on, or None.
    """
    low, high = _span(ride) if span is None else span
    centre = ride.centre
    _terrain(ax, ride.terrain, low, high)
    shown = (centre[:, 0] >= low) & (centre[:, 0] <= high)
    ax.plot(*centre[shown].T, "-", color=style.BLUE, lw=1.0, zorder=3, label="centre of mass")
    marked = [i for i in _events(ride) if low <= centre[i, 0] <= high]
    for i in _between(ride, marked, low, high):
        _bike(ax, ride, i, style.STONE, 0.8)
    for i in marked:
        _bike(ax, ride, i, style.INK, 1.2)
    _marks(ax, ride, low, high)
    ax.set(xlabel="level distance, m", ylabel="height, m", aspect="equal", xlim=(low, high))
    top = float(centre[shown, 1].max()) if shown.any() else ax.get_ylim()[1]
    ax.set_ylim(top=top + 0.4)
    ax.set_title(worded(ride.reason), fontsize=8, loc="left")
    return ax


def _span(ride: Any) -> tuple[float, float]:
    """Returns the level distances that are drawn."""
    first, last = ride.terrain.span
    if ride.left is None:
        return first, last
    marks = [m for side in (ride.left, ride.touchdown) for m in side.values() if m is not None]
    if not marks:
        return first, last
    places = [mark["distance"] for mark in marks]
    end = max(max(places) + _AFTER, float(ride.centre[-1, 0]) if ride.outcome != "rode_out" else 0.0)
    return max(first, min(places) - _BEFORE), min(last, end)


def _terrain(ax: Axes, terrain: Any, low: float, high: float) -> None:
    line = terrain.outline(0.02)
    shown = ~((line[:, 0] < low - 0.5) | (line[:, 0] > high + 0.5))
    line = line[shown]
    gaps = np.flatnonzero(np.isnan(line[:, 0]))
    # The faces beside a gap go down to no bottom: the picture ends a little under the ground.
    rows = [part for part in np.split(line, gaps) if len(part) > 1]
    tops = np.concatenate([_tops(part) for part in rows])
    bottom = float(np.nanmin(tops[:, 1])) - 0.6
    for part in rows:
        part = part[~np.isnan(part[:, 0])]
        x, z = part[:, 0], np.maximum(part[:, 1], bottom)
        ax.fill_between(x, bottom, z, color=style.GROUND, alpha=0.35, lw=0)
        ax.plot(x, z, "-", color=style.GROUND, lw=1.4, zorder=2)
    ax.set_ylim(bottom=bottom)


def _tops(part: Array) -> Array:
    """Returns the points of a stretch without its vertical faces' far ends."""
    part = part[~np.isnan(part[:, 0])]
    steep = np.abs(np.gradient(part[:, 1])) > 1.5
    return part if steep.all() else part[~steep]


def _events(ride: Any) -> list[int]:
    """Returns the moments at which a wheel of the longest hop leaves or comes down, and the end."""
    times = [
        mark["time"]
        for side in (ride.left or {}, ride.touchdown or {})
        for mark in side.values()
        if mark is not None
    ]
    x, apart = ride.centre[:, 0], _LEAST_APART_MARKED * ride.rider.wheelbase
    chosen = [len(ride.time) - 1]
    for time in sorted(times):
        i = int(np.argmin(np.abs(ride.time - time)))
        if all(abs(x[i] - x[other]) >= apart for other in chosen):
            chosen.append(i)
    return sorted(chosen)


def _between(ride: Any, marked: list[int], low: float, high: float) -> list[int]:
    """Returns moments between the marked ones, so far apart that bikes do not hide each other."""
    x, apart = ride.centre[:, 0], _LEAST_APART * ride.rider.wheelbase
    taken = [float(x[i]) for i in marked]
    chosen = []
    for place in np.arange(low + apart, high - 0.3 * apart, 0.5 * apart):
        if all(abs(place - other) >= apart for other in taken):
            chosen.append(int(np.argmin(np.abs(x - place))))
            taken.append(float(place))
    return [i for i in chosen if low <= x[i] <= high]


def _bike(ax: Axes, ride: Any, i: int, colour: str, width: float) -> None:
    rear, front, centre = ride.rear_hub[i], ride.front_hub[i], ride.centre[i]
    for hub, touches in ((rear, ride.rear_touching[i]), (front, ride.front_touching[i])):
        fill = colour if touches else "none"
        wheel = {"edgecolor": colour, "lw": width, "zorder": 4}
        ax.add_patch(Circle(hub, ride.rider.wheel_radius, facecolor="none", **wheel))
        ax.add_patch(Circle(hub, 0.05, facecolor=fill, **wheel))
    ax.plot(*np.array([rear, centre, front, rear]).T, "-", color=colour, lw=width, zorder=4)
    ax.plot(*centre, "o", color=colour, ms=2.5 + width, zorder=5)


def _marks(ax: Axes, ride: Any, low: float, high: float) -> None:
    """Marks where the wheels left and came down, and names the marks over the picture."""
    for side, word, shape in ((ride.left, "off", "^"), (ride.touchdown, "down", "v")):
        for wheel, mark in (side or {}).items():
            if mark is None or not low <= mark["distance"] <= high:
                continue
            colour = style.RED if wheel == "front" else style.BLUE
            look: dict[str, Any] = {"color": colour, "ms": 5, "zorder": 6, "label": f"{wheel} {word}"}
            # Just under the ground, so that it shows beside the wheel; at an edge both leave at one place.
            under = 0.1 if wheel == "rear" else 0.28
            ax.plot(mark["distance"], mark["height"] - under, shape, **look)
    ax.legend(loc="lower right", bbox_to_anchor=(1.0, 1.0), ncols=5, fontsize=7, frameon=False, borderpad=0.0)

"""The wall unrolled with a ride on it: the line, what it asks of the grip, and how hard it presses."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib import colormaps
from matplotlib.collections import LineCollection
from matplotlib.colors import ListedColormap, Normalize

from . import style

# Cut off like the fall heights' colours; another map, so that the two are not mistaken for each other.
DEMAND = ListedColormap(colormaps["viridis"](np.linspace(0.1, 0.9, 256)), name="loamline_grip").with_extremes(
    bad=style.RED
)
# A hair stands for the load: this long for 1 g, one every so often, m.
HAIR, EVERY = 0.12, 0.25
_PANEL = 800


@style.styled(figsize=(5.4, 2.9))
def wall_ride(wall: Any, line: Any, ride: Any, grip: float | None = None, ax: Any = None) -> Any:
    """Draws the panel laid flat with a ride on it; returns the axes.

    The line is coloured by grip demand; hairs up the panel are as long as the normal load, 0.12 m for 1 g.

    Args:
        wall: the wall.
        line: the line on it that was ridden.
        ride: the ride along it, with `station` (m), `grip_demand` and `normal_load` (g's).
        grip: the grip there is, where the scale ends and what asks for more is drawn red; None takes the
            ride's highest demand.
        ax: axes to draw on, or None.
    """
    ax.axhspan(0.0, wall.width, color=style.TIMBER, alpha=0.18, lw=0)
    ax.plot([wall.length] * 2, [0.0, wall.width], "-", color=style.TIMBER, lw=3.0)
    place = on_panel(line, ride.station)
    most = max(grip if grip is not None else ride.peak_grip_demand, 1e-9)
    demand = 0.5 * (ride.grip_demand[1:] + ride.grip_demand[:-1])
    drawn = LineCollection(list(np.stack([place[:-1], place[1:]], axis=1)), cmap=DEMAND, norm=Normalize(0.0, most))
    drawn.set_array(np.where(demand > most, np.nan, demand))
    drawn.set(linewidth=4.0, capstyle="round", zorder=3)
    ax.add_collection(drawn)
    _hairs(ax, place, ride)
    bar = ax.figure.colorbar(drawn, ax=ax, shrink=0.8)
    bar.set_label("grip demand (no unit)")
    bar.outline.set_visible(False)
    ax.set(xlabel="along the foot, m", ylabel="up the panel, m", aspect="equal")
    top = max(wall.width * 1.05, float((place[:, 1] + HAIR * ride.normal_load).max()) + 0.05)
    ax.set(xlim=(0.0, wall.length + 0.2), ylim=(min(0.0, float(place[:, 1].min())), top))
    return ax


def on_panel(line: Any, station: Any) -> Any:
    """Returns where stations of a line on a wall lie: along its foot and up the panel, m, (n, 2)."""
    panel = line.on_panel(_PANEL)
    even = np.linspace(0.0, line.length, _PANEL)
    return np.column_stack([np.interp(station, even, panel[:, k]) for k in (0, 1)])


def _hairs(ax: Any, place: Any, ride: Any) -> None:
    at = np.arange(0.0, ride.station[-1] + 1e-9, EVERY)
    foot = np.column_stack([np.interp(at, ride.station, place[:, k]) for k in (0, 1)])
    load = np.interp(at, ride.station, ride.normal_load)
    tip = foot + np.column_stack([np.zeros_like(load), HAIR * load])
    look: dict[str, Any] = {"colors": style.INK, "linewidths": 0.8, "zorder": 2, "alpha": 0.8}
    ax.add_collection(LineCollection(list(np.stack([foot, tip], axis=1)), **look))
    hardest = int(np.argmax(load))
    words = f"normal load {load[hardest]:.1f} g"
    ax.annotate(words, tip[hardest], (0, 9), textcoords="offset points", ha="center", fontsize=8)

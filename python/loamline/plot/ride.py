"""The ride along the line: how hard it presses and what it asks of the grip."""

from __future__ import annotations

from typing import Any

from . import style


@style.styled(figsize=(5.4, 3.0))
def ride(ride: Any, grip: float | None = None, ax: Any = None) -> Any:
    """Draws normal load and grip demand along the tyres' line; returns the axes.

    Args:
        ride: a ride with `station` (m), `normal_load` (g's) and `grip_demand`.
        grip: the grip there is, drawn as a line, or None.
        ax: axes to draw on, or None.
    """
    ax.plot(ride.station, ride.normal_load, "-", color=style.BLUE, label="normal load, g")
    ax.plot(ride.station, ride.grip_demand, "--", color=style.RED, label="grip demand")
    if grip is not None:
        ax.axhline(grip, color=style.RED, lw=0.8, ls=":", label="grip there is")
    ax.set(xlabel="along the tyres' line, m", ylabel="g; grip demand (no unit)")
    ax.set_ylim(0.0, 1.25 * max(1.0, ax.get_ylim()[1]))
    ax.legend(loc="upper left", ncols=3)
    return ax

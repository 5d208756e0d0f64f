"""Force against time in a landing, stage by stage."""

from __future__ import annotations

from typing import Any

from matplotlib.patheffects import withStroke

from . import style

# From the ground up: how each stage is drawn and called.
STAGES = {
    "ground": ("ground on tyres or feet", style.EARTH, ":"),
    "suspension": ("suspension", style.BLUE, "--"),
    "legs": ("legs and arms, on the body", style.RED, "-"),
}
STANDING = 1.0
SHOWN = 0.6
ROOM = 1.35


@style.styled(figsize=(5.4, 3.2))
def loads(loads: Any, ax: Any = None) -> Any:
    """Draws the force of each stage against time, in weights of the body; returns the axes.

    The highest force on the body is marked, and the weight at rest drawn. The first 0.6 s are shown.

    Args:
        loads: what `rider.loads(...)` gives.
        ax: axes to draw on, or None.
    """
    weight = loads.peak_force / loads.peak_bodyweights if loads.peak_bodyweights else 1.0
    shown = loads.time <= min(SHOWN, loads.duration)
    for stage, force in loads.forces.items():
        label, colour, dash = STAGES[stage]
        ax.plot(loads.time[shown], force[shown] / weight, dash, color=colour, label=label)
    ax.axhline(STANDING, color=style.STONE, lw=0.8)
    ax.annotate("standing", (loads.time[shown][-1], STANDING), (0, 2), textcoords="offset points",
                ha="right", va="bottom", color=style.STONE, fontsize=8)
    ax.plot(loads.peak_time, loads.peak_bodyweights, "o", color=style.RED)
    ax.annotate(f"{loads.peak_bodyweights:.1f}", (loads.peak_time, loads.peak_bodyweights), (5, 4),
                textcoords="offset points", va="bottom", color=style.RED,
                path_effects=[withStroke(linewidth=2.5, foreground=style.PAPER)])
    ax.set(xlabel="time since the touch, s", ylabel="force, body weights")
    ax.set_xlim(0.0, loads.time[shown][-1])
    ax.set_ylim(0.0, ROOM * max(peak for peak in loads.peaks.values()) / weight)
    ax.legend(loc="upper right")
    return ax

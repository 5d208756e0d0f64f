"""The section: the landing cut along its middle, with the heights and slopes to build to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.axes import Axes

from ..answer import crest_stake, slope_words
from ..frames import Heading, edge_offset
from ..takeoffs import edge
from . import dimension
from .paper import GREY, INK, PALE

if TYPE_CHECKING:
    from ..frames import Array
    from ..planning import Plan
    from ..stakes import Stake


def section(ax: Axes, plan: Plan, span: tuple[float, float]) -> None:
    """Draws the section onto axes whose x is metres along from the edge's middle.

    Args:
        ax: axes of the right scale, their limits set.
        plan: the plan.
        span: from where to where the ground is drawn, in metres along.
    """
    frame = Heading.of_landing(plan.landing)
    offset = edge_offset(frame, plan.site.takeoff)
    along = np.linspace(*span, 600)
    places = frame.place(along + offset)
    now, new = plan.site.ground.height(*places), plan.ground.height(*places)
    _earth(ax, along, now, new)
    _edge(ax, plan.site.takeoff, frame, offset)
    _measures(ax, plan, -offset, along, new)


def _earth(ax: Axes, along: Any, now: Array, new: Array) -> None:
    # A wash below the ground line that stops short of the dimensions.
    ax.fill_between(along, now - 0.12, now, facecolor="none", edgecolor=GREY, hatch="/////", lw=0)
    ax.plot(along, now, "-", color=INK, lw=1.0)
    above = new > now + 1e-6
    ax.fill_between(along, now, new, where=above, color=PALE, lw=0)
    ax.plot(along, np.where(above, new, np.nan), "-", color=INK, lw=2.0)


def _edge(ax: Axes, takeoff: Any, frame: Heading, offset: float) -> None:
    points = edge(takeoff)
    along = frame.along(points) - offset
    ax.plot(along, points[:, 2], "-", color=INK, lw=3.2, solid_capstyle="butt")
    if np.hypot(np.ptp(along), np.ptp(points[:, 2])) < 0.05:
        # The edge of a lip or a drop is seen end on.
        ax.plot(along[-1], points[-1, 2], "o", color=INK, ms=4)
    ax.annotate(
        "edge", (along[-1], points[-1, 2]), (-5, -2), textcoords="offset points", ha="right", fontsize=8
    )


def _measures(ax: Axes, plan: Plan, crest: float, along: Any, new: Array) -> None:
    landing, middle = plan.landing, crest_stake(plan)
    foot = crest + landing.length
    foot_stake = next(s for s in plan.stakes.stakes if s.name == "C2")
    below = min(np.nanmin(new), foot_stake.ground) - 0.55
    dimension.level(ax, (0.0, middle.ground), (crest, middle.ground), below, f"{crest:.2f} m")
    dimension.level(
        ax, (crest, middle.ground), (foot, foot_stake.finished), below, f"{landing.length:.2f} m"
    )
    _height(ax, crest, middle)
    dimension.along(
        ax, (crest, middle.finished), (foot, foot_stake.finished), slope_words(landing.slope_deg)
    )


def _height(ax: Axes, crest: float, middle: Stake) -> None:
    """Draws the crest's height over the ground inside the earth, where it is looked for."""
    dimension.arrow(ax, (crest, middle.ground), (crest, middle.finished))
    ax.annotate(
        f"crest {middle.fill:.2f} m\nover ground",
        (crest, middle.finished),
        (-3, 13),
        textcoords="offset points",
        ha="left",
        va="bottom",
        fontsize=8.5,
        linespacing=1.0,
        zorder=7,
    )

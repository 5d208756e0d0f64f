"""The two plans: the landing with its stakes, and where it lies between the marks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patheffects import withStroke

from ..frames import Heading, deck_outline, edge_offset
from ..outline import toe
from ..plot.plan import draw_contours, draw_named, extent
from ..takeoffs import edge, kind
from . import dimension
from .paper import GREY, INK, PALE

if TYPE_CHECKING:
    from ..frames import Array, Point
    from ..planning import Plan


def landing_plan(ax: Axes, plan: Plan) -> None:
    """Draws the landing from above with its stakes; x is metres along from the edge's middle."""
    frame = Heading.of_landing(plan.landing)
    offset = edge_offset(frame, plan.site.takeoff)

    def turned(points: Any) -> tuple[Array, Array]:
        return frame.along(points) - offset, frame.across(points)

    outline = toe(plan.site.ground, plan.ground)
    if outline is not None:
        x, y = turned(outline)
        ax.fill(x, y, facecolor=PALE, edgecolor=GREY, lw=0.7, ls="--")
    x, y = turned(deck_outline(plan.landing))
    ax.plot(x, y, "-", color=INK, lw=1.6)
    ax.plot(x[[0, 3]], y[[0, 3]], "-", color=INK, lw=3.4, solid_capstyle="butt")
    x, y = turned(edge(plan.site.takeoff))
    ax.plot(x, y, "-", color=INK, lw=3.4, solid_capstyle="butt")
    low = int(np.argmin(y))
    _note(ax, "edge", (x[low], y[low]), (0, -4), ha="center", va="top")
    _stakes(ax, plan, offset)
    _sizes(ax, plan, offset)


def _stakes(ax: Axes, plan: Plan, offset: float) -> None:
    for stake in plan.stakes.stakes:
        x, y = stake.along - offset, stake.across
        ax.plot(x, y, "o", ms=4.2, mfc="white", mec=INK, mew=1.0, zorder=8)
        # Pegs on the left are named above, those on the right below, so that no two names meet.
        up = stake.across >= 0.0
        place = (4, 4) if up else (4, -4)
        ax.annotate(
            stake.name,
            (x, y),
            place,
            textcoords="offset points",
            va="bottom" if up else "top",
            fontsize=8,
            weight="bold",
            zorder=9,
        )


def _sizes(ax: Axes, plan: Plan, offset: float) -> None:
    landing = plan.landing
    half, foot = landing.width / 2.0, landing.length - offset
    at, words = foot + 0.05 * np.ptp(ax.get_xlim()), f"{landing.width:.2f} m wide"
    dimension.upright(ax, (foot, -half), (foot, half), at, words, side="right")
    ax.annotate(
        "",
        (0.5 * (foot - offset) + 0.42 * landing.length, 0.0),
        (0.5 * (foot - offset) + 0.12 * landing.length, 0.0),
        arrowprops={"arrowstyle": "-|>", "lw": 1.2, "color": INK},
    )


def location_plan(ax: Axes, plan: Plan) -> None:
    """Draws takeoff, landing, the two marks to tape from and the tapes to the crest's ends."""
    site = plan.site
    box = (*ax.get_xlim(), *ax.get_ylim())
    draw_contours(ax, site.ground, box)
    for lines in ax.collections:
        lines.set(edgecolor="#999999", alpha=0.8)
    for words in ax.texts:
        words.set_color(GREY)
    mesh = site.takeoff.mesh(32, 2)
    ring = np.vstack([mesh[:, 0, :2], mesh[::-1, -1, :2]])
    ax.fill(ring[:, 0], ring[:, 1], facecolor=PALE, edgecolor=GREY, lw=0.6, ls="-")
    ax.plot(*mesh[-1, :, :2].T, "-", color=INK, lw=3.2, solid_capstyle="butt")
    middle = mesh[16].mean(axis=0)
    _note(ax, kind(site.takeoff), (middle[0], middle[1]), (0, 0), ha="center", va="center")
    _tapes(ax, plan)
    outline = deck_outline(plan.landing)
    ax.fill(*outline.T, facecolor="white", edgecolor=INK, lw=1.5, ls="-", zorder=4)
    ax.plot(*outline[[0, 3]].T, "-", color=INK, lw=3.2, solid_capstyle="butt", zorder=5)
    draw_named(ax, site, box)
    for stand_in, place in zip(plan.stakes.marks, plan.stakes.places, strict=True):
        if stand_in not in site.marks:
            ax.plot(*place[:2], "+", color=INK, ms=8, mew=1.4)
            ax.annotate(stand_in, place[:2], (5, 5), textcoords="offset points", fontsize=8)
    for words in ax.texts:
        # Lines under a word give way to it.
        words.set(path_effects=[withStroke(linewidth=2.0, foreground="white")], zorder=9)


def _tapes(ax: Axes, plan: Plan) -> None:
    ends = [s for s in plan.stakes.stakes if s.name in ("A1", "A3")]
    for place in plan.stakes.places:
        for stake in ends:
            x, y = zip(place[:2], stake.position, strict=True)
            ax.plot(x, y, ":", color=INK, lw=0.8, zorder=3)
    angle = np.radians(plan.landing.heading_deg)
    for stake in ends:
        # Names stand off the crest's ends, along the crest line.
        out = 9.0 * np.sign(stake.across) * np.array([-np.sin(angle), np.cos(angle)])
        ax.annotate(
            stake.name,
            stake.position,
            tuple(out),
            textcoords="offset points",
            ha="center",
            va="center",
            fontsize=8,
            weight="bold",
            zorder=9,
        )
    a, b = plan.stakes.places
    ax.plot([a[0], b[0]], [a[1], b[1]], "-.", color=GREY, lw=0.6, zorder=2)
    first, last = sorted((a[:2], b[:2]))
    # Over the tape's first half: its middle often lies on the takeoff and its name.
    half = 0.5 * (first[0] + last[0]), 0.5 * (first[1] + last[1])
    dimension.along(ax, first, half, f"{plan.stakes.base:.2f} m", off=(0, 2), size=8)


def reach(plan: Plan) -> tuple[Array, Array]:
    """Returns the low and high corners of all that the location plan must show, in metres."""
    left, right, bottom, top = extent(plan.site, None, plan.landing)
    marks = np.array(plan.stakes.places)[:, :2]
    together = np.vstack([marks - 0.8, marks + 0.8, [[left, bottom], [right, top]]])
    return together.min(axis=0), together.max(axis=0)


def _note(ax: Axes, words: str, place: Point, shift: Point, **font: Any) -> None:
    """Writes a short name a few points off a place."""
    ax.annotate(words, place, shift, textcoords="offset points", fontsize=8, zorder=9, **font)

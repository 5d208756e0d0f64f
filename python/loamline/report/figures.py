"""The report's figures, drawn for the page's column."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from .. import plot
from ..outline import toe
from .svg import inline

if TYPE_CHECKING:
    from ..planning import Plan


def figures(plan: Plan) -> dict[str, str]:
    """Returns the report's figures as SVG by name."""
    drawn: dict[str, tuple[Callable[[], Figure], str]] = {
        "side": (lambda: _side(plan), "Side view of flights and landing"),
        "plan": (lambda: _plan(plan), "Plan of the site with touchdown marks"),
        "before": (lambda: _severity(plan, plan.before), "Fall height without the landing"),
        "after": (lambda: _severity(plan, plan.after), "Fall height with the landing"),
        "curve": (lambda: _curve(plan), "Soft share against earth"),
    }
    return {name: inline(draw, name, title) for name, (draw, title) in drawn.items()}


def _figure(width: float, height: float) -> tuple[Figure, Axes]:
    figure = Figure(figsize=(width, height), layout="constrained")
    return figure, figure.subplots()


def _side(plan: Plan) -> Figure:
    figure, ax = _figure(5.4, 3.9)
    shown = {"landing": plan.landing, "fall_limit": plan.fall_limit}
    plot.side(plan.site, plan.after, built=plan.ground, ax=ax, **shown)
    _bar(ax, plan)
    _legend(figure, ax)
    return figure


def _plan(plan: Plan) -> Figure:
    figure, ax = _figure(5.4, 5.0)
    shown = {"landing": plan.landing, "fall_limit": plan.fall_limit}
    outline = toe(plan.site.ground, plan.ground)
    plot.plan(plan.site, passes=plan.after, toe=outline, ax=ax, **shown)
    _bar(ax, plan)
    _legend(figure, ax)
    return figure


def _severity(plan: Plan, passes: Any) -> Figure:
    figure, ax = _figure(5.4, 4.0)
    plot.severity(passes, plan.fall_limit, ax=ax, takeoff=plan.site.takeoff)
    speeds, heights = plan.before.entry_speed, plan.before.leave
    ax.set_xlim(np.nanmin(speeds) - 0.2, np.nanmax(speeds) + 0.2)
    ax.set_ylim(np.nanmin(heights) - 0.1, np.nanmax(heights) + 0.1)
    _bar(ax, plan)
    _legend(figure, ax)
    return figure


def _curve(plan: Plan) -> Figure:
    figure, ax = _figure(5.4, 3.6)
    plot.curve(plan.curve, chosen=plan.fit, barrow_volume=plan.site.barrow_in_place, ax=ax)
    return figure


def _bar(ax: Axes, plan: Plan) -> None:
    plot.severity_bar(
        ax, plan.fall_limit, orientation="horizontal", location="bottom", aspect=40, shrink=0.7
    )


def _legend(figure: Figure, ax: Axes) -> None:
    """Puts the names of shapes over the whole figure: there the layout keeps room for them."""
    legend = ax.get_legend()
    if legend is not None:
        handles = [handle for handle in legend.legend_handles if handle is not None]
        words = [text.get_text() for text in legend.get_texts()]
        legend.remove()
        look: dict[str, Any] = {"loc": "outside upper left", "ncols": len(words), "handletextpad": 0.1, "fontsize": 9}
        figure.legend(handles, words, **look)

"""The first page: what to build, its section and plan one under the other, and where it lies."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

from matplotlib.figure import Figure

from ..answer import answer, barrows, build_height, crest_stake, edge_to_crest, slope_words
from ..cautions import SHORT
from ..frames import Heading, edge_offset
from ..takeoffs import edge
from . import paper
from .ground_plan import landing_plan, location_plan, reach
from .section import section

if TYPE_CHECKING:
    from ..planning import Plan

_SECTION, _PLAN, _PLACE = 2.6, 2.65, 3.2


def drawings(plan: Plan) -> Figure:
    """Returns the page with the drawings."""
    page = paper.blank(plan, 1)
    down = _first(page, plan)
    down = _facts(page, plan, down)
    span, scale = _frame(plan)
    middle = 0.5 * (span[0] + span[1])
    note = f"1 : {scale} on A4, distances level{_rounding(plan.landing)}"
    paper.heading(page, down + 0.28, "Section along the middle", note)
    ax = paper.window(page, down + 0.34, paper.INNER, _SECTION)
    paper.to_scale(ax, scale, middle, _height(plan))
    section(ax, plan, span)
    down += 0.34 + _SECTION
    paper.heading(page, down + 0.2, "Landing from above", "same scale; dashed: where earth ends")
    ax = paper.window(page, down + 0.26, paper.INNER, _PLAN)
    paper.to_scale(ax, scale, middle, 0.0)
    landing_plan(ax, plan)
    _place(page, plan, down + 0.26 + _PLAN)
    return page


def _rounding(landing: Any) -> str:
    """Returns what is to be said of the crest's and the foot's rounding."""
    said = (("crest", landing.crest_radius), ("foot", landing.foot_radius))
    return "".join(f"; {what} rounded, radius {r:.1f} m" for what, r in said if r > 0.0)


def _first(page: Figure, plan: Plan) -> float:
    """Writes what matters before all else, where there is such a thing."""
    first = answer(plan).first
    if first is None:
        return 0.92
    lines = textwrap.wrap(f"First: {first}", 100)
    for number, line in enumerate(lines):
        down = 1.0 + 0.15 * number
        paper.write(page, paper.MARGIN, down, line, size=8.5, weight="bold")
    return 0.93 + 0.15 * len(lines)


def _facts(page: Figure, plan: Plan, down: float) -> float:
    landing, crest = plan.landing, crest_stake(plan)
    settled = build_height(crest.fill, plan.earth.settlement)
    count, extra = barrows(plan)
    facts = (
        ("edge to crest", f"{edge_to_crest(plan):.2f} m"),
        ("crest over ground", f"{crest.fill:.2f} m"),
        ("build crest to", f"{settled:.2f} m"),
        ("face", slope_words(landing.slope_deg)),
        ("back and sides", slope_words(landing.batter_deg)),
        ("length × width", f"{landing.length:.2f} × {landing.width:.2f} m"),
        ("barrows", f"{count} + {extra}"),
    )
    widths = (0.9, 1.08, 0.92, 1.18, 1.18, 1.3, 0.6)
    left = paper.MARGIN
    for (name, value), width in zip(facts, widths, strict=True):
        paper.write(page, left, down + 0.16, name, size=7.5, color=paper.GREY)
        paper.write(page, left, down + 0.36, value, size=10, weight="bold")
        left += width
    paper.rule(page, down + 0.47, width=0.5)
    paper.write(page, paper.MARGIN, down + 0.64, SHORT, size=7.0)
    return down + 0.68


def _frame(plan: Plan) -> tuple[tuple[float, float], int]:
    """Returns from where to where the drawings go along the landing, and their common scale."""
    frame = Heading.of_landing(plan.landing)
    offset = edge_offset(frame, plan.site.takeoff)
    across = [abs(s.across) for s in plan.stakes.stakes]
    span = (min(-1.2, plan_back(plan) - offset - 0.3), plan.landing.length - offset + 1.9)
    low, high = _heights(plan)
    spans = (
        (span[1] - span[0], paper.INNER),
        (2 * max(across) + 0.9, _PLAN),
        (high - low, _SECTION),
    )
    return span, paper.scale_for(spans)


def plan_back(plan: Plan) -> float:
    """Returns how far along the back's toe lies, in metres from the crest."""
    return min(s.along for s in plan.stakes.stakes)


def _heights(plan: Plan) -> tuple[float, float]:
    """Returns the lowest and highest that the section shows: dimensions and edge."""
    low = min(min(s.ground, s.finished) for s in plan.stakes.stakes) - 0.75
    return low, float(edge(plan.site.takeoff)[:, 2].max()) + 0.35


def _height(plan: Plan) -> float:
    low, high = _heights(plan)
    return 0.5 * (low + high)


def _place(page: Figure, plan: Plan, down: float) -> None:
    a, b = plan.stakes.marks
    low, high = reach(plan)
    spans = ((high[0] - low[0], paper.INNER), (high[1] - low[1], _PLACE))
    scale = paper.scale_for(spans)
    note = f"1 : {scale} on A4. Dotted: tapes from {a} and {b}. Contours in metres."
    paper.heading(page, down + 0.2, "Where it lies", note)
    ax = paper.window(page, down + 0.26, paper.INNER, _PLACE)
    paper.to_scale(ax, scale, *(0.5 * (low + high)))
    location_plan(ax, plan)

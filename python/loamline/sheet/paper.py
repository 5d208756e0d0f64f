"""A4 paper: its frame, its words and drawings at a round scale."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

import loamline as ll
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

if TYPE_CHECKING:
    from ..planning import Plan

WIDTH, HEIGHT = 8.27, 11.69
MARGIN = 0.55
INNER = WIDTH - 2 * MARGIN
INK, GREY, PALE = "#000000", "#555555", "#e4e4e4"
_METRE = 1.0 / 0.0254
# Scales that a builder can read with a ruler.
_SCALES = (20, 25, 40, 50, 75, 100, 125, 150, 200, 250, 400, 500, 1000)


def blank(plan: Plan, number: int) -> Figure:
    """Returns an empty page with its head and foot."""
    page = Figure(figsize=(WIDTH, HEIGHT), constrained_layout=False)
    # Words are measured before they are printed.
    FigureCanvasAgg(page)
    name = short(plan.site.name, 80)
    write(page, MARGIN, 0.72, name, size=min(17.0, 17.0 * 38 / len(name)), weight="bold")
    right = f"field sheet, page {number} of 2"
    write(page, WIDTH - MARGIN, 0.72, right, size=9, ha="right", color=GREY)
    rule(page, 0.82, width=1.4)
    made = (
        f"loamline {ll.__version__}  ·  {plan.wish.passes} rides, seed {plan.wish.seed}  ·  "
        f"fall-height limit {plan.fall_limit:.2f} m"
    )
    write(page, MARGIN, HEIGHT - 0.38, made, size=7.5, color=GREY)
    who = "built by ______________   date ______________"
    write(page, WIDTH - MARGIN, HEIGHT - 0.38, who, size=7.5, ha="right", color=GREY)
    return page


def write(
    page: Figure, left: float, down: float, words: str, size: float = 9.0, **font: Any
) -> Any:
    """Writes words at inches from the page's top left corner; returns the text."""
    font = {"va": "baseline", "color": INK, **font}
    return page.text(left / WIDTH, 1.0 - down / HEIGHT, words, fontsize=size, **font)


def short(words: str, most: int) -> str:
    """Returns words of at most so many letters, the last of them an ellipsis where some are left out."""
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"


def rule(
    page: Figure,
    down: float,
    width: float = 0.7,
    left: float = MARGIN,
    right: float = WIDTH - MARGIN,
) -> None:
    """Draws a level rule at inches from the page's top."""
    y = 1.0 - down / HEIGHT
    page.add_artist(Line2D([left / WIDTH, right / WIDTH], [y, y], color=INK, lw=width))


def heading(page: Figure, down: float, words: str, note: str = "") -> None:
    """Writes a heading with a quieter note behind it."""
    text = write(page, MARGIN, down, words, size=11, weight="bold")
    if note:
        box = text.get_window_extent()
        write(page, box.x1 / page.dpi + 0.12, down, note, size=8, color=GREY)


def window(page: Figure, down: float, width: float, height: float, left: float = MARGIN) -> Axes:
    """Returns bare axes of a size in inches, their top at inches from the page's top."""
    box = (left / WIDTH, 1.0 - (down + height) / HEIGHT, width / WIDTH, height / HEIGHT)
    ax = page.add_axes(box)
    ax.set_axis_off()
    return ax


def scale_for(spans: Iterable[tuple[float, float]]) -> int:
    """Returns the largest round scale at which each (metres, inches) fits."""
    need = max(metres * _METRE / inches for metres, inches in spans)
    return next((s for s in _SCALES if s >= need), int(need) + 1)


def to_scale(ax: Axes, scale: int, centre_x: float, centre_y: float) -> None:
    """Sets the limits of axes so that one metre is drawn at the scale, about a centre."""
    box = ax.get_position()
    half_x = 0.5 * box.width * WIDTH / _METRE * scale
    half_y = 0.5 * box.height * HEIGHT / _METRE * scale
    ax.set_xlim(centre_x - half_x, centre_x + half_x)
    ax.set_ylim(centre_y - half_y, centre_y + half_y)

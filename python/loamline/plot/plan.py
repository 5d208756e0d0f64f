"""The plan: contours, where the tyres come down, the landing and what stands in the way."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon

from ..frames import deck_outline, lattice_heights
from ..takeoffs import kind
from . import style
from .units import length

if TYPE_CHECKING:
    from ..frames import Array, Box

# More marks than this hide each other and say no more.
_MOST_MARKS = 1500


@style.styled(figsize=(5.4, 4.6))
def plan(
    site: Any,
    passes: Any = None,
    landing: Any = None,
    toe: Array | None = None,
    fall_limit: float | None = None,
    ax: Any = None,
) -> Any:
    """Draws the site from above with the tyres' marks coloured by fall height; returns the axes.

    Args:
        site: the site; gives contours, takeoff, named marks, keep-outs and obstacles.
        passes: passes whose marks are drawn, or None.
        landing: the landing whose face is outlined, a list of landings, or None.
        toe: closed outline of the earth's toe, rows of x and y in metres, or None.
        fall_limit: limit in metres for the colours; the site's where None.
        ax: axes to draw on, or None.
    """
    limit = site.fall_limit if fall_limit is None else fall_limit
    box = extent(site, passes, landing)
    draw_contours(ax, site.ground, box)
    draw_takeoff(ax, site.takeoff)
    if passes is not None:
        _marks(ax, passes, limit)
    for face in faces(landing):
        draw_landing(ax, face, toe)
    draw_named(ax, site, box)
    ax.set(xlabel="x, m", ylabel="y, m", aspect="equal", xlim=box[:2], ylim=box[2:])
    return ax


def extent(site: Any, passes: Any, landing: Any, margin: float = 1.0) -> Box:
    """Returns (left, right, bottom, top) in metres: all that the plan has to show."""
    points = [site.takeoff.mesh(12, 3)[..., :2].reshape(-1, 2)]
    points.extend(deck_outline(face) for face in faces(landing))
    if passes is not None:
        marks = passes.mark[np.isfinite(passes.mark[:, 0]), :2]
        if len(marks):
            points.append(np.percentile(marks, [0.5, 99.5], axis=0))
    low, high = np.min(np.vstack(points), axis=0), np.max(np.vstack(points), axis=0)
    # Named marks and obstacles are shown where they stand near enough to be taped from.
    near = [p[:2] for p in site.marks.values()] + [p[:2] for _, p, _ in site.obstacles]
    near = [p for p in near if np.all(p > low - 8.0) and np.all(p < high + 8.0)]
    everything = np.vstack([low, high, *near])
    low, high = everything.min(axis=0) - margin, everything.max(axis=0) + margin
    return float(low[0]), float(high[0]), float(low[1]), float(high[1])


def faces(landing: Any) -> list[Any]:
    """Returns the landings of one, of a list of them, or of None."""
    if landing is None:
        return []
    return list(landing) if isinstance(landing, (list, tuple)) else [landing]


def draw_contours(ax: Axes, ground: Any, box: Box) -> None:
    """Draws labelled contours of the ground within the box at a round interval."""
    x, y = np.linspace(*box[:2], 90), np.linspace(*box[2:], 90)
    z = np.ma.masked_invalid(lattice_heights(ground, x, y))
    if z.count() == 0:
        return
    unit = length().size
    step = unit * _step(float(z.max() - z.min()) / unit)
    levels = np.arange(np.floor(z.min() / step), np.ceil(z.max() / step) + 1) * step
    if len(levels) < 2:
        return
    # Not dashed below zero: dashes swallow the signs of the labels.
    look: dict[str, Any] = {"colors": style.GROUND, "linewidths": 0.7, "linestyles": "solid", "alpha": 0.85}
    lines = ax.contour(x, y, z, levels, **look)
    ax.clabel(lines, levels[::2], fontsize=7, fmt=lambda v: _height(v / unit), colors=style.GROUND)


def _height(value: float) -> str:
    """Returns a contour's height with its unit; no minus before a nought."""
    return f"{round(value, 1) + 0.0:.1f} {length().name}".replace("-", "−")


def _step(span: float) -> float:
    """Returns a round contour interval that gives some eight lines over `span`."""
    return next((s for s in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0) if span / s <= 9.0), 10.0)


def draw_takeoff(ax: Axes, takeoff: Any) -> None:
    """Draws the takeoff from above, with the edge that is left as a heavy line."""
    mesh = takeoff.mesh(32, 2)
    ring = np.vstack([mesh[:, 0, :2], mesh[::-1, -1, :2]])
    ax.add_patch(Polygon(ring, facecolor=style.TIMBER, alpha=0.35, lw=0))
    edge = mesh[-1, :, :2]
    ax.plot(edge[:, 0], edge[:, 1], "-", color=style.TIMBER, lw=3.0, solid_capstyle="butt")
    outside = mesh[16, -1, :2] + 0.25 * (mesh[16, -1, :2] - mesh[16, 0, :2])
    ax.annotate(kind(takeoff), outside, ha="center", va="top", fontsize=8)


def _marks(ax: Axes, passes: Any, limit: float) -> None:
    down = np.flatnonzero(np.isfinite(passes.mark[:, 0]))
    down = down[:: max(1, len(down) // _MOST_MARKS)]
    outcome = np.asarray(passes.outcome).astype(str)[down]
    for name, shape in style.MARKERS.items():
        these = down[outcome == name]
        if not len(these):
            continue
        ax.scatter(
            passes.mark[these, 0],
            passes.mark[these, 1],
            c=passes.fall_height[these],
            cmap=style.FALL_HEIGHT,
            norm=style.severity_norm(limit),
            marker=shape,
            s=9 if shape == "o" else 14,
            rasterized=True,
            zorder=3,
        )
    style.name_shapes(ax, outcome)


def draw_landing(ax: Axes, landing: Any, toe: Array | None = None) -> None:
    """Draws the face's outline with its crest as a heavy line, and the earth around it."""
    if toe is not None:
        ax.add_patch(Polygon(toe[:, :2], facecolor=style.EARTH, alpha=0.3, lw=0, zorder=1))
    outline = deck_outline(landing)
    ax.plot(outline[:, 0], outline[:, 1], "-", color=style.INK, lw=1.3, zorder=4)
    ax.plot(*outline[[0, 3]].T, "-", color=style.INK, lw=3.2, solid_capstyle="butt", zorder=4)


def draw_named(ax: Axes, site: Any, box: Box) -> None:
    """Draws the site's keep-outs, obstacles and named marks that lie within the box."""
    for label, corners in site.keep_outs:
        look = Polygon(corners, facecolor="none", edgecolor=style.STONE, hatch="xx", lw=0.8)
        ax.add_patch(look)
        if _within(corners.mean(axis=0), box):
            _label(ax, label or "no earth", corners.mean(axis=0), (0, 0), "center")
    for name, place, radius in site.obstacles:
        if _within(place, box):
            stone = {"facecolor": "none", "edgecolor": style.STONE, "hatch": "////"}
            ax.add_patch(Circle(place[:2], radius, **stone))
            _label(ax, name, (place[0], place[1] + radius), (0, 3), "center")
    for name, place in site.marks.items():
        if _within(place, box):
            ax.plot(place[0], place[1], "+", color=style.INK, ms=8, mew=1.4, zorder=6)
            right = place[0] > box[0] + 0.75 * (box[1] - box[0])
            _label(ax, name, place[:2], (-5, 5) if right else (5, 5), "right" if right else "left")


def _label(ax: Axes, text: str, place: Any, shift: tuple[float, float], ha: str) -> None:
    # Contours run through: on paper of its own.
    paper = {"facecolor": style.PAPER, "edgecolor": "none", "alpha": 0.8, "pad": 0.6}
    ax.annotate(text, place, shift, textcoords="offset points", ha=ha, fontsize=8, zorder=6, bbox=paper)


def _within(place: Any, box: Box) -> bool:
    return bool(box[0] <= place[0] <= box[1] and box[2] <= place[1] <= box[3])

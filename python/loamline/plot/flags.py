"""Flags and forecasts: the regions in which marks are to be looked for, on the plan and along the throw."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.patheffects import withStroke

from ..frames import deck_outline
from . import style
from .plan import draw_contours, draw_landing, draw_named, draw_takeoff
from .units import told

# Half and nine tenths of all marks.
_SHARES = ("50 %", "90 %")
# What a flag's shape says of it.
_SHAPES = {"o": "flag", "s": "outside its 90 % region", "X": "bad flag"}


@style.styled(figsize=(5.4, 4.6))
def flags(found: Any, forecasts: Any = (), landing: Any = None, flag: bool = True, ax: Any = None) -> Any:
    """Draws flags and where forecast rides would leave theirs, from above; returns the axes.

    Args:
        found: what the flags tell.
        forecasts: one forecast or several, the slowest first; each with its 50 and 90 % regions.
        landing: the landing whose face is outlined, or None.
        flag: whether the scatter of flags is in the regions.
        ax: axes to draw on, or None.
    """
    forecasts = _listed(forecasts)
    site = found.site
    marks = np.array([m for m in (f.mark(site) for f in found.flags) if m is not None]).reshape(-1, 2)
    box = close_up(site, landing, [marks, *(f.mark[:, :2] for f in forecasts)])
    draw_contours(ax, found.ground, box)
    draw_takeoff(ax, site.takeoff)
    if landing is not None:
        draw_landing(ax, landing, None)
    for forecast, color in zip(forecasts, _colors(len(forecasts))):
        _region(ax, forecast, box, color, flag)
    named: set[str] = set()
    checks = [c for c in found.checks if c["missed"] is not None]
    for check, at, (side, up) in zip(checks, marks, _beside(marks)):
        shape = "X" if check["is_bad"] else "s" if check["is_outside"] else "o"
        # Each shape is named once.
        words = _SHAPES[shape] if shape not in named else None
        named.add(shape)
        ax.plot(*at, shape, ls="none", color=style.INK, ms=6, zorder=6, label=words)
        how = {"ha": side, "textcoords": "offset points", "fontsize": 7, "zorder": 6}
        name = ax.annotate(check["flag"], at, (5 if side == "left" else -5, up), **how)
        name.set_path_effects([withStroke(linewidth=1.5, foreground=style.PAPER)])
    draw_named(ax, site, box)
    ax.set(xlabel="x, m", ylabel="y, m", aspect="equal", xlim=box[:2], ylim=box[2:])
    ax.legend(fontsize=7, loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=2, borderpad=0.0)
    return ax


def _beside(marks: Any) -> list[tuple[str, float]]:
    """Returns for each mark where its name begins or ends, and how far up, points.

    Flags lie close: names of those on the left go to the left, of the others to the right, each side's in the order of its
    marks from low to high. So no name stands at another's mark.
    """
    places: list[tuple[str, float]] = [("left", 0.0)] * len(marks)
    by_x = np.argsort(marks[:, 0], kind="stable")
    for side, some in (("right", by_x[: len(marks) // 2]), ("left", by_x[len(marks) // 2 :])):
        for rank, k in enumerate(sorted(some, key=lambda k: float(marks[k, 1]))):
            places[k] = side, max(-20.0, min(16.0, 10.0 * (rank - 0.5 * (len(some) - 1)) - 2.0))
    return places


@style.styled(figsize=(5.4, 3.2))
def ladder(forecasts: Any, fall_limit: float = 1.0, ax: Any = None) -> Any:
    """Draws how far out marks lie, and how high rides fall, over their start marks; returns the axes.

    Args:
        forecasts: forecasts of rides, the slowest first.
        fall_limit: fall height allowed, m, a line of its own.
        ax: axes to draw on, or None.
    """
    known = [f for f in _listed(forecasts) if f.fall_height is not None]
    starts = [f.start for f in known]
    for low, high, share in (("p5", "p95", 0.25), ("p25", "p75", 0.45)):
        falls = [[f.fall_height[key] for f in known] for key in (low, high)]
        label = _SHARES[1] if low == "p5" else _SHARES[0]
        ax.fill_between(starts, *falls, color=style.BLUE, alpha=share, lw=0, label=f"{label} of rides")
    ax.plot(starts, [f.fall_height["median"] for f in known], "o-", color=style.BLUE, ms=3, label="median")
    ax.axhline(fall_limit, color=style.RED, ls="--", lw=1, label="limit")
    ax.set(xlabel="start mark, m up the hill", ylabel="fall height, m")
    ax.set_ylim(0.0, 1.08 * max([fall_limit, *(f.fall_height["p95"] for f in known)]))
    ax.legend(fontsize=7)
    return ax


def _listed(forecasts: Any) -> list[Any]:
    return [forecasts] if hasattr(forecasts, "density") else list(forecasts)


def _colors(count: int) -> list[Any]:
    return [style.FALL_HEIGHT(i / max(1, count - 1)) for i in range(count)]


def close_up(site: Any, landing: Any, marks: list[Any]) -> tuple[float, float, float, float]:
    """Returns (left, right, bottom, top) in metres around edge, landing and marks."""
    edge = site.takeoff.mesh(12, 3)[-1][:, :2]
    points = [edge] if landing is None else [edge, deck_outline(landing)]
    (left, bottom), (right, top) = (f(np.vstack(points), axis=0) for f in (np.min, np.max))
    left, right, bottom, top = left - 0.8, right + 0.8, bottom - 0.8, top + 0.8
    for rows in marks:
        known = rows[np.isfinite(rows[:, 0])]
        if len(known):
            low, high = np.percentile(known, 1, axis=0) - 1.2, np.percentile(known, 99, axis=0) + 1.2
            left, bottom = min(left, low[0]), min(bottom, low[1])
            right, top = max(right, high[0]), max(top, high[1])
    return float(left), float(right), float(bottom), float(top)


def _region(ax: Any, forecast: Any, box: Any, color: Any, flag: bool) -> None:
    start = told(forecast.start, "m", 1)
    levels = forecast.levels(flag=flag)
    if levels is None:
        ax.plot([], [], " ", label=f"from {start}: too few marks")
        return
    marks = forecast.mark[np.isfinite(forecast.mark[:, 0]), :2]
    low, high = marks.min(axis=0) - 1.5, marks.max(axis=0) + 1.5
    x, y = np.linspace(low[0], high[0], 160), np.linspace(low[1], high[1], 160)
    grid = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    density = forecast.density(grid, flag=flag).reshape(len(y), len(x))
    half, nine_tenths = levels
    ax.contourf(x, y, density, [nine_tenths, half, np.inf], colors=[color, color], alpha=0.30, zorder=3)
    ax.contour(x, y, density, [nine_tenths, half], colors=[color], linewidths=[0.7, 1.1], zorder=4)
    ax.fill([], [], color=color, alpha=0.45, label=f"ridden from {start}")

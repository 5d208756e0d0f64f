"""The section of two grounds along a level line: what is filled and what is cut."""

from __future__ import annotations

from typing import Any

import numpy as np

from .._native import InputError
from . import style


@style.styled(figsize=(7.0, 3.2))
def section(
    before: Any,
    after: Any,
    start: tuple[float, float],
    stop: tuple[float, float],
    ax: Any = None,
) -> Any:
    """Draws two grounds in section along a level line, fill and cut apart; returns the axes.

    Args:
        before, after: the grounds.
        start, stop: (x, y) of the line's ends, m.
        ax: axes to draw on, or None.
    """
    ends = np.asarray([start, stop], dtype=float)
    if ends.shape != (2, 2) or not np.isfinite(ends).all() or (ends[0] == ends[1]).all():
        raise InputError(f"start and stop = {start}, {stop}: two places (x, y) are wanted, apart")
    length = float(np.hypot(*(ends[1] - ends[0])))
    along = np.linspace(0.0, length, 601)
    x, y = (ends[0, i] + (ends[1, i] - ends[0, i]) * along / length for i in (0, 1))
    now, new = before.height(x, y), after.height(x, y)
    both = np.concatenate([now, new])
    low = float(np.nanmin(both)) - 0.3 if np.isfinite(both).any() else 0.0
    ax.fill_between(along, low, np.fmin(now, new), color=style.GROUND, alpha=0.35, lw=0)
    fill = {"where": new > now + 1e-6, "color": style.EARTH, "alpha": 0.85}
    cut: dict[str, Any] = {"where": new < now - 1e-6, "facecolor": "none", "edgecolor": style.RED, "hatch": "///"}
    for words, look in (("fill", fill), ("cut", cut)):
        if np.any(look["where"]):
            ax.fill_between(along, now, new, label=words, lw=0, **look)
    ax.plot(along, now, "--", color=style.INK, lw=0.8, label="before")
    ax.plot(along, new, "-", color=style.INK, lw=1.4, label="after")
    ax.set(xlabel="along the section, m", ylabel="height, m", aspect="equal")
    ax.set_xlim(0.0, length)
    ax.set_ylim(bottom=low)
    ax.legend(loc="best", frameon=False)
    return ax

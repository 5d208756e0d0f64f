"""The wall unrolled: lines on the panel as a rider sees them laid flat."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from . import style


@style.styled(figsize=(5.4, 2.4))
def wall(wall: Any, lines: Iterable[Any] = (), ax: Any = None) -> Any:
    """Draws the panel laid flat, with lines on it; returns the axes.

    Args:
        wall: the wall, with `length` along its foot and `width` up the panel, in metres.
        lines: lines on the wall, or (n, 2) arrays of station along the foot and height up the panel,
            in metres.
        ax: axes to draw on, or None.
    """
    ax.axhspan(0.0, wall.width, color=style.TIMBER, alpha=0.18, lw=0)
    for line in lines:
        line = np.asarray(line.on_panel() if hasattr(line, "on_panel") else line, dtype=float)
        ax.plot(line[:, 0], line[:, 1])
    ax.plot([wall.length] * 2, [0.0, wall.width], "-", color=style.TIMBER, lw=3.0)
    ax.set(xlabel="along the foot, m", ylabel="up the panel, m", aspect="equal")
    ax.set(xlim=(0.0, wall.length + 0.2), ylim=(0.0, wall.width * 1.05))
    return ax

"""Fall height over speed and place on the edge: which rides come down softly."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.lines import Line2D

from .. import takeoffs
from . import style


@style.styled(figsize=(5.4, 3.4))
def severity(
    passes: Any, fall_limit: float | None = None, ax: Any = None, takeoff: Any = None
) -> Any:
    """Draws each pass at its entry speed and place on the edge, coloured by fall height.

    Args:
        passes: passes on any ground; those that never left the edge are drawn as grey points.
        fall_limit: limit in metres for the colours; 1.0 where None.
        ax: axes to draw on, or None.
        takeoff: the site's takeoff, for the words on the axes.

    Returns the axes.
    """
    outcome = np.asarray(passes.outcome).astype(str)
    down = np.isfinite(passes.fall_height)
    stayed = passes.entry_speed[~down], passes.leave[~down]
    ax.plot(*stayed, ".", color=style.STONE, ms=1.5, rasterized=True)
    for name, shape in style.MARKERS.items():
        these = down & (outcome == name)
        if not these.any():
            continue
        ax.scatter(
            passes.entry_speed[these],
            passes.leave[these],
            c=passes.fall_height[these],
            cmap=style.FALL_HEIGHT,
            norm=style.severity_norm(fall_limit),
            marker=shape,
            s=8 if shape == "o" else 13,
            rasterized=True,
        )
    look: dict[str, Any] = {"color": style.STONE, "ms": 4, "label": "no mark"}
    style.name_shapes(ax, outcome[down], [Line2D([], [], ls="none", marker=".", **look)] if not down.all() else [])
    onto = "takeoff" if takeoff is None else takeoffs.kind(takeoff)
    ax.set(xlabel=f"speed onto the {onto}, m/s", ylabel=f"{takeoffs.place_words(takeoff)}, m")
    return ax

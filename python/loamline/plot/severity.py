"""Fall height over speed and exit height: which rides come down softly."""

from __future__ import annotations

from typing import Any

import numpy as np

from . import style


@style.styled(figsize=(5.4, 3.4))
def severity(passes: Any, fall_limit: float | None = None, ax: Any = None) -> Any:
    """Draws each pass at its entry speed and exit height, coloured by fall height; returns axes.

    Args:
        passes: passes on any ground; those that never left the edge are drawn as grey points.
        fall_limit: limit in metres for the colours; 1.0 where None.
        ax: axes to draw on, or None.
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
            label=name.replace("_", " "),
            rasterized=True,
        )
    ax.set(xlabel="speed onto the wall, m/s", ylabel="exit height up the panel, m")
    return ax

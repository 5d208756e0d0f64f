"""Whether any flight reaches the ground where a landing may be built."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from .frames import Array


def out_of_reach(site: Any, passes: Any) -> str | None:
    """Returns what to do where no flight passes over or comes down on the allowed area; else None.

    Seen from above, from each launch to where the tyres touch the ground as it is: earth can only make a
    flight shorter.

    Args:
        site: the site, with its allowed area.
        passes: passes on the site's ground.
    """
    from matplotlib.path import Path

    area = site.area
    down = np.isfinite(passes.mark[:, 0])
    if not len(area) or not down.any():
        return None
    allowed = Path(np.vstack([area, area[:1]]), closed=True)
    launches, marks = passes.launch_position[down, :2], passes.mark[down, :2]
    if allowed.contains_points(marks).any():
        return None
    flown = (Path(way) for way in np.stack([launches, marks], axis=1))
    if any(allowed.intersects_path(way, filled=True) for way in flown):
        return None
    return (
        f"no flight reaches the allowed area: the nearest of {len(marks)} marks lies {_nearest(area, marks):.1f} m "
        "from it; move landing.area to where riders come down, or let them start higher"
    )


def _nearest(area: Array, points: Array) -> float:
    """Returns the least distance of points from an area's sides."""
    starts, along = area, np.roll(area, -1, axis=0) - area
    away = points[:, None] - starts
    share = np.clip((away * along).sum(axis=2) / (along**2).sum(axis=1), 0.0, 1.0)
    return float(np.linalg.norm(away - share[..., None] * along, axis=2).min())

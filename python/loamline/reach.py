"""Whether flights reach the ground where a landing may be built, and whether the survey reaches where they fly."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from .tally import STAYED

if TYPE_CHECKING:
    from .frames import Array

# Fewer than this share of riders are not told of.
_FEW = 0.005


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


def unsurveyed(passes: Any) -> str | None:
    """Returns which ground is missing where flights leave the survey, of one in two hundred riders or more; else None.

    Args:
        passes: passes on a site's ground.
    """
    outcome = np.asarray(passes.outcome).astype(str)
    flew, lost = outcome != STAYED, outcome == "off_survey"
    weight = np.asarray(passes.weight, dtype=float)
    share = float(weight[lost].sum() / weight[flew].sum()) if flew.any() else 0.0
    if share < _FEW:
        return None
    at_once = np.asarray(passes.time)[lost] == 0.0
    where = "behind and beside the edge, 2 m away and more" if at_once.mean() > 0.5 else "where they come down"
    return (
        f"{100.0 * share:.0f} of 100 riders who leave the edge leave the surveyed ground"
        f"{' the moment they fly' if at_once.mean() > 0.5 else ''}: nothing is known of their landing. "
        f"Add survey points {where}."
    )


def _nearest(area: Array, points: Array) -> float:
    """Returns the least distance of points from an area's sides."""
    starts, along = area, np.roll(area, -1, axis=0) - area
    away = points[:, None] - starts
    share = np.clip((away * along).sum(axis=2) / (along**2).sum(axis=1), 0.0, 1.0)
    return float(np.linalg.norm(away - share[..., None] * along, axis=2).min())

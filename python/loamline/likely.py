"""Numbers that can be but hardly are: centimetres for metres, litres for cubic metres, a slip in a survey."""

from __future__ import annotations

from typing import Any

import numpy as np

# What takeoffs, barrows, limits and people come in (common practice; as `loamline new` has them).
_WIDEST, _HIGHEST, _BARROW, _LIMIT, _MASS = 12.0, 8.0, (0.01, 1.0), 1.5, (20.0, 250.0)
# A site's ground lies within so many metres of its middle height.
_DEEP = 40.0


def unlikely(site: Any, fall_limit: float | None = None) -> list[str]:
    """Returns a sentence for each number of a site that is likely a slip.

    Args:
        site: the site.
        fall_limit: the limit that counts, m; None takes the site's.
    """
    limit = site.fall_limit if fall_limit is None else fall_limit
    told = [*_takeoff(site.takeoff), *_survey(np.asarray(site.survey))]
    if limit > _LIMIT:
        told.append(f"a fall height of {limit:g} m counts as soft: above {_LIMIT} m none is; are these centimetres?")
    volume = site.barrow_volume
    if not _BARROW[0] <= volume <= _BARROW[1]:
        told.append(f"a barrow of {volume:g} m3 is {1000.0 * volume:g} litres: is the volume in cubic metres?")
    for one in site.classes:
        if not _MASS[0] <= one.rider.mass <= _MASS[1]:
            told.append(f"{one.name} weigh {one.rider.mass:.0f} kg with the bike: is the mass in kilograms?")
    return told


def _takeoff(takeoff: Any) -> list[str]:
    told = []
    if takeoff.width > _WIDEST:
        told.append(f"the takeoff is {takeoff.width:g} m wide: is it in metres?")
    high = float(np.ptp(takeoff.mesh(24, 2)[..., 2]))
    if high > _HIGHEST:
        told.append(f"the takeoff is {high:.1f} m high from its start to its highest place: is it in metres and degrees?")
    return told


def _survey(points: Any) -> list[str]:
    """Tells of the point that is farthest from the middle height, where that cannot be ground nearby."""
    away = np.abs(points[:, 2] - np.median(points[:, 2]))
    worst = int(np.argmax(away))
    if away[worst] <= _DEEP:
        return []
    x, y, z = points[worst]
    return [f"the survey's point ({x:g}, {y:g}, {z:g}) lies {away[worst]:.0f} m off the others' height: is it right?"]

"""At which speeds a wall's lines hold, beside those at which riders come onto it."""

from __future__ import annotations

import math
from typing import Any

import loamline as ll

from .likely import unlikely


def ride(site: Any, **how: Any) -> Any:
    """Returns a site's passes; where there are none, the error also tells likely slips and what a wall's lines hold.

    Args:
        site: the site.
        how: what `Site.passes` takes.

    Raises:
        PassesError: nobody leaves the edge, and why.
    """
    try:
        return site.passes(**how)
    except ll.PassesError as error:
        told = [*unlikely(site), str(error), *map(in_words, holds(site))]
        raise ll.PassesError("; ".join(told)) from error


def holds(site: Any) -> list[dict[str, Any]]:
    """Returns for each class what its usual line on the wall holds, and how fast its riders come; of a wall only.

    Balanced rides of the class's middle rider judge. A speed that there is not is None: nothing holds, nothing limits it,
    or who starts there does not come to the wall.
    """
    if not isinstance(site.takeoff, ll.Wall):
        return []
    return [_class(site, one) for one in site.classes]


def in_words(one: dict[str, Any]) -> str:
    """Returns a class's sentence."""
    slow, fast = (f"{speed:.1f}" if speed is not None else "a standstill" for speed in one["comes"])
    come = f"{slow} to {fast}" if slow != fast else slow
    line = f"{'the wall ' if one['reason'].startswith('holds') else ''}{one['reason']}"
    return f"{one['name']} come onto the wall at {come} m/s; leaving {one['leave']:.2f} m up, {line}"


def _class(site: Any, one: Any) -> dict[str, Any]:
    leave = _middle(one.leave)
    speeds = site.takeoff.line(enter=site.enter, leave=leave).hold_speeds(one.rider, site.air)
    fastest = speeds.fastest if speeds.fastest is not None and math.isfinite(speeds.fastest) else None
    comes = [_speed(site, start, leave, one.name) for start in _ends(one.start)]
    told = {"name": one.name, "leave": leave, "slowest": speeds.slowest, "fastest": fastest}
    return {**told, "reason": speeds.reason, "comes": comes}


def _speed(site: Any, start: float, leave: float, who: str) -> float | None:
    """Returns how fast the middle rider comes to the takeoff from a start mark, m/s."""
    run_in, _ = site.descend(start, leave, who)
    return float(run_in.exit_speed) if run_in.exit_speed is not None else None


def _middle(spread: dict[str, float]) -> float:
    low, high = _ends(spread)
    return float(spread.get("mode", spread.get("mean", 0.5 * (low + high))))


def _ends(spread: dict[str, float]) -> tuple[float, float]:
    """Returns the ends of a spread; two standard deviations where it has none."""
    middle = spread.get("fixed", spread.get("mean", 0.0))
    wide = 2.0 * spread.get("sd", 0.0)
    return float(spread.get("low", middle - wide)), float(spread.get("high", middle + wide))

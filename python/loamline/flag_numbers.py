"""What flags, forecasts, steps and ladders come to, as plain numbers for JSON."""

from __future__ import annotations

import math
from typing import Any

from .cautions import SHORT


# Weights that differ by no more than rounding are those of one ride.
_ALIKE = 1e-9


def lean_words(found: Any) -> str:
    """Return each lean with its weight; nothing where all fit alike, as on a lip that is level across: no lean matters there."""
    weights = found.leans.values()
    if len(weights) > 1 and max(weights) - min(weights) < _ALIKE:
        return ""
    return ", ".join(f"{name} {100 * weight:.0f} %" for name, weight in found.leans.items())


def found_numbers(found: Any) -> dict[str, Any]:
    """Return what the flags tell."""
    return {
        "who": found.who,
        "estimates": found.estimates,
        "leans": found.leans,
        "checks": found.checks,
        "confused": [list(pair) for pair in found.confused],
        "held": found.held,
        "warnings": found.warnings,
    }


def forecast_numbers(forecast: Any) -> dict[str, Any]:
    """Return the forecast of one ride."""
    return {
        "start": forecast.start,
        "distance": _finite(forecast.distance),
        "fall_height": _finite(forecast.fall_height),
        "exit_speed": _finite(forecast.exit_speed),
        "share_marked": forecast.share_marked,
    }


def step_numbers(step: Any, fall_limit: float, chance: float) -> dict[str, Any]:
    """Return what may be tried next, or why nothing may."""
    return {
        "fall_limit": fall_limit,
        "chance": chance,
        "from": step.from_start,
        "start": step.start,
        "leave": step.leave,
        "risk": step.risk,
        "limit": step.limit,
        "refusal": step.refusal,
        "forecast": forecast_numbers(step.forecast) if step.forecast else None,
        "then": None if step.then is None else need_numbers(step.then),
        "cautions": [step.caution, SHORT],
    }


def ladder_numbers(ladder: Any) -> dict[str, Any]:
    """Return the whole ladder."""
    return {
        "goal": ladder.goal,
        "is_whole": ladder.is_whole,
        "barrows": ladder.barrows,
        "refusal": ladder.refusal,
        "rungs": [need_numbers(rung) for rung in ladder.rungs],
    }


def need_numbers(need: dict[str, Any]) -> dict[str, Any]:
    """Return what a ride needs, its landing told by numbers."""
    landing = need["landing"]
    told = None
    if landing is not None:
        told = {
            "crest": [float(value) for value in landing.crest],
            "heading_deg": landing.heading_deg,
            "slope_deg": landing.slope_deg,
            "length": landing.length,
            "width": landing.width,
        }
    return {**need, "landing": told}


def _finite(band: dict[str, float] | None) -> dict[str, float | None] | None:
    """JSON has no infinity: no ground is no height."""
    if band is None:
        return None
    return {key: value if math.isfinite(value) else None for key, value in band.items()}

"""The page on flags: what they tell, where faster rides come down, what may be tried next, the whole ladder."""

from __future__ import annotations

import re
from importlib import resources
from typing import Any

import loamline as ll

from .cautions import ALL, FIRST
from .flag_numbers import lean_words

# Rides a lean for each rung: a table of many rungs needs no more.
_LADDER_DRAWS = 64
# How far beyond the last flag rides are drawn, m.
_BEYOND = (0.0, 1.0, 2.0, 4.0)


def flag_report(found: ll.Found, fall_limit: float = 1.0, chance: float = 0.05, leave: float | None = None) -> str:
    """Returns the page as HTML that needs nothing from outside.

    Args:
        found: what the flags tell.
        fall_limit: fall height allowed, m, above 0.
        chance: of a bad end that is allowed.
        leave: where the next rides are to leave, m; None where the rider leaves as he does.
    """
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    from .report import svg

    site = found.site
    farthest = max(flag.start for flag in found.flags)
    starts = [min(farthest + more, site.run_in_length) for more in _BEYOND]
    forecasts = [found.forecast(start, leave=leave) for start in dict.fromkeys(starts)]
    step = ll.next_step(found, fall_limit=fall_limit, chance=chance, leave=leave)
    rungs = ll.ladder(found, fall_limit=fall_limit, chance=chance, leave=leave, draws=_LADDER_DRAWS)
    rides = list(dict.fromkeys([farthest, step.start or farthest]))
    template = resources.files("loamline.report").joinpath("flags.html.j2").read_text(encoding="utf-8")
    page = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    page.filters["short_numbers"] = _short_numbers
    figures = {
        "plan": svg.inline(lambda: _figure("flags", found, forecasts), "plan", "Flags and forecasts from above"),
        "falls": svg.inline(lambda: _figure("ladder", forecasts, fall_limit), "falls", "Fall heights over start marks"),
    }
    return page.from_string(template).render(
        site=site,
        found=found,
        leans=lean_words(found),
        forecasts=forecasts,
        step=step,
        ladder=rungs,
        worth=found.what_next(rides, rungs.goal, leave=leave)[:5],
        fall_limit=fall_limit,
        chance=chance,
        figures={name: Markup(text) for name, text in figures.items()},
        cautions=ALL,
        first_caution=FIRST,
    )


def _short_numbers(text: str) -> str:
    """Returns a text whose long decimals have four digits that count."""
    return re.sub(r"-?\d+\.\d{5,}", lambda number: f"{float(number[0]):.4g}", text)


def _figure(name: str, *what: Any) -> Any:
    from matplotlib.figure import Figure

    from . import plot

    figure = Figure(figsize=(5.2, 3.2), layout="constrained")
    getattr(plot, name)(*what, ax=figure.add_subplot())
    return figure

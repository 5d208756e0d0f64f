"""The report: one page that stands alone, for a screen, a phone or a printer."""

from __future__ import annotations

from importlib import resources
from typing import TYPE_CHECKING

from .figures import figures

if TYPE_CHECKING:
    from ..planning import Plan


def report(plan: Plan) -> str:
    """Returns the report of a plan as HTML that needs nothing from outside."""
    # Imported late: the command line's other commands do not need it.
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    from ..answer import answer, barrows, crest_stake, edge_to_crest, slope_words
    from ..cautions import ALL, FIRST, REST
    from ..models import MODELS
    from ..tally import alike, metres

    template = resources.files(__package__).joinpath("page.html.j2").read_text(encoding="utf-8")
    page = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    page.filters["share"] = _share
    page.filters["metres"] = metres
    return page.from_string(template).render(
        plan=plan,
        answer=answer(plan),
        alike=alike(plan.leans_before) and alike(plan.leans),
        figures={name: Markup(svg) for name, svg in figures(plan).items()},
        barrows=barrows(plan),
        crest=crest_stake(plan),
        distance=edge_to_crest(plan),
        slope=slope_words(plan.landing.slope_deg),
        batter=slope_words(plan.landing.batter_deg),
        cautions=ALL,
        first_caution=FIRST,
        rest_caution=REST,
        models=MODELS,
    )


def _share(value: float) -> str:
    """Returns a share as a percentage for a table: a dash for none at all."""
    if value == 0.0:
        return "–"
    return "<1" if value < 0.01 else f"{100.0 * value:.0f}"

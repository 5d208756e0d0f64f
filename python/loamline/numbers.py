"""The numbers of a plan or forecast as plain values, ready for JSON."""

from __future__ import annotations

import csv
import io
import math
from typing import TYPE_CHECKING, Any

import loamline as ll

from .answer import answer, barrows, build_height, edge_to_crest
from .cautions import ALL

if TYPE_CHECKING:
    from .planning import Plan, Wish
    from .tally import Lean, Row

_LANDING = (
    "heading_deg",
    "slope_deg",
    "length",
    "width",
    "crest_height",
    "crest_radius",
    "foot_radius",
    "batter_deg",
)
_EARTH = (
    "fill",
    "cut",
    "placed",
    "bank",
    "loose",
    "settled",
    "barrows",
    "mass",
    "swell",
    "settlement",
    "lifts",
    "lift_loose",
    "haul",
)
_FIT = ("volume", "caught", "on_face", "p95_fall_height", "leaving")


def plan_numbers(plan: Plan) -> dict[str, Any]:
    """Returns all numbers of a plan: SI, degrees in names ending in `_deg`, shares 0 to 1."""
    return {
        **_head(plan.site, plan.wish, plan.fall_limit),
        "answer": answer(plan).lines(),
        "landing": landing_numbers(plan),
        "fit": _picked(plan.fit, _FIT),
        "who": [row.as_dict() for row in plan.rows],
        "who_without_landing": [row.as_dict() for row in plan.rows_before],
        "leans": lean_numbers(plan.leans),
        "leans_without_landing": lean_numbers(plan.leans_before),
        "earth": {**_picked(plan.earth, _EARTH), **_earth(plan)},
        "tradeoff": _curve(plan.curve),
        "tradeoff_reasons": plan.curve.reasons,
        "stakes": stake_numbers(plan),
        "warnings": [*plan.slips, *map(str, plan.fit.warnings)],
        "cautions": list(ALL),
    }


def forecast_numbers(
    site: Any, wish: Wish, fall_limit: float, rows: list[Row], band: list[Lean]
) -> dict[str, Any]:
    """Returns the numbers of a forecast on the ground as it is."""
    return {
        **_head(site, wish, fall_limit),
        "who": [row.as_dict() for row in rows],
        "leans": lean_numbers(band),
        "cautions": list(ALL),
    }


def lean_numbers(band: list[Lean]) -> list[dict[str, Any]]:
    """Returns everybody's shares and fall heights for each lean alone."""
    return [{**lean.row.as_dict(), "name": lean.name} for lean in band]


def landing_numbers(plan: Plan) -> dict[str, Any]:
    """Returns the landing's own numbers and where it stands."""
    landing = plan.landing
    crest = [float(v) for v in landing.crest]
    return {"crest": crest, **_picked(landing, _LANDING), "edge_to_crest": edge_to_crest(plan)}


def stake_numbers(plan: Plan) -> dict[str, Any]:
    """Returns the stakes with the marks that they are taped from."""
    out = plan.stakes
    marks = [
        {"name": name, "position": [float(v) for v in place]}
        for name, place in zip(out.marks, out.places, strict=True)
    ]
    rows = stake_rows(plan)
    return {"marks": marks, "side": out.side, "diagonal": out.diagonal, "rows": rows}


def stake_rows(plan: Plan) -> list[dict[str, Any]]:
    """Returns a row of numbers for each stake, heights over the first mark as well."""
    settle = plan.earth.settlement
    return [
        {
            "stake": s.name,
            "what": s.what,
            "x_m": s.position[0],
            "y_m": s.position[1],
            "along_m": s.along,
            "across_m": s.across,
            "tape_first_m": s.tape[0],
            "tape_second_m": s.tape[1],
            "ground_m": s.ground,
            "finished_m": s.finished,
            "finished_over_first_m": s.finished - plan.stakes.datum,
            "fill_m": s.fill,
            "build_fill_m": build_height(s.fill, settle),
        }
        for s in plan.stakes.stakes
    ]


def stakes_csv(plan: Plan) -> str:
    """Returns the stake table as CSV: a header that names units, then a row a stake."""
    rows = stake_rows(plan)
    text = io.StringIO()
    names = {"tape_first_m": 0, "tape_second_m": 1}
    header = {
        key: f"tape_from_{_word(plan.stakes.marks[names[key]])}_m" if key in names else key
        for key in rows[0]
    }
    header["finished_over_first_m"] = f"finished_over_{_word(plan.stakes.marks[0])}_m"
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(header.values())
    for row in rows:
        writer.writerow(f"{v:.3f}" if isinstance(v, float) else v for v in row.values())
    return text.getvalue()


def _word(name: str) -> str:
    """Returns a mark's name as one word for a column."""
    return "_".join("".join(c if c.isalnum() else " " for c in name).split())


def _earth(plan: Plan) -> dict[str, Any]:
    count, extra = barrows(plan)
    barrow = float(plan.site.barrow_volume)
    return {
        **dict(zip(("hours", "hours_low", "hours_high"), plan.earth.hours, strict=True)),
        "soil": plan.site.soil,
        "barrow_volume": barrow,
        "barrows_full": count,
        "barrows_more_for_settling": extra,
    }


def _head(site: Any, wish: Wish, fall_limit: float) -> dict[str, Any]:
    return {
        "loamline": ll.__version__,
        "site": site.name,
        "passes": wish.passes,
        "seed": wish.seed,
        "fall_limit": fall_limit,
    }


def _curve(curve: Any) -> list[dict[str, Any]]:
    columns = ("volumes", "caught", "on_face", "p95_fall_height")
    rows = zip(*(getattr(curve, c) for c in columns), strict=True)
    return [dict(zip(("volume", *columns[1:]), map(_plain, row), strict=True)) for row in rows]


def _picked(thing: Any, names: tuple[str, ...]) -> dict[str, Any]:
    return {name: _plain(getattr(thing, name)) for name in names}


def _plain(value: Any) -> float | int | None:
    """Returns a number that JSON can hold: None for NaN and infinities."""
    value = float(value)
    if not math.isfinite(value):
        return None
    return int(value) if value.is_integer() and abs(value) >= 10 else value

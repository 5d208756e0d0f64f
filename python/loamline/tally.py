"""Who lands where: shares of an ensemble by class of rider."""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from .frames import Array

STAYED = "not_launched"
# How a rider may lean on the takeoff, in words.
LEAN_WORDS = {
    "deck": "square to what is under the tyres",
    "balanced": "in balance all along",
    "settled": "in balance, come up to the edge's lean",
}
# What a member who left the edge can come to, in the order in which it is told.
ENDS = ("short", "long", "wide", "rolled_off", "off_survey", "no_touchdown")


@dataclass(frozen=True)
class Row:
    """Shares of one class of riders (0 to 1), of those who leave the edge unless said otherwise.

    `weight` is the class's share of all riders, `left` the share of its members who leave the
    edge; `soft` is caught (or, on ground without a landing, down) with a fall height at or below
    the limit; `hard` is caught above it.
    Fall heights in metres are over all who leave, infinite for who comes down where no ground is
    known; NaN where nobody leaves.
    """

    name: str
    members: int
    weight: float
    left: float
    soft: float
    hard: float
    short: float
    long: float
    wide: float
    rolled_off: float
    off_survey: float
    no_touchdown: float
    median_fall_height: float
    p95_fall_height: float
    highest_fall_height: float

    def as_dict(self) -> dict[str, Any]:
        """Returns the row as plain numbers, None where there is none."""
        return {
            k: v if isinstance(v, str) or math.isfinite(v) else None
            for k, v in asdict(self).items()
        }


def tally(passes: Any, fall_limit: float) -> list[Row]:
    """Returns a row for everybody together, then one for each class in the passes' order."""
    who = np.asarray(passes.who)
    rows = [_row("all", passes, np.ones(len(who), dtype=bool), fall_limit)]
    for index, name in enumerate(passes.class_names):
        rows.append(_row(name, passes, who == index, fall_limit))
    return rows


@dataclass(frozen=True)
class Lean:
    """How everybody comes down if all lean one way on the takeoff; `name` is of `passes.leans`."""

    name: str
    row: Row

    @property
    def words(self) -> str:
        """The lean in words."""
        return LEAN_WORDS.get(self.name, self.name)


def leans(passes: Any, fall_limit: float) -> list[Lean]:
    """Returns the band of a forecast: everybody's row for each lean alone."""
    everybody = ((name, tally(passes.with_lean(name), fall_limit)[0]) for name in passes.leans)
    return [Lean(name, row) for name, row in everybody]


def alike(band: list[Lean]) -> bool:
    """Tells whether it makes no difference how riders lean, as on a lip or a drop that is level across."""
    said = [f"{lean.row.soft:.3f} {metres(lean.row.median_fall_height)} {metres(lean.row.p95_fall_height)}" for lean in band]
    return len(set(said)) <= 1


def soft(passes: Any, fall_limit: float) -> npt.NDArray[np.bool_]:
    """Returns for each member whether it comes down softly where it should."""
    outcome = np.asarray(passes.outcome).astype(str)
    with np.errstate(invalid="ignore"):
        low = np.asarray(passes.fall_height) <= fall_limit
    return low & np.isin(outcome, ("caught", "landed", "rolled_off"))


def _row(name: str, passes: Any, these: npt.NDArray[np.bool_], fall_limit: float) -> Row:
    outcome = np.asarray(passes.outcome).astype(str)
    weight = np.where(these, np.asarray(passes.weight, dtype=float), 0.0)
    gentle, met = soft(passes, fall_limit), np.isin(outcome, ("caught", "landed"))
    flew = outcome != STAYED
    riders = float(weight[flew].sum())

    def share(which: npt.NDArray[np.bool_]) -> float:
        return float(weight[which & flew].sum()) / riders if riders > 0.0 else 0.0

    heights = np.asarray(passes.fall_height, dtype=float)
    # Who comes down where no ground is known has fallen nobody knows how far.
    heights = np.where(np.isfinite(heights), heights, np.inf)
    down = flew & (weight > 0.0)
    p50, p95, most = (_quantile(heights[down], weight[down], q) for q in (0.5, 0.95, 1.0))
    return Row(
        name=name,
        members=int(np.sum(these)),
        weight=float(weight.sum()),
        left=riders / float(weight.sum()) if weight.sum() > 0.0 else 0.0,
        soft=share(gentle),
        hard=share(met & ~gentle),
        median_fall_height=p50,
        p95_fall_height=p95,
        highest_fall_height=most,
        **{end: share((outcome == end) & ~gentle) for end in ENDS},
    )


def _quantile(values: Array, weights: Array, share: float) -> float:
    """Returns the least value at which the weights of it and all below reach a share of the sum."""
    if len(values) == 0:
        return float("nan")
    order = np.argsort(values, kind="stable")
    reached = np.cumsum(weights[order])
    at = np.searchsorted(reached, share * reached[-1] * (1.0 - 1e-12))
    return float(values[order][min(at, len(values) - 1)])


def metres(value: float) -> str:
    """Returns metres to the centimetre; a dash where there is no number."""
    return f"{value:.2f}" if math.isfinite(value) else "–"

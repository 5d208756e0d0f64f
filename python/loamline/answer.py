"""The answer in words: what to build, how many barrows, who lands softly and who does not."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .frames import Heading, edge_offset
from .tally import ENDS

if TYPE_CHECKING:
    from .planning import Plan
    from .stakes import Stake
    from .tally import Row

# Above this share of riders who never leave the edge, that is what matters first.
_MANY_STAY = 0.05
# Below this share of soft landings a landing is hardly worth its earth, and that is said first.
_FEW_SOFT = 0.5
# Where so many land softly already, that is said first: earth helps few.
_NEARLY_ALL = 0.95
# Shares below this are not told: less than one in two hundred.
_NONE = 0.005
_SAYS = {
    "short": "come down short of the crest",
    "long": "go past the foot",
    "wide": "go off a side",
    "rolled_off": "roll off the edge hard",
    "off_survey": "leave the surveyed ground",
    "no_touchdown": "meet no ground at all",
}


@dataclass(frozen=True)
class Answer:
    """Sentences for people, the weightiest first."""

    first: str | None
    build: str
    earth: str
    soft: str
    others: tuple[str, ...]

    def lines(self) -> list[str]:
        """Returns all sentences in the order in which they are to be read."""
        first = [self.first] if self.first else []
        return [*first, self.build, self.earth, self.soft, *self.others]


def answer(plan: Plan) -> Answer:
    """Returns the answer of a plan in words."""
    rows = plan.rows
    return Answer(
        first=" ".join(filter(None, [who_stays(rows), soft_already(plan.rows_before), few_soft(rows)])) or None,
        build=_build(plan),
        earth=_earth(plan),
        soft=_soft(plan),
        others=tuple(who_not(rows, plan.fall_limit)),
    )


def who_stays(rows: list[Row]) -> str | None:
    """Returns the sentence on riders who never leave the edge, where more than 5 % do not."""
    stay = 1.0 - rows[0].left
    if stay <= _MANY_STAY + 1e-9:
        return None
    return (
        f"{_hundred(stay)} of 100 riders do not leave the edge{_mostly(rows, _stayers)}: "
        "they stall, hang up on the edge, slide or lift off early. "
        "See to the run-in or the takeoff before the landing."
    )


def soft_already(rows: list[Row]) -> str | None:
    """Returns the sentence on ground where at least 95 % land softly as it is, and what to do.

    Args:
        rows: who lands where on the ground as it is.
    """
    if rows[0].soft < _NEARLY_ALL:
        return None
    return (
        f"On the ground as it is {_hundred(rows[0].soft)} of 100 riders who leave the edge land softly already: a landing "
        "can help few. Leave the ground as it is, or say a lower limit of fall height (--fall-limit) and plan again."
    )


def few_soft(rows: list[Row]) -> str | None:
    """Returns the sentence on a landing that fewer than half land softly on."""
    if rows[0].soft >= _FEW_SOFT:
        return None
    return (
        f"Even the best landing found takes only {_hundred(rows[0].soft)} of 100 softly. "
        "Before it is built see to the takeoff, the start marks, the earth at hand, or how near the edge it may come."
    )


def who_not(rows: list[Row], fall_limit: float) -> list[str]:
    """Returns a sentence for each way of not landing softly, the commonest first."""
    told = []
    if rows[0].hard > _NONE:
        text = f"come down harder than {fall_limit:.2f} m of fall height"
        told.append((rows[0].hard, text, "hard"))
    told += [(getattr(rows[0], end), _SAYS[end], end) for end in ENDS]
    told = sorted((t for t in told if t[0] > _NONE), key=lambda t: -t[0])
    return [
        f"{_hundred(share)} of 100 {text}{_mostly(rows, _share_of(name))}."
        for share, text, name in told
    ]


def slope_words(slope_deg: float) -> str:
    """Returns a slope as people set it out: degrees and rise to run."""
    return f"{slope_deg:.0f}° (1 : {1.0 / math.tan(math.radians(slope_deg)):.2f})"


def edge_to_crest(plan: Plan) -> float:
    """Returns the level distance from the edge's middle to the crest line, in metres."""
    return -edge_offset(Heading.of_landing(plan.landing), plan.site.takeoff)


def crest_stake(plan: Plan) -> Stake:
    """Returns the stake in the middle of the crest."""
    return next(s for s in plan.stakes.stakes if s.name == "A2")


def build_height(fill: float, settlement: float) -> float:
    """Returns how high to build earth so that it settles to `fill` metres."""
    return fill / (1.0 - settlement) if fill > 0.0 else fill


def barrows(plan: Plan) -> tuple[int, int]:
    """Returns how many barrows the landing takes, and how many more the settling."""
    shape = math.ceil(plan.earth.barrows - 1e-9)
    return shape, math.ceil(build_height(plan.earth.barrows, plan.earth.settlement) - 1e-9) - shape


def _build(plan: Plan) -> str:
    landing, crest = plan.landing, crest_stake(plan)
    return (
        f"Build a landing with its crest {crest.fill:.2f} m above the ground, "
        f"{edge_to_crest(plan):.1f} m out from the edge; its face slopes "
        f"{slope_words(landing.slope_deg)}, {landing.length:.1f} m long (level) "
        f"and {landing.width:.1f} m wide."
    )


def _earth(plan: Plan) -> str:
    earth, crest = plan.earth, crest_stake(plan)
    more = build_height(crest.fill, earth.settlement) - crest.fill
    count, extra = barrows(plan)
    return (
        f"That is {count} barrows of {1000.0 * plan.site.barrow_volume:.0f} litres: "
        f"{earth.fill:.1f} m³ of {plan.site.soil} in place. For settling build the crest "
        f"{100.0 * more:.0f} cm higher: {extra} barrows more."
    )


def _soft(plan: Plan) -> str:
    return (
        f"{_hundred(plan.rows[0].soft)} of 100 riders who leave the edge land softly on it "
        f"(caught, fall height at most {plan.fall_limit:.2f} m); "
        f"on the ground as it is, {_hundred(plan.rows_before[0].soft)} do."
    )


def _hundred(share: float) -> str:
    """Returns a share as a count of a hundred; never 0 or 100 where it is not quite."""
    if 0.0 < share < 0.01:
        return "under 1"
    if 0.99 < share < 1.0:
        return "over 99"
    return f"{100.0 * share:.0f}"


def _stayers(row: Row) -> float:
    return row.weight * (1.0 - row.left)


def _share_of(name: str) -> Callable[[Row], float]:
    return lambda row: row.weight * row.left * getattr(row, name)


def _mostly(rows: list[Row], count: Callable[[Row], float]) -> str:
    """Returns which class makes up most of a group, where one does."""
    total = sum(count(row) for row in rows[1:])
    most = max(rows[1:], key=count, default=None)
    if most is None or len(rows) == 2 or count(most) < 0.6 * total:
        return ""
    return f" (mostly {most.name})"

"""Stakes: where each peg goes, how it is taped from two marks, and how high the earth comes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, Any

import numpy as np

from .frames import Heading
from .takeoffs import feet

if TYPE_CHECKING:
    from .frames import Array, Point

# A toe is where the earth is thinner than this, in metres: what a rake leaves.
_THIN = 0.01
_TOE_REACH, _TOE_STEP = 8.0, 0.01
# Pegs nearer than this to the next would be in each other's way, in metres.
_APART = 0.4


@dataclass(frozen=True)
class Stake:
    """One peg. Distances are level, heights are the site's z, all in metres."""

    name: str
    what: str
    along: float
    across: float
    position: tuple[float, float]
    tape: tuple[float, float]
    ground: float
    finished: float

    @property
    def fill(self) -> float:
        """Earth over the ground at this peg, in metres; negative is cut."""
        return self.finished - self.ground


@dataclass(frozen=True)
class StakeOut:
    """All pegs of a landing with the two marks that they are taped from.

    `side` tells on which hand the pegs lie for who stands at the first mark and faces the second:
    two tapes cross on both sides of the line between the marks. `datum` is the mark whose height
    counts as zero on the sheet, `diagonal` the face's diagonal in plan, to check that it is square.
    """

    marks: tuple[str, str]
    places: tuple[tuple[float, float, float], tuple[float, float, float]]
    side: str
    stakes: tuple[Stake, ...]
    diagonal: float

    @property
    def datum(self) -> float:
        """The site's z that counts as zero: that of the first mark."""
        return self.places[0][2]

    @property
    def base(self) -> float:
        """The level distance between the two marks, in metres."""
        first, second = np.array(self.places)[:, :2]
        return float(np.hypot(*(second - first)))


def stake_out(site: Any, built: Any) -> StakeOut:
    """Returns the stakes of the landing that stands on `built`, taped from two of its marks."""
    landing = built.landing
    frame = Heading.of_landing(landing)
    spots = _spots(site.ground, built, landing, frame)
    places = np.column_stack(frame.place([s[2] for s in spots], [s[3] for s in spots]))
    (a, b), (at, bt) = _best_marks(_marks(site), places)
    before, after = (g.height(places[:, 0], places[:, 1]) for g in (site.ground, built))
    stakes = tuple(
        Stake(
            name=name,
            what=what,
            along=along,
            across=across,
            position=(float(p[0]), float(p[1])),
            tape=(float(np.hypot(*(p - at[:2]))), float(np.hypot(*(p - bt[:2])))),
            ground=float(z0),
            finished=float(z1),
        )
        for (name, what, along, across), p, z0, z1 in zip(spots, places, before, after, strict=True)
    )
    both = (_triple(at), _triple(bt))
    return StakeOut((a, b), both, _side(at, bt, places), stakes, _diagonal(landing))


def _triple(place: Array) -> tuple[float, float, float]:
    return float(place[0]), float(place[1]), float(place[2])


def _diagonal(landing: Any) -> float:
    return float(np.hypot(landing.length, landing.width))


def _spots(
    ground: Any, built: Any, landing: Any, frame: Heading
) -> list[tuple[str, str, float, float]]:
    """Returns (name, what, along, across) of each peg: crest, face and foot, then the toes."""
    half, length = landing.width / 2.0, landing.length
    lines = (("A", "crest", 0.0), ("B", "face", 0.5 * length), ("C", "foot", length))
    sides = (("1", "left", half), ("2", "middle", 0.0), ("3", "right", -half))
    spots = [
        (letter + number, f"{what}, {side}", along, across)
        for letter, what, along in lines
        for number, side, across in sides
    ]
    back = _toe(ground, built, frame, (0.0, 0.0), (-1.0, 0.0))
    if back > _APART:
        spots.append(("D", "toe of the back", -back, 0.0))
    for letter, what, along in (("E", "crest", 0.0), ("F", "face", 0.5 * length)):
        for number, side, sign in (("1", "left", 1.0), ("2", "right", -1.0)):
            out = _toe(ground, built, frame, (along, sign * half), (0.0, sign))
            if out > _APART:
                where = f"side toe at {what}, {side}"
                spots.append((letter + number, where, along, sign * (half + out)))
    return spots


def _toe(ground: Any, built: Any, frame: Heading, start: Point, direction: Point) -> float:
    """Returns how far the earth reaches from a place in the landing's frame in one direction."""
    out = np.arange(0.0, _TOE_REACH, _TOE_STEP)
    x, y = frame.place(start[0] + direction[0] * out, start[1] + direction[1] * out)
    thick = built.height(x, y) - ground.height(x, y) > _THIN
    return float(out[np.argmin(thick)]) if not thick.all() else float(out[-1])


def _marks(site: Any) -> dict[str, Array]:
    """Returns the marks to tape from; places on the takeoff stand in for missing ones."""
    marks = {name: np.asarray(place, dtype=float) for name, place in site.marks.items()}
    if len(marks) < 2:
        marks |= feet(site.takeoff)
    return marks


def _best_marks(
    marks: dict[str, Array], places: Array
) -> tuple[tuple[str, str], tuple[Array, Array]]:
    """Returns the pair of marks whose tapes cross nearest to square at the worst peg."""

    def worth(pair: Any) -> tuple[bool, float]:
        (_, a), (_, b) = pair
        to_a, to_b = places - a[:2], places - b[:2]
        cross = to_a[:, 0] * to_b[:, 1] - to_a[:, 1] * to_b[:, 0]
        lengths = np.hypot(*to_a.T) * np.hypot(*to_b.T)
        one_side = bool((cross > 0).all() or (cross < 0).all())
        far = max(np.hypot(*to_a.T).max(), np.hypot(*to_b.T).max())
        # Tapes are 30 m at most and sag: a near pair wins over a slightly squarer far one.
        return one_side, float((np.abs(cross) / np.maximum(lengths, 1e-9)).min()) - 0.01 * far

    (a, at), (b, bt) = max(combinations(marks.items(), 2), key=worth)
    return (a, b), (at, bt)


def _side(at: Array, bt: Array, places: Array) -> str:
    """Returns the hand on which the pegs lie for who stands at the first mark facing the second."""
    line = bt[:2] - at[:2]
    to = places - at[:2]
    left = line[0] * to[:, 1] - line[1] * to[:, 0] > 0
    return "left" if left.all() else "right" if (~left).all() else "both sides"

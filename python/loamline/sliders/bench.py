"""What a move of a slider asks of the model: one ride by each lean, one landing, and who comes down on it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from matplotlib.path import Path

import loamline as ll

from .. import takeoffs
from ..frames import Heading, deck_outline
from ..tally import soft

if TYPE_CHECKING:
    from ..frames import Array

LEANS = ("deck", "balanced", "settled")
# A touch that is none of these misses what was built, and counts as harder than any fall height.
_MET = ("caught", "landed", "rolled_off")
# A face that nobody asked for, m: what some fifty barrows build (an assumption).
_LENGTH, _WIDTH = 2.5, 2.0
# The gentlest face of the slider, degrees; the steepest is a degree under what the soil stands at.
_GENTLEST = 6.0


@dataclass(frozen=True)
class Slider:
    """What can be moved: its name, what it says, its ends and its step, in `unit`."""

    name: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    start: float

    def held(self, value: float) -> float:
        """Returns a value brought between the ends; what is no number becomes the start."""
        return float(np.clip(value, self.low, self.high)) if np.isfinite(value) else self.start


@dataclass(frozen=True)
class Way:
    """A ride over the takeoff with one lean; `launch` is None where it does not leave the edge."""

    lean: str
    outcome: str
    exit_speed: float
    grip_demand: float
    launch: Any


@dataclass(frozen=True)
class Built:
    """The ground with the landing asked for, or as it is, and then `why` says what bars it."""

    ground: Any
    landing: Any
    why: str | None
    volume: float
    barrows: float
    soft: float
    marks: Any


class Bench:
    """A site with one rider at the start of his takeoff: speed, exit height, place and slope may be moved."""

    def __init__(self, site: Any, who: str | None, landing: Any, riders: int, seed: int) -> None:
        self.site = site
        classes = site.classes
        names = [c.name for c in classes]
        self.who = max(classes, key=lambda c: c.weight).name if who is None else who
        if self.who not in names:
            raise ll.InputError(f"who = {who!r} is no class of this site: {', '.join(names)}")
        self.rider = classes[names.index(self.who)].rider
        self.air, self.bare, self.takeoff = site.air, site.ground, site.takeoff
        self.passes = site.passes(n=riders, seed=seed)
        self.given = landing
        self.frame = self._frame()

    def _frame(self) -> Heading:
        """Returns the frame of the side view: from the edge's middle along the landing's heading."""
        middle = self.takeoff.mesh(2, 3)[-1, 1]
        if self.given is not None:
            angle = float(np.radians(self.given.heading_deg))
        else:
            angle = Heading.of_passes(self.passes, self.takeoff).angle
        return Heading(float(middle[0]), float(middle[1]), angle)

    @cached_property
    def marks(self) -> Array:
        """Marks on the ground as it is, along and across, of those that touch, m."""
        down = self.passes.mark[np.isfinite(self.passes.mark[:, 0])]
        return np.column_stack([self.frame.along(down), self.frame.across(down)])

    @cached_property
    def across(self) -> float:
        """How far to the left of the edge's middle the landing's middle lies, m."""
        if self.given is not None:
            return float(self.frame.across(np.asarray(self.given.crest)))
        return float(np.median(self.marks[:, 1])) if len(self.marks) else 0.0

    @cached_property
    def sliders(self) -> tuple[Slider, Slider, Slider, Slider]:
        """The four sliders: speed, exit height (or place), landing place and slope."""
        speeds, leave = self._span(self.passes.entry_speed), self._span(self.passes.leave)
        onto = takeoffs.kind(self.takeoff)
        far = float(np.ceil(self.marks[:, 0].max())) if len(self.marks) else 10.0
        steepest = float(np.floor(self.batter - 1.0))
        place, slope = self._first()
        near = min(place, max(0.5, self.site.edge_clearance))
        return (
            Slider("speed", f"speed onto the {onto}", "m/s", *speeds, 0.05, _middle(self.passes.entry_speed, speeds)),
            Slider("leave", takeoffs.place_words(self.takeoff), "m", *leave, 0.05, _middle(self.passes.leave, leave)),
            Slider("place", "crest, out from the edge", "m", near, max(far, place), 0.1, place),
            Slider("slope", "slope of the face", "°", _GENTLEST, max(steepest, slope), 0.5, slope),
        )

    @cached_property
    def batter(self) -> float:
        """The batter of the landing's earth, degrees: the landing's own, or what the soil stands at."""
        return float(self.given.batter_deg if self.given is not None else self.site.earth.stand_up_deg[0])

    def _first(self) -> tuple[float, float]:
        """Returns where the crest lies at first, m out, and the slope of the face, degrees."""
        if self.given is not None:
            return float(self.frame.along(np.asarray(self.given.crest))), float(self.given.slope_deg)
        near = float(np.percentile(self.marks[:, 0], 25)) if len(self.marks) else 3.0
        return max(self.site.edge_clearance, 0.5, round(near - 1.0, 1)), float(np.floor(min(20.0, self.batter - 1.0)))

    def _span(self, values: Array) -> tuple[float, float]:
        """Returns the ends of a slider: a little more than what riders do, within the takeoff."""
        known = values[np.isfinite(values)]
        low, high = (float(known.min()), float(known.max())) if len(known) else (5.0, 10.0)
        room = 0.1 * (high - low) + 0.05
        low, high = np.floor((low - room) * 20.0) / 20.0, np.ceil((high + room) * 20.0) / 20.0
        if values is self.passes.leave and takeoffs.kind(self.takeoff) == "wall":
            low, high = max(low, 0.05), min(high, self.takeoff.width - 0.05)
        return float(low), float(high)

    def ways(self, speed: float, leave: float) -> list[Way]:
        """Returns the ride over the takeoff with each lean, by the class's middle rider, without pop."""
        wall = takeoffs.kind(self.takeoff) == "wall"
        try:
            line = self.takeoff.line(enter=self.site.enter, leave=leave) if wall else self.takeoff.line(leave)
        except ll.LoamlineError as error:
            return [Way(lean, str(error), np.nan, np.nan, None) for lean in LEANS]
        return [self._way(line, speed, lean) for lean in LEANS]

    def _way(self, line: Any, speed: float, lean: str) -> Way:
        try:
            ride = line.ride(self.rider, self.air, speed, lean=lean, sample=None)
            outcome, grip = ride.outcome.replace("_", " "), ride.peak_grip_demand
            if ride.outcome != "reached":
                return Way(lean, outcome, np.nan, grip, None)
            return Way(lean, outcome, ride.exit_speed, grip, ride.launch(pop=0.0))
        except ll.LoamlineError as error:
            return Way(lean, str(error), np.nan, np.nan, None)

    def touches(self, ways: list[Way], ground: Any) -> list[Any]:
        """Returns the touchdown of each way on a ground; None for who does not leave the edge."""
        return [w.launch and w.launch.flight(ground, self.rider, self.air).touchdown for w in ways]

    def hardest(self, ways: list[Way], touches: list[Any]) -> int | None:
        """Returns the place of the way that judges: one that misses, else the one that falls farthest.

        None where the rider in balance does not leave the edge: balance judges who holds.
        """
        if ways[LEANS.index("balanced")].launch is None:
            return None
        left = [i for i, td in enumerate(touches) if td is not None]
        return max(left, key=lambda i: (touches[i].outcome not in _MET, np.nan_to_num(touches[i].fall_height)))

    def landing(self, place: float, slope_deg: float) -> Any:
        """Returns the landing with its crest line `place` metres out and its foot on the ground.

        Raises:
            InputError: a place or slope that no landing can have.
        """
        crest = tuple(float(v) for v in self.frame.place(place, self.across))
        length, width = (_LENGTH, _WIDTH) if self.given is None else (self.given.length, self.given.width)
        heading = float(np.degrees(self.frame.angle))
        shape: dict[str, Any] = {"length": length, "width": width, "batter_deg": self.batter}
        return ll.Landing(crest=crest, heading_deg=heading, slope_deg=slope_deg, **shape)

    def built(self, place: float, slope_deg: float) -> Built:
        """Returns the ground with that landing, its earth, and the share of riders who land softly on it."""
        try:
            built = self.landing(place, slope_deg).on(self.bare)
            ground, volume = built.ground, built.volume
        except ll.LoamlineError as error:
            return self._count(self.bare, None, f"no landing there: {error}", 0.0)
        return self._count(ground, built.landing, self._bars(built.landing), volume)

    def _bars(self, landing: Any) -> str | None:
        """Returns what of the site forbids a face that can be built, in words; None where nothing does."""
        corners = deck_outline(landing)
        area = self.site.area
        if len(area) and not Path(area, closed=False).contains_points(corners, radius=1e-9).all():
            return "the face is not wholly in the allowed area"
        face = Path(corners, closed=True)
        outs = [Path(np.vstack([out, out[:1]]), closed=True) for _, out in self.site.keep_outs]
        if any(face.intersects_path(out, filled=True) for out in outs):
            return "the face lies in a keep-out"
        return None

    def _count(self, ground: Any, landing: Any, why: str | None, volume: float) -> Built:
        down = self.passes.on(ground)
        # Of those who leave the edge, as everywhere.
        left = np.asarray(down.outcome).astype(str) != "not_launched"
        weight = down.weight * left
        share = float(weight[soft(down, self.site.fall_limit)].sum() / weight.sum()) if weight.any() else 0.0
        touched = np.isfinite(down.mark[:, 0])
        marks = np.column_stack([down.mark[touched, :2], down.fall_height[touched]])
        return Built(ground, landing, why, volume, volume / self.site.barrow_in_place, share, marks)


def _middle(values: Array, ends: tuple[float, float]) -> float:
    known = values[np.isfinite(values)]
    middle = float(np.median(known)) if len(known) else 0.5 * sum(ends)
    return round(20.0 * middle) / 20.0

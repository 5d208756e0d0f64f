"""The main job: from a site to a landing, its earth, its stakes and who lands softly on it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

import loamline as ll

from .answer import soft_already
from .holds import ride
from .likely import unlikely
from .reach import out_of_reach, unsurveyed
from .stakes import StakeOut, stake_out
from .tally import Lean, Row, leans, tally

# The trade-off is worked out at these multiples of the volume asked for, besides itself.
_LESS, _MORE = (0.4, 0.7), (1.5,)


@dataclass(frozen=True)
class Wish:
    """What the builder asks for: how many riders to send, earth at hand, and the limit."""

    passes: int = 4096
    seed: int = 1
    volume: float | None = None
    barrows: float | None = None
    fall_limit: float | None = None


@dataclass(frozen=True)
class Plan:
    """A site, the landing that fits it, and all that the report and the field sheet tell."""

    site: Any
    wish: Wish
    fall_limit: float
    volume: float
    before: Any
    after: Any
    ground: Any
    fit: Any
    landing: Any
    curve: Any
    earth: Any
    stakes: StakeOut

    @cached_property
    def rows_before(self) -> list[Row]:
        """Who lands where on the ground as it is."""
        return tally(self.before, self.fall_limit)

    @cached_property
    def rows(self) -> list[Row]:
        """Who lands where with the landing built."""
        return tally(self.after, self.fall_limit)

    @cached_property
    def slips(self) -> list[str]:
        """Numbers of the site that are likely slips, a sentence each."""
        return unlikely(self.site, self.fall_limit)

    @cached_property
    def leans_before(self) -> list[Lean]:
        """Everybody on the ground as it is, lean by lean."""
        return leans(self.before, self.fall_limit)

    @cached_property
    def leans(self) -> list[Lean]:
        """Everybody with the landing built, lean by lean."""
        return leans(self.after, self.fall_limit)


def plan(site: Any, wish: Wish | None = None, stage: Any = None) -> Plan:
    """Returns the plan for a site.

    Args:
        site: the site.
        wish: what to plan for; the site's own limit and earth where it says nothing.
        stage: called with the name of each step; returns that step's progress hook or None.

    Raises:
        InputError: the wish is out of range, or neither it nor the site says how much earth.
        LoamlineError: nobody leaves the edge, or no landing fits.
    """
    wish, stage = wish or Wish(), stage or (lambda name: None)
    limit = site.fall_limit if wish.fall_limit is None else wish.fall_limit
    volume = budget(site, wish)
    before = ride(site, n=wish.passes, seed=wish.seed, progress=stage("riding"))
    nobody_down = bool(np.isfinite(before.launch_position).any()) and not np.isfinite(before.mark).any()
    why_not = unsurveyed(before) if nobody_down else out_of_reach(site, before)
    if why_not:
        raise ll.FitError(why_not)
    shared: dict[str, Any] = {"fall_limit": limit, "seed": wish.seed}
    try:
        curve, fit = _search(before, site, volume, {**shared, "progress": stage("fitting")})
    except ll.FitError as error:
        easy = soft_already(tally(before, limit))
        if easy is None:
            raise
        raise ll.FitError(f"{error}. {easy}") from error
    ground = site.ground.with_landing(fit.landing)
    return Plan(
        site=site,
        wish=wish,
        fall_limit=limit,
        volume=volume,
        before=before,
        after=before.on(ground),
        ground=ground,
        fit=fit,
        landing=ground.landing,
        curve=curve,
        earth=ll.earthwork(site.ground, ground, soil=site.earth, barrow=site.barrow_volume),
        stakes=stake_out(site, ground),
    )


def _search(passes: Any, site: Any, volume: float, how: dict[str, Any]) -> tuple[Any, Any]:
    """Returns the trade-off around a volume, and the fit for that volume itself.

    The trade-off starts each search from what less earth found: no search of its own does better.
    """
    less, more = [share * volume for share in _LESS], [share * volume for share in _MORE]
    try:
        curve = ll.tradeoff(passes, site, volumes=[*less, volume, *more], **how)
    except ll.FitError:
        # Too little earth for any landing at the small end: then the curve begins at the volume.
        less = []
        curve = ll.tradeoff(passes, site, volumes=[volume, *more], **how)
    return curve, curve.fits[len(less)]


def budget(site: Any, wish: Wish) -> float:
    """Returns the earth to plan with, in place, in m3: from the wish, else from the site."""
    if wish.volume is not None:
        return wish.volume
    barrows = site.barrow_count if wish.barrows is None else wish.barrows
    if barrows is None:
        raise ll.InputError(
            "how much earth? the site gives no barrow count: say --barrows or --volume"
        )
    return float(barrows * site.barrow_in_place)

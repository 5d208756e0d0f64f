"""What a user writes, checked by `mypy --strict`: every verb of the chain, its arguments and what it gives."""

from pathlib import Path

import loamline as ll
import numpy as np
from loamline import plot


def one_ride(site: ll.Site, built: ll.Ground) -> tuple[float, float]:
    rider, air = ll.Rider.typical(body_mass=75.0, body_height=1.75), site.air
    wall: ll.Wall | None = site.wall
    if wall is None:
        raise ValueError("this site has no wall")
    line = wall.line(enter=site.enter, leave=1.1)
    slow, fast = line.hold_speeds(rider, air)
    speed = 8.0 if slow is None or fast is None else 0.5 * (slow + fast)
    ride = line.ride(rider, air, speed=speed, lean="balanced")
    flight = ride.launch(pop=0.1).flight(built, rider, air)
    touchdown = flight.touchdown
    loads = rider.loads(touchdown)
    return touchdown.fall_height, loads.peak_bodyweights


def many(position: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> float:
    velocity = np.tile([6.0, 0.0, 1.0], (len(position), 1))
    found = ll.flights(position, velocity, ll.Ground.plane(), ll.Rider(), ll.Air())
    return float(np.nanmax(found.fall_height))


def wrong() -> None:
    # A wrong use is told: `mypy --strict` would complain of an ignore that ignores nothing.
    ll.Rider(weight=80.0)  # type: ignore[call-arg]
    ll.Site.demo().passes(n="many")  # type: ignore[arg-type]


def plan(folder: Path) -> str:
    site = ll.Site.demo()
    passes = site.passes(n=64, seed=1)
    fit = ll.fit_landing(passes, site, volume=2.5, fall_limit=site.fall_limit, seed=1)
    landing: ll.Landing = fit.landing
    built = site.ground.with_landing(landing)
    ax = plot.side(site, passes.on(built), built=built, landing=landing, look="dark", units="feet")
    plot.save(ax, folder / "a.png")
    ll.write_table(passes, folder / "passes.csv")
    one_ride(site, built)
    return f"{landing.slope_deg:.0f} degrees, {fit.caught:.0%} land softly"

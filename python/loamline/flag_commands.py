"""What the commands `flags` and `next` do: they read flags, fit them, and say what they tell."""

from __future__ import annotations

import json
import textwrap
from argparse import Namespace
from typing import TYPE_CHECKING, Any

import loamline as ll

from .cautions import SHORT
from .colours import paint
from .flag_numbers import forecast_numbers, found_numbers, ladder_numbers, lean_words, step_numbers
from .site_commands import asked_site

if TYPE_CHECKING:
    from collections.abc import Iterable

# Rides a lean for each rung: a table of many rungs needs no more.
_LADDER_DRAWS = 64
# Starts that are forecast beyond the last flag, m farther up.
_BEYOND = (1.0, 2.0, 4.0)


def flags(asked: Namespace) -> int:
    """Says what flags tell of the rider, and forecasts rides not yet tried."""
    site, found = _found(asked)
    forecasts = [found.forecast(start, leave=asked.leave) for start in _starts(site, found, asked)]
    numbers = {**found_numbers(found), "forecasts": [forecast_numbers(f) for f in forecasts], "caution": SHORT}
    if asked.output:
        _write(asked, site, found)
    if asked.json:
        print(json.dumps(numbers, indent=2, allow_nan=False))
        return 0
    _print_found(found)
    _print_forecasts(forecasts)
    print(paint(textwrap.fill(SHORT, 96), "caution"))
    return 0


def next_step(asked: Namespace) -> int:
    """Says how far up the hill the next start may be, or why there is none, and prints the ladder."""
    site, found = _found(asked)
    limit = _limit(asked, site)
    step = ll.next_step(found, fall_limit=limit, chance=asked.chance, leave=asked.leave)
    rungs = ll.ladder(found, fall_limit=limit, chance=asked.chance, leave=asked.leave, draws=_LADDER_DRAWS)
    if asked.json:
        numbers = step_numbers(step, limit, asked.chance)
        print(json.dumps({**numbers, "ladder": ladder_numbers(rungs)}, indent=2, allow_nan=False))
        return 0
    _say(found.warnings)
    _print_step(step, limit)
    _print_ladder(rungs)
    _say([step.caution])
    print(paint(textwrap.fill(SHORT, 96), "caution"))
    return 0


def _found(asked: Namespace) -> tuple[ll.Site, ll.Found]:
    site = asked_site(asked.site)
    flags = ll.load_flags(asked.flags)
    classes = sorted({flag.who for flag in flags})
    if asked.who is None and len(classes) > 1:
        raise ll.InputError(f"{asked.flags} has flags of {', '.join(classes)}: name one class with --who")
    return site, ll.fit_flags(site, flags, who=asked.who)


def _limit(asked: Namespace, site: ll.Site) -> float:
    return site.fall_limit if asked.fall_limit is None else float(asked.fall_limit)


def _starts(site: ll.Site, found: ll.Found, asked: Namespace) -> list[float]:
    farthest = max(flag.start for flag in found.flags)
    top = site.run_in_length
    wanted = asked.start or [farthest, *(farthest + more for more in _BEYOND)]
    return sorted({round(min(start, top), 6) for start in wanted})


def _write(asked: Namespace, site: ll.Site, found: ll.Found) -> None:
    from .flag_report import flag_report
    from .outdir import OutDir
    from .pocket_card import pocket_card

    limit = _limit(asked, site)
    with OutDir(asked.output) as out:
        out.write("flags.html", flag_report(found, fall_limit=limit, leave=asked.leave))
        card = found.pocket_card(card_starts(site, found), fall_limit=limit, leave=asked.leave)
        pocket_card(card, site, out.path("pocket-card.pdf"))


def card_starts(site: ll.Site, found: ll.Found) -> list[float]:
    """Returns the start marks of a pocket card: every half metre from the first flag on, twelve at most."""
    first = min(flag.start for flag in found.flags)
    steps = [first + 0.5 * i for i in range(12)]
    return [start for start in steps if start <= site.run_in_length]


def _say(lines: Iterable[str]) -> None:
    for line in lines:
        print(textwrap.fill(line, 96))


def _print_found(found: ll.Found) -> None:
    _say(found.warnings)
    print(f"{len(found.flags)} flags of {found.who}. What they tell (5 % lie below and above):")
    print(f"{'':<12}{'half':>9}{'5 %':>9}{'95 %':>9}{'believed before':>25}{'learnt %':>11}")
    for name, told in found.estimates.items():
        before = f"{told['prior_median']:.3f} ({told['prior_low']:.3f} to {told['prior_high']:.3f})"
        print(
            f"{name:<12}{told['median']:>9.3f}{told['low']:>9.3f}{told['high']:>9.3f}"
            f"{before:>25}{100 * told['learnt']:>11.0f}"
        )
    leans = lean_words(found)
    _say([f"Lean on the takeoff: {leans}."] if leans else [])
    for check in found.checks:
        word = "bad" if check["is_bad"] else "outside its 90 % region" if check["is_outside"] else "fits"
        print(f"flag {check['flag']}: {word} ({100 * check['tail']:.0f} % of its forecast lies farther out)")


def _print_forecasts(forecasts: list[ll.FlagForecast]) -> None:
    print("Rides forecast on the ground as it is (half, and where nine tenths lie):")
    print(f"{'start m':>8}{'mark m out':>24}{'fall height m':>24}{'exit speed m/s':>24}")
    for forecast in forecasts:
        bands = (forecast.distance, forecast.fall_height, forecast.exit_speed)
        print(f"{forecast.start:>8.2f}" + "".join(f"{_band(band):>24}" for band in bands))


def _band(band: dict[str, Any] | None) -> str:
    return "-" if band is None else f"{band['median']:.2f} ({band['p5']:.2f}-{band['p95']:.2f})"


def _print_step(step: ll.NextStep, limit: float) -> None:
    if step.start is None:
        _say([f"No next step: {step.refusal}."])
    else:
        assert step.risk is not None and step.forecast is not None
        chance = 100 * step.risk["total"]
        _say(
            [
                f"Next start: {step.start:.2f} m up the hill ({step.limit}). By the hardest lean the chance of a bad "
                f"end is {chance:.1f} % (fall-height limit {limit:.2f} m).",
                f"Look for the mark {_band(step.forecast.distance)} m out; fall height "
                f"{_band(step.forecast.fall_height)} m.",
            ]
        )
    if step.then is not None:
        _say([_then(step.then)])


def _then(need: dict[str, Any]) -> str:
    start = f"A ride from {need['start']:.2f} m"
    if need["landing"] is None:
        found = "needs no landing" if need["is_enough"] else "needs a landing that was not found here"
        return f"{start} {found}: chance of a bad end {100 * need['chance_now']:.0f} %."
    return (
        f"{start} needs {need['barrows']:.0f} barrows ({need['volume']:.2f} m3): the chance of a bad end falls from "
        f"{100 * need['chance_now']:.0f} % to {100 * need['chance_built']:.0f} %."
    )


def _print_ladder(ladder: ll.Ladder) -> None:
    print(f"The ladder to the ride without a brake from {ladder.goal:.2f} m:")
    heads = ("start m", "brake %", "exit m/s", "fall m", "mark m", "bad %", "barrows", "then %")
    print("".join(f"{head:>{width}}" for head, width in zip(heads, (8, 9, 10, 8, 8, 7, 9, 8))))
    for rung in ladder.rungs:
        mark = "-" if rung["distance"] is None else f"{rung['distance']:.2f}"
        built = "" if rung["chance_built"] is None else f"{100 * rung['chance_built']:.0f}"
        print(
            f"{rung['start']:>8.2f}{100 * rung['brake']:>9.0f}{rung['exit_speed']:>10.2f}{rung['fall_height']:>8.2f}"
            f"{mark:>8}{100 * rung['chance_now']:>7.0f}{rung['barrows']:>9.0f}{built:>8}"
        )
    if not ladder.is_whole:
        _say([f"It does not get there: {ladder.refusal or 'the next ride would not come over the edge'}."])
    _say(["Learn on the way: plant a flag at each step and make a new ladder."])

"""The same sliders as a page that needs no server: every place of the sliders is reckoned beforehand."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from importlib import resources
from typing import TYPE_CHECKING, Any

import numpy as np

from . import picture
from .bench import Bench, Slider

if TYPE_CHECKING:
    from ..plot.units import Units

# How many places each slider has: 1620 together, each reckoned, none in between.
PLACES = {"speed": 9, "leave": 6, "place": 6, "slope": 5}


@dataclass(frozen=True)
class Table:
    """All that the page can show: rides by speed and exit height, landings by place and slope, and touches."""

    bench: Bench
    progress: Callable[[int, int], object] | None = None

    @cached_property
    def sliders(self) -> tuple[Slider, ...]:
        """The sliders with as many steps as the table has rows."""
        return tuple(_stepped(s, PLACES[s.name]) for s in self.bench.sliders)

    def data(self, units: Units) -> dict[str, Any]:
        """Returns the numbers of the page."""
        sizes = picture.sizes(units, picture.ROWS)
        bench, (speeds, leaves, places, slopes) = self.bench, (_values(s) for s in self.sliders)
        ridden = [bench.ways(v, h) for v in speeds for h in leaves]
        there = [bench.built(p, s) for p in places for s in slopes]
        said: dict[str, int] = {}
        cells = []
        for k, ways in enumerate(ridden):
            for built in there:
                one = picture.touched(bench, ways, built)
                words = said.setdefault(one["said"], len(said))
                cells.append([one["judge"], words, one["touches"], picture.sized(one["values"], sizes)])
            if self.progress is not None:
                self.progress(k + 1, len(ridden))
        fixed = picture.fixed(bench, units, picture.ROWS)
        for shown, slider in zip(fixed["sliders"], self.sliders):
            shown.update(low=slider.low, high=slider.high, step=slider.step, start=slider.start)
        return {
            "fixed": fixed,
            "counts": [len(v) for v in (speeds, leaves, places, slopes)],
            "ways": [picture.ways(bench, ways) for ways in ridden],
            "built": [picture.built(bench, built) for built in there],
            "said": list(said),
            "cells": cells,
        }


def _stepped(slider: Slider, count: int) -> Slider:
    """Returns a slider with `count` places, of which one is where it starts."""
    step = (slider.high - slider.low) / (count - 1)
    before = min(count - 1, round((slider.start - slider.low) / step))
    # Shifted so that a place falls on the start, within the ends.
    low = slider.start - before * step
    if low < slider.low - 1e-9:
        low, before = low + step, before - 1
    steps = min(count - 1, int((slider.high - low) / step + 1e-9))
    return replace(slider, low=low, high=low + steps * step, step=step)


def _values(slider: Slider) -> list[float]:
    count = round((slider.high - slider.low) / slider.step) + 1
    return [float(v) for v in np.linspace(slider.low, slider.high, count)]


def page(
    site: Any,
    landing: Any = None,
    who: str | None = None,
    riders: int = 64,
    seed: int = 1,
    units: Units = "metres",
    progress: Callable[[int, int], object] | None = None,
) -> str:
    """Returns a page of HTML with the sliders, which stands alone and asks for nothing from outside.

    Every place of the sliders is reckoned beforehand; the page looks numbers up and draws.

    Args:
        site, landing, who, riders, seed, units: as in `loamline.explore`.
        progress: called with done and total, or None.
    """
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    folder = resources.files(__package__)
    bench = Bench(site, who, landing, riders, seed)
    # A "<" in a name must not end the script.
    table = Table(bench, progress).data(units)
    data = json.dumps(table, separators=(",", ":"), allow_nan=False).replace("<", "\\u003c")
    parts = {name: folder.joinpath(f).read_text("utf-8") for name, f in (("style", "draw.css"), ("draw", "draw.js"))}
    template = folder.joinpath("page.html.j2").read_text(encoding="utf-8")
    shown = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return shown.from_string(template).render(
        site=site, who=bench.who, data=Markup(data), **{name: Markup(text) for name, text in parts.items()}
    )

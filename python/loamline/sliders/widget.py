"""The sliders in a notebook: the page draws, Python reckons."""

from __future__ import annotations

from importlib import resources
from typing import TYPE_CHECKING, Any

import anywidget
import numpy as np
import traitlets

from . import picture
from .bench import Bench, Built, Way

if TYPE_CHECKING:
    from ..plot.units import Units

Setting = tuple[float, float, float, float]


def source(*names: str) -> str:
    """Returns files of this folder, one after the other."""
    folder = resources.files(__package__)
    return "\n".join(folder.joinpath(name).read_text(encoding="utf-8") for name in names)


class Explorer(anywidget.AnyWidget, metaclass=traitlets.MetaHasTraits):
    """Sliders beside side view, plan and numbers; `setting`, `numbers` and `landing` say where they stand.

    Made by `loamline.explore(site)`.
    """

    _esm = source("draw.js", "widget.js")
    _css = source("draw.css")
    fixed = traitlets.Dict().tag(sync=True)
    asked = traitlets.Dict().tag(sync=True)
    answer = traitlets.Dict().tag(sync=True)

    def __init__(self, bench: Bench, units: Units) -> None:
        self._bench = bench
        self._rows = (*picture.ROWS, picture.LOAD)
        self._setting: Setting = self._held([s.start for s in bench.sliders])
        self._ways: tuple[tuple[float, ...], list[Way], list[dict[str, Any]]] | None = None
        self._built: tuple[tuple[float, ...], Built, dict[str, Any]] | None = None
        self._sizes = picture.sizes(units, self._rows)
        super().__init__(fixed=picture.fixed(bench, units, self._rows), answer=self._answer())

    @property
    def setting(self) -> dict[str, float]:
        """Where the sliders stand: `speed` (m/s), `leave` (m), `place` (m out) and `slope` (degrees)."""
        return {s.name: v for s, v in zip(self._bench.sliders, self._setting)}

    @property
    def numbers(self) -> dict[str, float | None]:
        """The numbers beside the pictures, SI, by what they are called; None where there is none."""
        values = [None if v is None else v * size for v, size in zip(self.answer["touched"]["values"], self._sizes)]
        return {label: value for (label, _, _), value in zip(self._rows, values)}

    @property
    def landing(self) -> Any:
        """The landing where the sliders stand, to go on with: `site.ground.with_landing(...)`."""
        return self._bench.landing(*self._setting[2:])

    def move(self, **to: float) -> None:
        """Moves sliders by name, as by hand; values beyond a slider's ends stop there.

        Raises:
            InputError: a name that is none of the sliders'.
        """
        from loamline import InputError

        unknown = sorted(set(to) - set(self.setting))
        if unknown:
            raise InputError(f"{unknown[0]!r} is no slider: expected one of {', '.join(self.setting)}")
        self._setting = self._held([{**self.setting, **to}[s.name] for s in self._bench.sliders])
        self.answer = self._answer()

    @traitlets.observe("asked")
    def _moved(self, change: Any) -> None:
        values = change["new"].get("values")
        if isinstance(values, list) and len(values) == len(self._bench.sliders):
            self._setting = self._held(values)
            self.answer = self._answer(change["new"].get("number"))

    def _held(self, values: list[Any]) -> Setting:
        """Returns numbers within the sliders' ends; what comes from a page may be anything."""
        known = [float(v) if isinstance(v, (int, float)) else np.nan for v in values]
        speed, leave, place, slope = (s.held(v) for s, v in zip(self._bench.sliders, known))
        return speed, leave, place, slope

    def _answer(self, number: Any = 0) -> dict[str, Any]:
        """Reckons what has changed: the ride, the landing, or both."""
        bench, ride, shape = self._bench, self._setting[:2], self._setting[2:]
        if self._ways is None or self._ways[0] != ride:
            ridden = bench.ways(*ride)
            self._ways = ride, ridden, picture.ways(bench, ridden)
        if self._built is None or self._built[0] != shape:
            there = bench.built(*shape)
            self._built = shape, there, picture.built(bench, there)
        _, ridden, ways = self._ways
        _, there, built = self._built
        touched = picture.touched(bench, ridden, there)
        touched["values"].append(picture.load(bench, ridden, there, touched["judge"]))
        touched["values"] = picture.sized(touched["values"], self._sizes)
        return {"number": number, "setting": list(self._setting), "ways": ways, "built": built, "touched": touched}

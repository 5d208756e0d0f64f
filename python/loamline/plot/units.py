"""Units on axes: everything is reckoned in SI, and shown in metres or in feet."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

import numpy as np
from matplotlib.ticker import FuncFormatter, MaxNLocator

# Two words rather than one Literal: the stub checker knows only unions.
Units: TypeAlias = Literal["metres"] | Literal["feet"]


@dataclass(frozen=True)
class Unit:
    """A unit: what it is called and how large it is in SI."""

    name: str
    size: float


@dataclass(frozen=True)
class Scale:
    """The units that go together: those of length, speed and volume; others stay as they are."""

    length: Unit
    speed: Unit
    volume: Unit

    def of(self, unit: str) -> Unit:
        """Returns the unit in which a number in the SI unit `unit` is shown."""
        known = {"m": self.length, "m/s": self.speed, "m³": self.volume}
        return known.get(unit, Unit(unit, 1.0))


# Exact by definition: the international foot and mile (1959).
_FOOT, _MILE_PER_HOUR = 0.3048, 1609.344 / 3600.0
UNITS: dict[str, Scale] = {
    "metres": Scale(Unit("m", 1.0), Unit("m/s", 1.0), Unit("m³", 1.0)),
    "feet": Scale(Unit("ft", _FOOT), Unit("mph", _MILE_PER_HOUR), Unit("yd³", (3.0 * _FOOT) ** 3)),
}
_units: ContextVar[Scale] = ContextVar("units", default=UNITS["metres"])


def scale(units: str) -> Scale:
    """Returns the units that go by a word.

    Raises:
        InputError: a word that is neither "metres" nor "feet".
    """
    if units not in UNITS:
        from loamline import InputError

        error = InputError(f"units = {units!r} is out of range: expected 'metres' or 'feet'")
        error.field, error.value, error.allowed = "units", units, "metres or feet"  # type: ignore[attr-defined]
        raise error
    return UNITS[units]


@contextmanager
def units_of(units: str | None) -> Iterator[None]:
    """Lets units hold for the time of a `with` block; None keeps those that hold, at first metres.

    Raises:
        InputError: a word that is neither "metres" nor "feet".
    """
    token = _units.set(_units.get() if units is None else scale(units))
    try:
        yield
    finally:
        _units.reset(token)


def told(value: float, unit: str, digits: int = 2) -> str:
    """Returns a number in the units that hold, with its unit."""
    other = _units.get().of(unit)
    return f"{value / other.size:.{digits}f} {other.name}"


def worded(text: str) -> str:
    """Returns a sentence with its lengths and speeds in the units that hold."""
    return re.sub(r"(\d+)\.?(\d*) (m/s|m)(?![\w/²³])", _said, text)


def _said(found: re.Match[str]) -> str:
    whole, rest, unit = found.groups()
    return told(float(f"{whole}.{rest or 0}"), unit, len(rest))


def length() -> Unit:
    """Returns the unit of length that holds."""
    return _units.get().length


def show(ax: Any) -> None:
    """Shows axes in the units that hold: round numbers of them, and their names in the labels."""
    bars = [drawn.colorbar for drawn in (*ax.collections, *ax.images) if drawn.colorbar is not None]
    for one in (ax, *ax.child_axes, *(bar.ax for bar in bars)):
        for axis in (one.xaxis, one.yaxis):
            show_axis(axis)


def show_axis(axis: Any) -> None:
    """Shows one axis in the units that hold."""
    words, _, unit = axis.get_label_text().rpartition(", ")
    # A unit may be followed by what it is measured from, as in "m up the hill".
    name, space, rest = unit.partition(" ")
    other = _units.get().of(name)
    if not words or other.name == name:
        return
    axis.set_label_text(f"{words}, {other.name}{space}{rest}")
    axis.set_major_locator(_Round(other.size))
    axis.set_major_formatter(FuncFormatter(lambda value, _: f"{round(value / other.size, 6):g}".replace("-", "−")))


class _Round(MaxNLocator):
    """Ticks at round numbers of another unit."""

    def __init__(self, size: float) -> None:
        super().__init__(nbins="auto", steps=[1, 2, 2.5, 5, 10])
        self._size = size

    def tick_values(self, vmin: float, vmax: float) -> Any:
        return np.asarray(super().tick_values(vmin / self._size, vmax / self._size)) * self._size

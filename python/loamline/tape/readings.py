"""Readings as people say them: lengths in metres, centimetres or feet and inches; angles; counts; names."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

_SIZES = {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "'": 0.3048, "in": 0.0254, '"': 0.0254}
_PART = re.compile(r"\s*([-+]?\d+(?:\.\d*)?|[-+]?\.\d+)\s*(mm|cm|m|ft|in|'|\"|)\s*")
_FEET = ("ft", "'")
_POINT = "; a decimal point, not a comma"


class Unread(ValueError):
    """A reading that is none, and why: for whoever is asked again."""


@dataclass(frozen=True)
class Question:
    """One reading: what is asked, how it is measured, and what can be an answer."""

    key: str
    ask: str
    how: str
    read: Callable[[str], Any]
    unit: str = ""
    default: str | None = None

    def answer(self, text: str) -> Any:
        """Returns what an answer says.

        Raises:
            Unread: an answer that says nothing, or what cannot be.
        """
        text = text.strip()
        if not text and self.default is None:
            raise Unread("an answer is needed here")
        return self.read(text or str(self.default))


def length(text: str) -> float:
    """Returns a length in metres: "2.4", "240 cm", "7 ft 10 in", "7' 10\\""."""
    total, at, units = 0.0, 0, []
    while at < len(text):
        part = _PART.match(text, at)
        if part is None or part.end() == at:
            raise Unread(_not_a_number(text, "a length such as 2.4, 240 cm or 7 ft 10 in"))
        sign = -1.0 if text.lstrip().startswith("-") and at > 0 else 1.0
        total += sign * float(part[1]) * _SIZES[part[2] or "m"]
        units.append(part[2])
        at = part.end()
    if not units or (len(units) > 1 and not (len(units) == 2 and units[0] in _FEET and units[1] in ("in", '"'))):
        raise Unread(_not_a_number(text, "a length such as 2.4, 240 cm or 7 ft 10 in"))
    return _finite(total, text)


def angle(text: str) -> float:
    """Returns an angle in degrees: "24", "24°"."""
    share = re.fullmatch(r"\s*(\d+(?:\.\d*)?)\s*(%|percent)\s*", text)
    if share is not None:
        degrees = math.degrees(math.atan(float(share[1]) / 100.0))
        raise Unread(f"degrees, not percent: {share[1]} % is {degrees:.1f} degrees")
    return number(re.sub(r"\s*(°|deg|degrees)$", "", text.strip()))


def amount(**units: float) -> Callable[[str], float]:
    """Makes a reader of a number that may have one of some units behind it, each worth so much."""

    def read(text: str) -> float:
        for unit, worth in units.items():
            bare = re.fullmatch(rf"(.*\d\.?)\s*{unit}", text.strip())
            if bare is not None:
                return worth * number(bare[1])
        return number(text)

    return read


def number(text: str) -> float:
    """Returns a plain number."""
    try:
        return _finite(float(text), text)
    except ValueError:
        raise Unread(_not_a_number(text, "a number such as 24 or 0.8")) from None


def whole(text: str) -> int:
    """Returns a whole number."""
    value = number(text)
    if value != int(value):
        raise Unread(f"{text} is not a whole number")
    return int(value)


def word(text: str) -> str:
    """Returns a name: printable, on one line."""
    if not text.isprintable() or len(text) > 200:
        raise Unread("a name is up to 200 letters on one line")
    return text


def within(read: Callable[[str], Any], low: float, high: float, unit: str = "m") -> Callable[[str], Any]:
    """Makes a reader that refuses what lies outside a range."""

    def checked(text: str) -> Any:
        value = read(text)
        if not low <= value <= high:
            said = f"{value:g} {unit} is out of range: from {low:g} to {high:g} {unit}".replace("  ", " ")
            raise Unread(said + (_centimetres(text, low, high) if unit == "m" else ""))
        return value

    return checked


def one_of(*words: str) -> Callable[[str], str]:
    """Makes a reader of one of some words, or the beginning of one."""

    def chosen(text: str) -> str:
        found = [one for one in words if one.startswith(text.strip().lower())]
        if len(found) != 1:
            raise Unread(f"one of {', '.join(words)}")
        return found[0]

    return chosen


def row(*reads: Callable[[str], Any]) -> Callable[[str], tuple[Any, ...]]:
    """Makes a reader of several readings on one line, with commas, semicolons or blanks between."""

    def several(text: str) -> tuple[Any, ...]:
        between = next((mark for mark in ";," if mark in text), None)
        parts = [part.strip() for part in text.split(between) if part.strip()]
        # Where blanks or semicolons part the numbers, a comma within one stands for a decimal point.
        hint = _POINT if re.search(r"\d,\d", text) and re.search(r"\d\s*[\s;]\s*-?\d", text) else ""
        if len(parts) != len(reads):
            raise Unread(f"{len(reads)} readings with commas between, not {len(parts)}{hint}")
        try:
            return tuple(read(part) for read, part in zip(reads, parts))
        except Unread as error:
            raise Unread(f"{error}{'' if str(error).endswith(_POINT) else hint}") from None

    return several


def _finite(value: float, text: str) -> float:
    if not math.isfinite(value):
        raise Unread(f"{text} is not finite")
    return value


def _centimetres(text: str, low: float, high: float) -> str:
    """Says how centimetres are written where a bare number would fit as such."""
    bare = re.fullmatch(r"\s*\d+\s*", text) is not None
    return f"; centimetres are written {text.strip()} cm" if bare and low <= float(text) / 100.0 <= high else ""


def _not_a_number(text: str, wanted: str) -> str:
    hint = _POINT if re.fullmatch(r"\s*-?\d+,\d+\s*\S*\s*", text) else ""
    return f"{text!r} is not {wanted}{hint}"

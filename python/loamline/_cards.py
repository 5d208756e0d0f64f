"""Cards that notebooks show: the numbers with their units, a small picture, what to beware of, and a caution."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

from ._card_pictures import picture
from ._card_rows import ROWS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

CAUTION = (
    "Numbers guide a first build and the next test; they certify nothing. Start slow, wear "
    "protection, never test alone; local codes, the land manager and a licensed engineer decide."
)
# Longer lists say how long they are.
_MANY = 6
STYLE = "border:1px solid #bbbbbb;border-radius:4px;padding:.6em .9em;max-width:34em"


def html(thing: Any) -> str:
    """Return the card of a result as HTML."""
    kind = type(thing).__name__
    rows = "".join(_row(label, _cell(thing, name, unit, digits)) for label, name, unit, digits in ROWS[kind])
    parts = [
        f"<div style='{STYLE}'><b>{escape(_title(thing, kind))}</b><table>{rows}</table>",
        picture(thing, kind),
        _list(getattr(thing, "warnings", ())),
        _details(getattr(thing, "explain", None)),
        f"<div><small>{escape(CAUTION)}</small></div></div>",
    ]
    return "".join(parts)


def _title(thing: Any, kind: str) -> str:
    name = getattr(thing, "name", "")
    return f"{kind}: {name}" if name else kind


def _row(label: str, value: str) -> str:
    return f"<tr><td>{escape(label)}</td><td>{escape(value)}</td></tr>"


def _cell(thing: Any, name: str, unit: str, digits: int) -> str:
    value = getattr(thing, name)
    if name == "__len__":
        value = value()
    if value is None:
        return "none"
    if isinstance(value, dict):
        text = ", ".join(f"{key}: {_text(part, digits)}" for key, part in value.items())
    else:
        text = _text(value, digits)
    return f"{text} {unit}".rstrip()


def _text(value: Any, digits: int) -> str:
    if hasattr(value, "tolist"):
        value = tuple(value.tolist())
    if isinstance(value, tuple | list):
        if len(value) > _MANY:
            return f"{len(value)} of them"
        if not value:
            return "none"
        if any(isinstance(part, tuple | list) for part in value) or len(value) != 2:
            inner = ((p, isinstance(p, tuple | list)) for p in value)
            return ", ".join(f"({_text(p, digits)})" if many else _text(p, digits) for p, many in inner)
        return " to ".join(_text(part, digits) for part in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    # Outcomes are words with underscores between them.
    return f"{value:.{digits}f}" if isinstance(value, float) else str(value).replace("_", " ")


def _list(warnings: Iterable[str]) -> str:
    items = "".join(f"<li>{escape(warning)}</li>" for warning in warnings)
    # The words in the notebook's own ink: a warning's colour cannot be read on both papers.
    return f"<ul style='border-left:4px solid #b3470f'>{items}</ul>" if items else ""


def _details(explain: Callable[[], str] | None) -> str:
    if explain is None:
        return ""
    said = f'<div style="white-space: pre-line">{escape(explain())}</div>'
    return f"<details><summary>model and limits</summary>{said}</details>"

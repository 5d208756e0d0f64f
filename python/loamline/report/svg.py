"""Figures as SVG that belongs to the page: its colours, its fonts, no links outside."""

from __future__ import annotations

import io
import re
from collections.abc import Callable

from matplotlib.figure import Figure

from ..plot import style

# Ink and paper follow the page by day and by night.
_INKS = {"INK": "var(--ink)", "PAPER": "var(--paper)"}


def inline(draw: Callable[[], Figure], name: str, title: str) -> str:
    """Returns a figure as `<svg>` elements with ids of their own and a title read aloud: drawn by day and by night.

    The page shows the one of its look, for the marks' colours are not the same on dark paper.
    """
    return _drawn(draw, name, title, "light") + _drawn(draw, f"{name}-night", title, "dark")


def _drawn(draw: Callable[[], Figure], name: str, title: str, look: str) -> str:
    with style.sheet(look):
        text = _text(draw())
        inks = {getattr(style, ink): variable for ink, variable in _INKS.items()}
    text = _own_ids(text, name)
    for ink, variable in inks.items():
        text = text.replace(ink, variable)
    text = re.sub(r"font: ([\d.]+px)[^;\"]*", r"font-size: \1", text)
    shown = {"light": "figure day", "dark": "figure night"}[look]
    return f'<svg role="img" aria-label="{title}" class="{shown}"{text[len("<svg") :]}'


def _text(figure: Figure) -> str:
    """Returns a figure as an `<svg>` element without what only a file of its own needs."""
    file = io.StringIO()
    nothing = {key: None for key in ("Creator", "Date", "Format", "Type")}
    figure.savefig(file, format="svg", metadata=nothing, dpi=170)
    text = file.getvalue()
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    head, rest = text.split(">", 1)
    head = re.sub(r'\s(?:xmlns(?::\w+)?|version|width|height)="[^"]*"', "", head)
    return f"{head}>{rest}"


def _own_ids(text: str, name: str) -> str:
    """Prefixes every id, so that several figures can stand on one page."""
    text = re.sub(r'\bid="([^"]+)"', rf'id="{name}-\1"', text)
    text = re.sub(r'href="#([^"]+)"', rf'href="#{name}-\1"', text)
    return re.sub(r"url\(#([^)]+)\)", rf"url(#{name}-\1)", text)

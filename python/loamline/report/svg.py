"""Figures as SVG that belongs to the page: its colours, its fonts, no links outside."""

from __future__ import annotations

import io
import re

from matplotlib.figure import Figure

from ..plot import style

# Ink and paper follow the page by day and by night.
_INKS = {"INK": "var(--ink)", "PAPER": "var(--paper)"}


def inline(figure: Figure, name: str, title: str) -> str:
    """Returns a figure as an `<svg>` element with ids of its own and a title read aloud."""
    file = io.StringIO()
    nothing = {key: None for key in ("Creator", "Date", "Format", "Type")}
    with style.sheet("light"):
        figure.savefig(file, format="svg", metadata=nothing, dpi=170)
    text = file.getvalue()
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    head, rest = text.split(">", 1)
    head = re.sub(r'\s(?:xmlns(?::\w+)?|version|width|height)="[^"]*"', "", head)
    text = _own_ids(f"{head}>{rest}", name)
    with style.sheet("light"):
        for ink, variable in _INKS.items():
            text = text.replace(getattr(style, ink), variable)
    text = re.sub(r"font: ([\d.]+px)[^;\"]*", r"font-size: \1", text)
    return f'<svg role="img" aria-label="{title}" class="figure"{text[len("<svg") :]}'


def _own_ids(text: str, name: str) -> str:
    """Prefixes every id, so that several figures can stand on one page."""
    text = re.sub(r'\bid="([^"]+)"', rf'id="{name}-\1"', text)
    text = re.sub(r'href="#([^"]+)"', rf'href="#{name}-\1"', text)
    return re.sub(r"url\(#([^)]+)\)", rf"url(#{name}-\1)", text)

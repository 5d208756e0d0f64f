"""The pocket card: one page to fold, from a flag's distance to exit speed, fall height and the next start mark."""

from __future__ import annotations

import textwrap
from typing import Any

from matplotlib.backends.backend_pdf import PdfPages

from .cautions import FIRST

# Why a row has no next mark, or what limits it, by a part of its sentence: short enough for a card.
_WORDS = (
    ("farther up the fall height", "fall height"),
    ("farther up the exit speed", "speed"),
    ("farther up the chance", "chance"),
    ("the run-in's top", "top"),
    ("there is no step", "top"),
    ("earth does not help", "too slow to hold"),
    ("even from", "too risky: build first"),
    ("by the model the last ride", "does not hold"),
)
_HEADS = (
    "ridden\nfrom", "flag\nexpected", "go on only\nfrom - to", "exit\nspeed", "+ a metre\nfarther", "fall\nheight",
    "NEXT\nSTART", "what\nlimits it",
)  # fmt: skip
_LEFTS = (0.0, 0.105, 0.22, 0.385, 0.495, 0.615, 0.715, 0.82)


def pocket_card(card: Any, site: Any, file: Any) -> None:
    """Writes a pocket card as a PDF of one A5 page, black on white.

    Args:
        card: the card, of `found.pocket_card(...)`.
        site: its site.
        file: a path or an open binary file.
    """
    from .plot import sheet

    about = {"Title": f"{site.name}: pocket card", "Creator": "loamline", "CreationDate": None}
    with sheet("light"), PdfPages(file, metadata=about) as pdf:
        pdf.savefig(page(card, site), facecolor="white")


def page(card: Any, site: Any) -> Any:
    """Returns the card's page as a figure."""
    import loamline as ll
    from matplotlib.figure import Figure

    figure = Figure(figsize=(8.27, 5.83))

    def say(x: float, y: float, text: str, **font: Any) -> None:
        figure.text(0.06 + 0.88 * x, y, text, **{"va": "top", "fontsize": 9, **font})

    say(0.0, 0.965, f"{site.name}: pocket card for {card.who}", fontsize=13, weight="bold")
    say(1.0, 0.955, f"loamline {ll.__version__}", fontsize=7, ha="right", color="#555555")
    measured = "Distances level, in metres: starts up the hill from the run-in's end, flags from the edge."
    say(0.0, 0.905, measured, fontsize=8)
    for left, head in zip(_LEFTS, _HEADS):
        say(left, 0.865, head, fontsize=8, weight="bold")
    step = min(0.052, 0.60 / max(1, len(card.rows)))
    for i, row in enumerate(card.rows):
        down = 0.785 - i * step
        for left, text in zip(_LEFTS, _cells(row)):
            bold = left == _LEFTS[6]
            say(left, down, text, fontsize=9.5 if bold else 9, weight="bold" if bold else "normal")
        line = figure.add_artist(_rule(down - 0.8 * step))
        line.set_zorder(0)
    rules = (
        "Read the row of the start that was ridden. A flag outside \"go on only\": ride the same start again, do not "
        "go on. A flag a metre farther out than expected was faster by so much. One step at a time, a flag at "
        "each. " + FIRST
    )
    say(0.0, 0.135, textwrap.fill(rules, 136), fontsize=7.5)
    return figure


def _cells(row: dict[str, Any]) -> tuple[str, ...]:
    following = "stop" if row["next_start"] is None else f"{row['next_start']:.1f} m"
    why = next((short for long, short in _WORDS if long in row["why"]), "see the report")
    return (
        f"{row['start']:.1f} m",
        f"{row['distance']:.2f} m",
        f"{row['nearest']:.1f} - {row['farthest']:.1f} m",
        f"{row['exit_speed']:.1f} m/s",
        f"+{row['speed_per_metre']:.1f} m/s",
        f"{row['fall_height']:.2f} m",
        following,
        why,
    )


def _rule(y: float) -> Any:
    from matplotlib.lines import Line2D

    return Line2D([0.06, 0.94], [y, y], color="#bbbbbb", lw=0.5)

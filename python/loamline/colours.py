"""Colour on a terminal, and nowhere else: a pipe and a file get plain words."""

from __future__ import annotations

import os
import sys
from typing import Literal, TextIO

# Codes of ECMA-48: bold, and the terminal's own red and yellow.
_CODES = {"wrong": "1;31", "beware": "33", "caution": "1"}


def paint(words: str, kind: Literal["wrong", "beware", "caution"], stream: TextIO | None = None) -> str:
    """Returns words in a kind's colour where the stream (standard output) is a terminal that shows colours.

    `NO_COLOR` in the environment (no-color.org) and a terminal that is dumb get none.
    """
    stream = sys.stdout if stream is None else stream
    if not stream.isatty() or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return words
    return f"\x1b[{_CODES[kind]}m{words}\x1b[0m"

"""A line that tells how far long work has come: share, rate and time left."""

from __future__ import annotations

import sys
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import TextIO

WIDTH = 24
TICK = 0.1


class Line:
    """A progress line on `stream` (standard error); call it with `done` and `total`.

    One line a stage, rewritten in place, so it reads in a terminal and in a notebook alike.
    Another total begins another stage.
    """

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream or sys.stderr
        self._total = -1
        self._start = self._last = 0.0
        self._open = False

    def __call__(self, done: int, total: int) -> None:
        """Show `done` of `total`, at most ten times a second and at the end of a stage."""
        now = time.monotonic()
        if total != self._total:
            self._begin(total, now)
        if self._open and (done >= total or now - self._last >= TICK):
            self._last, self._open = now, done < total
            self._stream.write("\r" + text(done, total, now - self._start))
            self._stream.write("" if self._open else "\n")
            self._stream.flush()

    def _begin(self, total: int, now: float) -> None:
        if self._open and self._total > 0:
            self._stream.write("\n")
        self._total, self._start, self._last, self._open = total, now, now - TICK, True


def text(done: int, total: int, seconds: float) -> str:
    """Return the line for `done` of `total` after `seconds`."""
    share = done / total if total else 1.0
    filled = round(share * WIDTH)
    bar = "#" * filled + "." * (WIDTH - filled)
    rate = done / seconds if seconds > 0.0 else 0.0
    left = f"{(total - done) / rate:.1f} s left" if rate else "..."
    return f"[{bar}] {done}/{total} {rate:.0f}/s {left}"

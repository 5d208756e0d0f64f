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

    One line, rewritten in place, so it reads in a terminal and in a notebook alike.
    """

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = stream or sys.stderr
        self._start = time.monotonic()
        self._last = -TICK

    def __call__(self, done: int, total: int) -> None:
        """Show `done` of `total`, at most ten times a second and at the end."""
        now = time.monotonic() - self._start
        if done < total and now - self._last < TICK:
            return
        self._last = now
        end = "\n" if done >= total else ""
        self._stream.write("\r" + text(done, total, now) + end)
        self._stream.flush()


def text(done: int, total: int, seconds: float) -> str:
    """Return the line for `done` of `total` after `seconds`."""
    share = done / total if total else 1.0
    filled = round(share * WIDTH)
    bar = "#" * filled + "." * (WIDTH - filled)
    rate = done / seconds if seconds > 0.0 else 0.0
    left = f"{(total - done) / rate:.1f} s left" if rate else "..."
    return f"[{bar}] {done}/{total} {rate:.0f}/s {left}"

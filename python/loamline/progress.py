"""Progress for people: stages of long work on one line of standard error, silent when piped."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import TextIO

from ._progress import text

# Work that takes less than this needs no words; the line is redrawn no oftener than the tick.
_PATIENCE, _TICK = 1.0, 0.1


class Stages:
    """Shows which stage runs, how far it is and how long it will take.

    Nothing is shown in the first second, nor where the stream is not a terminal. Used in a `with`
    block, the line is wiped at its end, so that what is said next stands alone.
    """

    def __init__(self, stream: TextIO | None = None) -> None:
        self._stream = sys.stderr if stream is None else stream
        self._shown = False
        self._last = 0.0
        self._begin = time.monotonic()
        self._quiet = not self._stream.isatty()

    def __call__(self, name: str) -> Callable[[int, int], None] | None:
        """Begins a stage; returns its hook, called with how much is done of how much."""
        if self._quiet:
            return None
        start = time.monotonic()
        self._show(f"{name} ...", start)

        def hook(done: int, total: int) -> None:
            now = time.monotonic()
            if now - self._last >= _TICK:
                self._show(f"{name} {text(done, total, now - start)}", now)

        return hook

    def __enter__(self) -> Stages:
        return self

    def __exit__(self, *_: object) -> None:
        self.clear()

    def clear(self) -> None:
        """Wipes the line, so that what follows stands alone."""
        if self._shown:
            self._stream.write("\r\x1b[K")
            self._stream.flush()
            self._shown = False

    def _show(self, words: str, now: float) -> None:
        if now - self._begin < _PATIENCE:
            return
        self._last, self._shown = now, True
        self._stream.write(f"\r\x1b[K{words}")
        self._stream.flush()

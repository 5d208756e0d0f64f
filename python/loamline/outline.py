"""The outline of a landing's earth where it meets the ground."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from contourpy import contour_generator

from .frames import deck_outline, lattice_heights

if TYPE_CHECKING:
    from .frames import Array

# Earth thinner than this is what a rake leaves; finer than the grid's step it is not seen.
_THIN, _STEP, _AROUND = 0.01, 0.05, 8.0


def toe(ground: Any, built: Any) -> Array | None:
    """Returns the longest outline of earth over the ground: closed rows of x and y in metres.

    To about 0.05 m, the step of the grid that it is drawn from; None where no earth shows.
    """
    face = deck_outline(built.landing)
    low, high = face.min(axis=0) - _AROUND, face.max(axis=0) + _AROUND
    x, y = np.arange(low[0], high[0], _STEP), np.arange(low[1], high[1], _STEP)
    earth = np.ma.masked_invalid(lattice_heights(built, x, y) - lattice_heights(ground, x, y))
    lines: Any = contour_generator(x, y, earth).lines(_THIN)
    longest: Array | None = max(lines, key=len, default=None)
    return longest

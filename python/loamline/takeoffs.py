"""What the takeoff of a site is called, and how a place on its edge is told."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from .frames import Array


def kind(takeoff: Any) -> str:
    """Returns "wall", "lip" or "drop"."""
    return type(takeoff).__name__.lower()


def place_words(takeoff: Any) -> str:
    """Returns what a place on its edge measures, without the unit; None knows of no takeoff."""
    if takeoff is None:
        return "place on the edge"
    if kind(takeoff) == "wall":
        return "exit height up the panel"
    return "exit to the left of the middle"


def edge(takeoff: Any) -> Array:
    """Returns points along the edge that is left, m, (n, 3): from foot to top, or right to left."""
    return np.asarray(takeoff.mesh(2, 12)[-1])


def feet(takeoff: Any) -> dict[str, Array]:
    """Returns two places that can be taped from, by name: of a wall the feet, else right corners."""
    corners = np.asarray(takeoff.mesh(2, 2)[:, 0], dtype=float)
    if kind(takeoff) == "wall":
        return {"edge foot": corners[1], "wall foot": corners[0]}
    return {"edge, right end": corners[1], f"{kind(takeoff)}'s start, right": corners[0]}

"""Places seen from a landing: along its heading, and across it to the left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Point = tuple[float, float]
# Left, right, bottom, top.
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Heading:
    """A level origin and a direction: the frame in which a landing is measured."""

    x: float
    y: float
    angle: float

    @classmethod
    def of_landing(cls, landing: Any) -> Heading:
        """Returns the frame of a landing: origin at the crest's centre, along its heading."""
        x, y = landing.crest
        return cls(float(x), float(y), float(np.radians(landing.heading_deg)))

    @classmethod
    def of_passes(cls, passes: Any, takeoff: Any) -> Heading:
        """Returns the frame of the mean flight: origin at the edge's foot, along the launches."""
        left = np.isfinite(passes.launch_velocity[:, 0])
        vx, vy = np.mean(passes.launch_velocity[left, :2], axis=0) if left.any() else (1.0, 0.0)
        foot = takeoff.mesh(2, 2)[-1, 0]
        return cls(float(foot[0]), float(foot[1]), float(np.arctan2(vy, vx)))

    def along(self, points: Any) -> Array:
        """Returns how far points lie along the heading, in metres."""
        points = np.asarray(points, dtype=float)
        cos, sin = np.cos(self.angle), np.sin(self.angle)
        return np.asarray((points[..., 0] - self.x) * cos + (points[..., 1] - self.y) * sin)

    def across(self, points: Any) -> Array:
        """Returns how far points lie to the left of the heading, in metres."""
        points = np.asarray(points, dtype=float)
        cos, sin = np.cos(self.angle), np.sin(self.angle)
        return np.asarray((points[..., 1] - self.y) * cos - (points[..., 0] - self.x) * sin)

    def place(self, along: Any, across: Any = 0.0) -> tuple[Array, Array]:
        """Returns the site's x and y of places given along and across, in metres."""
        along, across = np.broadcast_arrays(np.asarray(along, float), np.asarray(across, float))
        cos, sin = np.cos(self.angle), np.sin(self.angle)
        return self.x + along * cos - across * sin, self.y + along * sin + across * cos


def deck_outline(landing: Any) -> Array:
    """Returns the closed outline of a landing's face in plan: five points, x and y in metres."""
    half = landing.width / 2.0
    along = [0.0, landing.length, landing.length, 0.0, 0.0]
    across = [half, half, -half, -half, half]
    return np.column_stack(Heading.of_landing(landing).place(along, across))


def edge_offset(frame: Heading, takeoff: Any) -> float:
    """Returns how far the edge's middle lies along the frame, in metres (before it: negative)."""
    return float(frame.along(takeoff.mesh(2, 3)[-1, 1]))


def lattice_heights(ground: Any, x: Array, y: Array) -> Array:
    """Returns heights over a lattice, in metres: a row for each y, a column for each x."""
    grid_x, grid_y = np.meshgrid(x, y)
    return np.asarray(ground.height(grid_x.ravel(), grid_y.ravel())).reshape(grid_x.shape)

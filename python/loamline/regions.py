"""Regions that hold a share of all marks, from how thickly the marks lie.

The density is a sum of bells over the marks, as wide as Silverman's rule for the plane has it (B. W. Silverman,
Density Estimation, 1986, section 4.3), along the marks' own two main directions. A region is where the density is
above a level that the marks themselves set, so that it holds its share of them whatever its shape.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

# Marks are taken this many at a time, so that memory stays small.
_BLOCK = 256
# Flags are planted to about this much, m (an assumption): no bell is narrower.
_LEAST = 0.05
# Lattice points along each main direction, and how many bells' widths it reaches beyond the marks.
_POINTS, _BEYOND = 160, 3.5


@dataclass(frozen=True)
class Regions:
    """How thickly marks lie (1/m^2) over a lattice of places (m) along the marks' main directions."""

    x: Any
    y: Any
    density: Any
    own: Any
    weight: Any

    @classmethod
    def of(cls, places: Any, weight: Any) -> Regions:
        """Returns the regions of marks.

        Args:
            places: (n, 2), m, all finite, at least two.
            weight: (n,), at least 0, not all 0.
        """
        places, weight = np.asarray(places, dtype=float), np.asarray(weight, dtype=float)
        weight = weight / weight.sum()
        turned, widths = _bells(places, weight)
        scaled = places @ turned / widths
        lattice = [np.linspace(v.min() - _BEYOND, v.max() + _BEYOND, _POINTS) for v in scaled.T]
        # A bell over the plane is one along times one across: the lattice takes a product of two tables.
        along, across = (_bell(u, v) for u, v in zip(lattice, scaled.T))
        size = 2.0 * np.pi * widths.prod()
        grid = np.stack(np.meshgrid(*lattice, indexing="ij"), axis=-1) * widths @ turned.T
        thick = (along * weight) @ across.T / size
        return cls(grid[..., 0], grid[..., 1], thick, _own(scaled, weight) / size, weight)

    def level(self, share: float) -> float:
        """Returns the density above which the marks that lie there make up a share of all."""
        order = np.argsort(self.own)[::-1]
        reached = np.cumsum(self.weight[order])
        at = int(np.searchsorted(reached, share * reached[-1]))
        return float(self.own[order][min(at, len(order) - 1)])


def _bell(a: Any, b: Any) -> Any:
    return np.exp(-0.5 * (a[:, None] - b[None, :]) ** 2)


def _own(scaled: Any, weight: Any) -> Any:
    """Returns the density at the marks themselves, but for the bells' size."""
    blocks = (scaled[first : first + _BLOCK] for first in range(0, len(scaled), _BLOCK))
    return np.concatenate([(_bell(b[:, 0], scaled[:, 0]) * _bell(b[:, 1], scaled[:, 1])) @ weight for b in blocks])


def _bells(places: Any, weight: Any) -> tuple[Any, Any]:
    """Returns the marks' main directions in columns, and the bells' widths along them, m."""
    middle = weight @ places
    spread = (places - middle).T @ ((places - middle) * weight[:, None])
    variance, turned = np.linalg.eigh(spread)
    # As many marks of one weight would say as much (Kish 1965).
    count = 1.0 / float((weight**2).sum())
    widths = np.sqrt(np.maximum(variance, 0.0)) * count ** (-1.0 / 6.0)
    return turned, np.maximum(widths, _LEAST)

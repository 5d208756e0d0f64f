"""Flights onto a bumpy grid of 200 by 200, which is what a first touch has to be looked for on: loamline beside general tools.

All of numba's flights are within 1e-6 m of loamline's: DOP853's steps as long as their error lets them be, a look at the ground at
close places of each step's quintic, and the touch between brackets. A careful way by hand, and no proof that no touch
was jumped over. scipy looks at the ends of steps only.
"""

import numpy as np
from flights import MANY, Scene, loamline_over, rows_of, scipy_until
from growth import bumps

import loamline as ll

NODES = 200


class Bumps(Scene):
    """A scene on bumps, and their heights for others to use."""

    def __init__(self):
        super().__init__()
        self.origin, self.spacing, self.heights = bumps(NODES)
        self.ground = ll.Ground.grid(self.origin, (self.spacing, self.spacing), self.heights)


def height_between(scene):
    """The bilinear height as a function of two numbers, as scipy's event wants it."""
    (x0, y0), spacing, z = scene.origin, scene.spacing, scene.heights

    def height(x, y):
        x, y = (x - x0) / spacing, (y - y0) / spacing
        i, j = min(max(int(x), 0), z.shape[1] - 2), min(max(int(y), 0), z.shape[0] - 2)
        u, v = x - i, y - j
        low, high = z[j, i] * (1 - u) + z[j, i + 1] * u, z[j + 1, i] * (1 - u) + z[j + 1, i + 1] * u
        return low * (1 - v) + high * v

    return height


def scipy_over(scene):
    """Each flight by `solve_ivp` with DOP853 and an event, steps of 0.1 s at most: it looks at their ends only."""
    height = height_between(scene)

    def by_scipy(*flights):
        return scipy_until(lambda _, y: y[2] - height(y[0], y[1]), *flights, max_step=0.1)

    return by_scipy


def numba_over(scene):
    """One loop over flights in compiled code; None without numba."""
    try:
        from by_hand import onto_grid
    except ImportError:
        return None
    origin, heights = np.array(scene.origin), np.ascontiguousarray(scene.heights)

    def by_numba(position, velocity, wind, k, g):
        marks = np.empty_like(position)
        onto_grid(position, velocity, np.array(wind), k, g, origin, 1.0 / scene.spacing, heights, marks)
        return marks

    return by_numba


def onto_a_grid():
    """Rows of name, flights a second, and greatest error in metres; the first is loamline's."""
    scene = Bumps()
    return rows_of(scene, {
        # The ground's bounds are made in each call: the more fly, the less they weigh.
        "loamline, 200,000 a call": loamline_over(scene, 200_000),
        f"loamline, {MANY:,} a call": loamline_over(scene, MANY),
        "numba RK8, first crossing": (numba_over(scene), MANY),
        "scipy DOP853": (scipy_over(scene), 50),
    })  # fmt: skip

"""A ride along a swept wall computed a second way.

The wall is written out here from its definition: a plan curve, a bank that grows linearly along it
and a flat panel. Points and normals are exact; along each smooth piece of the line the centre of mass
is expanded in Chebyshev polynomials, whose derivatives give the curvature that the loads need. The
ride is SciPy's DOP853 on the energy equation. Nothing of Loamline's is used.
"""

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
from numpy.polynomial import chebyshev
from scipy.integrate import quad_vec, solve_ivp

UP = np.array([0.0, 0.0, 1.0])
NODES = 32


@dataclass(frozen=True)
class Piece:
    """A part of the plan whose curvature changes linearly: straight, arc or clothoid."""

    length: float
    start: float  # curvature where it begins, left positive, 1/m
    end: float

    def curvature(self, s):
        return self.start + (self.end - self.start) * s / self.length

    def turned(self, s):
        return self.start * s + 0.5 * (self.end - self.start) * s**2 / self.length


@dataclass(frozen=True)
class Wall:
    pieces: tuple
    bank: tuple  # radians at start and end
    grade: float
    position: tuple = (0.0, 0.0, 0.0)
    heading: float = 0.0
    outside: float = -1.0  # -1: the outside lies to the right (a left turn); +1: to the left

    @property
    def length(self):
        return sum(piece.length for piece in self.pieces)

    @cached_property
    def starts(self):
        """Station, heading and level position at which each piece begins."""
        s, heading, place = 0.0, self.heading, np.array(self.position[:2], float)
        starts = []
        for piece in self.pieces:
            starts.append((s, heading, place))
            place = place + self._walked(piece, heading, piece.length)
            s, heading = s + piece.length, heading + piece.turned(piece.length)
        return starts

    @staticmethod
    @cache
    def _walked(piece, heading, distance):
        def forward(s):
            angle = heading + piece.turned(s)
            return np.array([np.cos(angle), np.sin(angle)])

        return quad_vec(forward, 0.0, distance, epsabs=1e-13, epsrel=1e-13)[0]

    def surface(self, index, s, q):
        """The point, and the two tangents of the surface, on one piece at station `s`, height `q`."""
        piece = self.pieces[index]
        start, heading, place = self.starts[index]
        along = s - start
        angle = heading + piece.turned(along)
        forward = np.array([np.cos(angle), np.sin(angle), 0.0])
        left = np.array([-np.sin(angle), np.cos(angle), 0.0])
        out, curvature = self.outside * left, piece.curvature(along)
        rate = (self.bank[1] - self.bank[0]) / self.length
        bank = self.bank[0] + rate * s
        foot = np.append(place + self._walked(piece, heading, along), self.position[2] + self.grade * s)
        panel = np.cos(bank) * out + np.sin(bank) * UP
        # left' = -curvature * forward
        turning = -self.outside * curvature * np.cos(bank) * forward
        panel_rate = rate * (-np.sin(bank) * out + np.cos(bank) * UP) + turning
        return foot + q * panel, forward + self.grade * UP + q * panel_rate, panel


@dataclass(frozen=True)
class Climb:
    """The line's height up the panel: a quintic, level and uncurved at both ends."""

    enter: float
    leave: float
    length: float

    def height(self, s):
        x = s / self.length
        return self.enter + (self.leave - self.enter) * x**3 * (10 - 15 * x + 6 * x**2)

    def slope(self, s):
        x = s / self.length
        return (self.leave - self.enter) / self.length * 30 * x**2 * (1 - x) ** 2


class Stretch:
    """One smooth piece of the line, in Chebyshev polynomials of the station along the foot."""

    def __init__(self, wall, climb, index, com_height):
        begin = wall.starts[index][0]
        self.span = (begin, begin + wall.pieces[index].length)
        middle, half = sum(self.span) / 2, (self.span[1] - self.span[0]) / 2
        self.to_unit = lambda s: (s - middle) / half
        nodes = np.cos(np.pi * (np.arange(NODES) + 0.5) / NODES)
        rows = [self._sample(wall, climb, index, com_height, middle + half * x) for x in nodes]
        series = chebyshev.chebfit(nodes, np.array(rows), NODES - 1)
        slope = chebyshev.chebder(series[:, 6:]) / half
        bend = chebyshev.chebder(slope[:, :3]) / half
        # One table of tangent, normal, centre, speed, their slopes and the centre's bend.
        self.table = np.zeros((NODES, 17))
        self.table[:, :10], self.table[:-1, 10:14], self.table[:-2, 14:] = series, slope, bend

    @staticmethod
    def _sample(wall, climb, index, com_height, s):
        point, along, panel = wall.surface(index, s, climb.height(s))
        tangent = along + climb.slope(s) * panel
        normal = np.cross(along, panel)
        normal *= np.sign(normal[2]) / np.linalg.norm(normal)
        speed = np.linalg.norm(tangent)
        return np.concatenate([tangent / speed, normal, point + com_height * normal, [speed]])

    def frame(self, s):
        """Tangent, normal, centre of mass, its two derivatives per metre of line, and dl/ds."""
        row = chebyshev.chebval(self.to_unit(s), self.table)
        rate, rate_slope = row[9], row[13]
        first = row[10:13] / rate
        second = (row[14:17] - first * rate_slope) / rate**2
        return row[0:3], row[3:6], row[6:9], first, second, rate


@dataclass(frozen=True)
class Rider:
    mass: float
    cda: float
    crr: float
    com_height: float
    rotating: float = 0.0  # the wheels' spin, as a share of the mass


@dataclass(frozen=True)
class Surroundings:
    density: float
    wind: tuple
    gravity: float = 9.80665


def ride(wall, climb, rider, air, speed):
    """Position and velocity of the centre of mass at the edge, or None where the ride ends early."""
    stretches = [Stretch(wall, climb, i, rider.com_height) for i in range(len(wall.pieces))]
    k = 0.5 * air.density * rider.cda / rider.mass
    wind, g = np.array(air.wind, float), air.gravity

    def speed_squared(work, frame):
        _, _, centre, first, _, _ = frame
        return 2 * (work - g * centre[2]) / (first @ first + rider.rotating)

    frame = stretches[0].frame(0.0)
    _, _, centre, first, _, _ = frame
    work = 0.5 * (first @ first + rider.rotating) * speed**2 + g * centre[2]
    for stretch in stretches:

        def losses(s, state, stretch=stretch):
            frame = stretch.frame(s)
            _, normal, _, first, second, rate = frame
            square = max(speed_squared(state[0], frame), 0.0)
            relative = first * np.sqrt(square) - wind
            drag = k * np.linalg.norm(relative) * relative
            load = normal @ (second * square + drag) + g * normal[2]
            return [-rate * (rider.crr * max(load, 0.0) + drag @ first)]

        def load_left(s, state, stretch=stretch):
            _, normal, _, _, second, _ = frame = stretch.frame(s)
            square = speed_squared(state[0], frame)
            return min(square - 0.25, normal @ second * square + 0.5 * g * normal[2])

        load_left.terminal = True
        run = solve_ivp(
            losses, stretch.span, [work], method="DOP853", rtol=1e-12, atol=1e-12, events=load_left
        )
        if run.status != 0:
            return None
        work = run.y[0, -1]
    frame = stretches[-1].frame(stretches[-1].span[1])
    _, _, centre, first, _, _ = frame
    return centre, first * np.sqrt(speed_squared(work, frame))

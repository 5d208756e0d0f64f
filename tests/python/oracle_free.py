"""A free line on a swept wall computed a second way.

The wall and the surface parallel to it at the height of the centre of mass are expanded, piece by piece,
in Chebyshev polynomials of station and height, from their definitions in `oracle_wall`. At each
instant Newton's law in space gives the second derivatives of station and height and the load on
the surface at once, three equations for three unknowns; SciPy's DOP853 integrates them in time.
Nothing of Loamline's is used.
"""

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import chebyshev
from scipy.integrate import solve_ivp

NODES = (20, 12)  # along the foot, up the panel
ORDERS = [np.arange(count) for count in NODES]


@dataclass(frozen=True)
class Exit:
    station: float
    height: float
    speed: float
    time: float


def nodes(count):
    return np.cos(np.pi * (np.arange(count) + 0.5) / count)


class Sheet:
    """One smooth piece of a wall and of its parallel surface."""

    def __init__(self, wall, index, width, com_height):
        begin = wall.starts[index][0]
        self.spans = np.array([[begin, begin + wall.pieces[index].length], [-0.1, width + 0.1]])
        self.middle, self.half = self.spans.mean(axis=1), np.ptp(self.spans, axis=1) / 2
        values = np.zeros((*NODES, 9))
        for i, x in enumerate(nodes(NODES[0])):
            # A flat panel: point and tangent grow evenly with the height.
            low, high = (wall.surface(index, self.middle[0] + self.half[0] * x, q) for q in (0, 1))
            panel = low[2]
            for j, y in enumerate(nodes(NODES[1])):
                q = self.middle[1] + self.half[1] * y
                point, along = (a + q * (b - a) for a, b in zip(low[:2], high[:2], strict=True))
                normal = np.cross(along, panel)
                normal *= np.sign(normal[2]) / np.linalg.norm(normal)
                values[i, j] = np.concatenate([normal, point, point + com_height * normal])
        fits = [np.linalg.inv(chebyshev.chebvander(nodes(n), n - 1)) for n in NODES]
        series = np.einsum("ai,bj,ijk->abk", *fits, values)
        parts = [series]
        for orders in ((1, 0), (0, 1), (2, 0), (1, 1), (0, 2)):
            parts.append(self._derivative(series[..., 3:], orders))
        self.table = np.concatenate(parts, axis=2).reshape(NODES[0], -1)

    def _derivative(self, series, orders):
        for axis, order in enumerate(orders):
            if order:
                series = chebyshev.chebder(series, order, scl=1 / self.half[axis], axis=axis)
        padding = [(0, full - now) for full, now in zip(NODES, series.shape[:2], strict=True)]
        return np.pad(series, [*padding, (0, 0)])

    def at(self, s, q):
        """The normal; point and centre; and the five derivatives (s, q, ss, sq, qq) of both."""
        # Complex, for a step may try places beyond the piece.
        x, y = np.arccos((np.array([s, q], complex) - self.middle) / self.half)
        row = np.cos(ORDERS[0] * x).real @ self.table
        flat = np.cos(ORDERS[1] * y).real @ row.reshape(NODES[1], -1)
        return flat[:3], flat[3:9].reshape(2, 3), flat[9:].reshape(5, 2, 3)


def moving(sheet, state):
    """The sheet at a state, and the velocities of tyres and centre of mass."""
    s, q, ds, dq = state
    normal, (_, centre), slopes = sheet.at(s, q)
    tyres, velocity = slopes[0] * ds + slopes[1] * dq
    return normal, centre, slopes, tyres, velocity


class Free:
    def __init__(self, wall, rider, air):
        self.wall, self.rider, self.air = wall, rider, air
        self.k = 0.5 * air.density * rider.cda / rider.mass
        self.wind, self.weight = np.array(air.wind, float), np.array([0.0, 0.0, -air.gravity])

    def newton(self, sheet, state):
        """The second derivatives of station and height by time, and the load per mass."""
        normal, _, slopes, tyres, velocity = moving(sheet, state)
        _, _, ds, dq = state
        bend = slopes[2] * ds**2 + 2 * slopes[3] * ds * dq + slopes[4] * dq**2
        speed = np.linalg.norm(tyres)
        forward = tyres / speed
        back = forward / (forward @ velocity / speed)
        relative = velocity - self.wind
        drag = -self.k * np.linalg.norm(relative) * relative
        spin = self.rider.rotating
        columns = [slopes[i, 1] + spin * (forward @ slopes[i, 0]) * back for i in (0, 1)]
        columns.append(self.rider.crr * back - normal)
        right = self.weight + drag - bend[1] - spin * (forward @ bend[0]) * back
        return np.linalg.solve(np.array(columns).T, right)

    def energy(self, tyres, velocity):
        return 0.5 * (velocity @ velocity + self.rider.rotating * tyres @ tyres)

    def over_joint(self, before, after, state):
        """Over the crease at the angle to the ruling at which it comes, with the energy kept."""
        _, centre, slopes, tyres, velocity = moving(before, state)
        energy = self.energy(tyres, velocity) - self.weight @ centre
        ruling = slopes[1, 0] / np.linalg.norm(slopes[1, 0])
        climb = tyres @ ruling / np.linalg.norm(tyres)
        _, _, slopes = after.at(*state[:2])
        along = slopes[0, 0]
        ahead = along - ruling * (along @ ruling)
        ds = np.sqrt(1 - climb**2) / np.linalg.norm(ahead)
        rates = np.array([ds, climb - ds * (along @ ruling)])
        unit = np.concatenate([state[:2], rates])
        _, centre, _, tyres, velocity = moving(after, unit)
        rates *= np.sqrt((energy + self.weight @ centre) / self.energy(tyres, velocity))
        return np.concatenate([state[:2], rates])

    def ride(self, width, enter, speed):
        """Where, how fast and when the end edge is left; None where the line ends before."""
        sheets = [
            Sheet(self.wall, i, width, self.rider.com_height) for i in range(len(self.wall.pieces))
        ]
        along = sheets[0].at(0.0, enter)[2][0, 0]
        state, time = np.array([0.0, enter, speed / np.linalg.norm(along), 0.0]), 0.0
        for i, sheet in enumerate(sheets):
            if i > 0:
                state = self.over_joint(sheets[i - 1], sheet, state)
            end = sheet.spans[0, 1]

            def rates(_, y, sheet=sheet):
                return np.concatenate([y[2:], self.newton(sheet, y)[:2]])

            def piece_left(_, y, end=end):
                return end - y[0]

            def panel_left(_, y, sheet=sheet):
                return min(y[1], width - y[1], self.newton(sheet, y)[2], y[2])

            piece_left.terminal = panel_left.terminal = True
            run = solve_ivp(
                rates, (time, time + 10.0), state, method="DOP853", rtol=1e-12, atol=1e-12,
                events=(piece_left, panel_left),
            )  # fmt: skip
            if len(run.t_events[0]) == 0:
                return None
            state, time = run.y[:, -1], run.t[-1]
        _, _, _, tyres, _ = moving(sheets[-1], state)
        return Exit(state[0], state[1], np.linalg.norm(tyres), time)

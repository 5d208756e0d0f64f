"""A flight computed a second way: SciPy's DOP853 at its tightest, nothing of Loamline's."""

import numpy as np
from scipy.integrate import solve_ivp

TIGHT = {"method": "DOP853", "rtol": 1e-12, "atol": 1e-12}


def drag_constant(density, cda, mass):
    return 0.5 * density * cda / mass


class Path:
    """The point's path under gravity and quadratic drag in a steady wind, from t = 0 to `duration`.

    `at(t)` starts again from the nearest stored step below `t`, so that no interpolant is trusted.
    """

    def __init__(self, position, velocity, k, wind, gravity, duration):
        wind, down = np.asarray(wind, float), np.array([0.0, 0.0, -gravity])

        def rates(_, state):
            relative = state[3:] - wind
            drag = k * np.linalg.norm(relative) * relative
            return np.concatenate([state[3:], down - drag])

        self.rates = rates
        start = np.concatenate([position, velocity]).astype(float)
        self.solution = solve_ivp(rates, (0.0, duration), start, dense_output=True, **TIGHT)
        assert self.solution.success

    def at(self, t):
        step = max(np.searchsorted(self.solution.t, t, side="right") - 1, 0)
        before = self.solution.t[step]
        if t == before:
            return self.solution.y[:, step]
        end = solve_ivp(self.rates, (before, t), self.solution.y[:, step], **TIGHT)
        return end.y[:, -1]

    def sampled(self, t):
        """Positions and velocities at many times, from the dense output (to about 1e-9)."""
        return self.solution.sol(t).T


def polished(path, gap, gap_rate, t):
    """The time near `t` at which `gap(state)` is zero, by Newton's method along the path."""
    for _ in range(6):
        state = path.at(t)
        step = gap(state) / gap_rate(state)
        t -= step
        if abs(step) < 1e-15:
            break
    return t, path.at(t)

"""Loamline's own way onto a plane, written in Python and compiled by numba: what the algorithm gives by itself.

The hodograph of quadratic drag by Gauss rules of 10, 16 or 24 nodes, and a Taylor step on to the touch: see
docs/explain/many-flights.md. Flights that it is no good for come out NaN.
"""

import numpy as np
from numba import njit

RULES = tuple(np.polynomial.legendre.leggauss(nodes) for nodes in (10, 16, 24))
#: How far each rule is good: half the turn times (1 + growth of the drag) is below the limit.
LIMITS = ((4.0, 1.3), (3.0, 3.0), (3.0, 6.4))


@njit(fastmath=True)
def guessed(u_h, u_z, gap, drift, by_x, by_z, k, g):
    """The velocity through the air at about the touch."""
    rate = by_x * u_h + by_z * u_z + drift
    fall = by_z * g
    third = (rate + np.sqrt(rate * rate + 2.0 * fall * gap)) / (3.0 * fall)
    u_z_third = u_z - g * third
    drag = k * np.sqrt(u_h * u_h + u_z_third * u_z_third)
    pull = by_x * drag * u_h + by_z * drag * u_z_third + fall
    time = (rate + np.sqrt(rate * rate + 2.0 * gap * pull)) / pull
    half_h = u_h - drag * u_h * time / 2.0
    half_z = u_z - (g + drag * u_z_third) * time / 2.0
    drag = k * np.sqrt(half_h * half_h + half_z * half_z)
    return u_h - drag * half_h * time, u_z - (drag * half_z + g) * time


@njit(fastmath=True)
def flown(u_h, u_z, end_h, end_z, k, g, nodes, weights):
    """Time, way along and up through the air, and the velocity at its end."""
    s0, s1 = np.arcsinh(u_z / u_h), np.arcsinh(end_z / end_h)
    middle, half = (s0 + s1) / 2.0, (s0 - s1) / 2.0
    base = 1.0 / (u_h * u_h) + k / g * (np.sinh(s0) * np.cosh(s0) + s0)
    time = x = z = 0.0
    for node, weight in zip(nodes, weights):
        s = middle + half * node
        up = np.exp(s)
        sinh, cosh = (up - 1.0 / up) / 2.0, (up + 1.0 / up) / 2.0
        r = 1.0 / (base - k / g * (sinh * cosh + s))
        time += weight * cosh * np.sqrt(r)
        x += weight * cosh * r
        z += weight * cosh * r * sinh
    scale = half / g
    h = 1.0 / np.sqrt(base - k / g * (np.sinh(s1) * np.cosh(s1) + s1))
    return time * scale, x * scale, z * scale, h, h * end_z / end_h


@njit(fastmath=True)
def closed(gap, rate, u_h, u_z, by_x, by_z, k, g):
    """The step to the touch by Newton's method on a quartic, and the ways along and up in it."""
    speed = np.sqrt(u_h * u_h + u_z * u_z)
    a_h, a_z = -k * speed * u_h, -k * speed * u_z - g
    faster = (u_h * a_h + u_z * a_z) / speed
    j_h, j_z = -k * (faster * u_h + speed * a_h), -k * (faster * u_z + speed * a_z)
    more = (a_h * a_h + a_z * a_z + u_h * j_h + u_z * j_z - faster * faster) / speed
    n_h = -k * (more * u_h + 2.0 * faster * a_h + speed * j_h)
    n_z = -k * (more * u_z + 2.0 * faster * a_z + speed * j_z)
    a, j, n = by_x * a_h + by_z * a_z, by_x * j_h + by_z * j_z, by_x * n_h + by_z * n_z
    t = -gap / rate
    for _ in range(3):
        value = gap + t * (rate + t * (a / 2.0 + t * (j / 6.0 + t * n / 24.0)))
        t -= value / (rate + t * (a + t * (j / 2.0 + t * n / 6.0)))
    x = t * (u_h + t * (a_h / 2.0 + t * (j_h / 6.0 + t * n_h / 24.0)))
    z = t * (u_z + t * (a_z / 2.0 + t * (j_z / 6.0 + t * n_z / 24.0)))
    return t, x, z


@njit(fastmath=True)
def fly(position, velocity, wind, normal, k, g, rules, limits, marks):
    """Marks of all flights, one after another."""
    for i in range(len(position)):
        p, u = position[i], velocity[i] - wind
        u_h = np.sqrt(u[0] * u[0] + u[1] * u[1])
        along_x, along_y = u[0] / u_h, u[1] / u_h
        by_x, by_z = normal[0] * along_x + normal[1] * along_y, normal[2]
        gap = normal[0] * p[0] + normal[1] * p[1] + normal[2] * p[2]
        drift = normal[0] * wind[0] + normal[1] * wind[1] + normal[2] * wind[2]
        end_h, end_z = guessed(u_h, u[2], gap, drift, by_x, by_z, k, g)
        turn = (np.arcsinh(u[2] / u_h) - np.arcsinh(end_z / end_h)) / 2.0
        fastest = max(u_h * u_h + u[2] * u[2], end_h * end_h + end_z * end_z) * k / g
        marks[i] = np.nan
        for rule in range(3):
            if turn * (1.0 + limits[rule][0] * fastest) < limits[rule][1]:
                nodes, weights = rules[rule]
                time, x, z, end_h, end_z = flown(u_h, u[2], end_h, end_z, k, g, nodes, weights)
                left = gap + drift * time + by_x * x + by_z * z
                rate = by_x * end_h + by_z * end_z + drift
                t, more_x, more_z = closed(left, rate, end_h, end_z, by_x, by_z, k, g)
                time, x, z = time + t, x + more_x, z + more_z
                marks[i, 0] = p[0] + wind[0] * time + along_x * x
                marks[i, 1] = p[1] + wind[1] * time + along_y * x
                marks[i, 2] = p[2] + wind[2] * time + z
                break

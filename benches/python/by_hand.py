"""Flights onto a plane or a grid by hand, compiled by numba: DOP853's steps with control of their error, and the touch.

Onto a grid, each step's places are those of the quintic through both its ends, which is looked at as closely as the grid's cells ask for; where
it is below the ground, the touch lies between that place and the one before, and from there steps of the same
method go on to it by Newton's method.
"""

import numpy as np
import rk8
from numba import njit

step = rk8.compiled()

#: How far the velocity may be off after a step onto a plane and onto a grid, m/s: all flights are within 1e-8 m and 1e-6 m then.
FINE, ROUGH = 1e-9, 5e-8
#: The longest step, and the first, s.
LONGEST, FIRST = 0.4, 0.2
#: Places looked at are at most so far from one another, in cells.
CLOSE = 1.0
#: The touch is polished to this, m.
TOUCHING = 1e-9


@njit(fastmath=True)
def over(x, y, z, origin, per_metre, heights):
    """How far a place is above the ground, bilinear between heights."""
    x, y = (x - origin[0]) * per_metre, (y - origin[1]) * per_metre
    i = min(max(int(x), 0), heights.shape[1] - 2)
    j = min(max(int(y), 0), heights.shape[0] - 2)
    u, v = x - i, y - j
    low = heights[j, i] + u * (heights[j, i + 1] - heights[j, i])
    high = heights[j + 1, i] + u * (heights[j + 1, i + 1] - heights[j + 1, i])
    return z - low - v * (high - low)


@njit(fastmath=True)
def terms(p, q, v, w, a, b, h):
    """The quintic that meets place, velocity and acceleration at both ends, by powers of the share of the way."""
    v, w, a, b = v * h, w * h, 0.5 * a * h * h, b * h * h
    d0, d1, d2 = q - p - v - a, w - v - 2.0 * a, b - 2.0 * a
    return v, a, 10.0 * d0 - 4.0 * d1 + 0.5 * d2, -15.0 * d0 + 7.0 * d1 - d2, 6.0 * d0 - 3.0 * d1 + 0.5 * d2


@njit(fastmath=True)
def at(p, t, s):
    return p + s * (t[0] + s * (t[1] + s * (t[2] + s * (t[3] + s * t[4]))))


@njit(fastmath=True)
def pull(ux, uy, uz, k, g):
    """The acceleration at a velocity through the air."""
    drag = -k * np.sqrt(ux * ux + uy * uy + uz * uz)
    return drag * ux, drag * uy, drag * uz - g


@njit(fastmath=True)
def between(low, high, f_low, f_high, start, tx, ty, tz, ground):
    """The share of the way at which a quintic meets the ground, by false position; an end that stays weighs half."""
    px, py, pz = start
    for _ in range(40):
        s = (low * f_high - high * f_low) / (f_high - f_low)
        f = over(at(px, tx, s), at(py, ty, s), at(pz, tz, s), *ground)
        if abs(f) < TOUCHING:
            break
        if f < 0.0:
            high, f_high, f_low = s, f, 0.5 * f_low
        else:
            low, f_low, f_high = s, f, 0.5 * f_high
    return s


@njit(fastmath=True)
def crossing(start, end, u0, u1, h, wind, k, g, ground):
    """The share of a step at which its quintic first meets the ground; 2 where it does not."""
    (px, py, pz), (qx, qy, qz), (wx, wy, wz) = start, end, wind
    (ax, ay, az), (bx, by, bz) = pull(u0[0], u0[1], u0[2], k, g), pull(u1[0], u1[1], u1[2], k, g)
    tx = terms(px, qx, u0[0] + wx, u1[0] + wx, ax, bx, h)
    ty = terms(py, qy, u0[1] + wy, u1[1] + wy, ay, by, h)
    tz = terms(pz, qz, u0[2] + wz, u1[2] + wz, az, bz, h)
    looks = int(max(abs(qx - px), abs(qy - py)) * ground[1] / CLOSE) + 1
    last = over(px, py, pz, *ground)
    for look in range(1, looks + 1):
        s = look / looks
        gap = over(at(px, tx, s), at(py, ty, s), at(pz, tz, s), *ground)
        if gap < 0.0:
            return between(s - 1.0 / looks, s, last, gap, start, tx, ty, tz, ground)
        last = gap
    return 2.0


@njit(fastmath=True)
def next_step(h, error, tolerance):
    """How long the next step may be."""
    return 0.9 * h * min(3.0, max(0.3, np.sqrt(np.sqrt(np.sqrt(tolerance / (error + 1e-30))))))


@njit(fastmath=True)
def one_onto_grid(p, u, wind, k, g, ground, highest):
    """Where one flight touches."""
    h, (wx, wy, wz) = FIRST, wind
    for _ in range(1000):
        px, py, pz, ux, uy, uz, error = step(p[0], p[1], p[2], u[0], u[1], u[2], h, wx, wy, wz, k, g)
        good = next_step(h, error, ROUGH)
        if error > ROUGH:
            h = good
            continue
        # Under gravity a step is lowest at one of its ends.
        if min(p[2], pz) < highest:
            s = crossing(p, (px, py, pz), u, (ux, uy, uz), h, wind, k, g, ground)
            if s <= 1.0:
                px, py, pz, ux, uy, uz, _ = step(p[0], p[1], p[2], u[0], u[1], u[2], s * h, wx, wy, wz, k, g)
                vx, vy, vz = ux + wx, uy + wy, uz + wz
                gap, soon = over(px, py, pz, *ground), 1e-6
                rate = (over(px + soon * vx, py + soon * vy, pz + soon * vz, *ground) - gap) / soon
                t = -gap / rate
                return px + t * vx, py + t * vy, pz + t * vz
        p, u, h = (px, py, pz), (ux, uy, uz), min(good, LONGEST)
    return np.nan, np.nan, np.nan


@njit(fastmath=True)
def onto_grid(position, velocity, wind, k, g, origin, per_metre, heights, marks):
    """Marks of all flights, one after another."""
    ground, (wx, wy, wz) = (origin, per_metre, heights), wind
    highest = heights.max()
    for i in range(len(position)):
        p = (position[i, 0], position[i, 1], position[i, 2])
        u = (velocity[i, 0] - wx, velocity[i, 1] - wy, velocity[i, 2] - wz)
        marks[i] = one_onto_grid(p, u, (wx, wy, wz), k, g, ground, highest)


@njit(fastmath=True)
def one_onto_plane(p, u, wind, k, g, normal):
    """Where one flight touches a plane through the origin."""
    (px, py, pz), (ux, uy, uz), (wx, wy, wz), (nx, ny, nz) = p, u, wind, normal
    h, gap = FIRST, 1.0
    while gap > 0.0:
        qx, qy, qz, ax, ay, az, error = step(px, py, pz, ux, uy, uz, h, wx, wy, wz, k, g)
        good = next_step(h, error, FINE)
        if error > FINE:
            h = good
            continue
        px, py, pz, ux, uy, uz, h = qx, qy, qz, ax, ay, az, min(good, LONGEST)
        gap = nx * px + ny * py + nz * pz
    # Back to the touch: by what it would be without drag, and the rest straight on.
    fall = nz * g
    for turn in range(3):
        gap, rate = nx * px + ny * py + nz * pz, nx * (ux + wx) + ny * (uy + wy) + nz * (uz + wz)
        h = -2.0 * gap / (rate - np.sqrt(rate * rate + 2.0 * fall * gap))
        if turn == 2:
            break
        px, py, pz, ux, uy, uz, error = step(px, py, pz, ux, uy, uz, h, wx, wy, wz, k, g)
    px, py, pz = px + h * (ux + wx), py + h * (uy + wy), pz + h * (uz + wz)
    return px, py, pz


@njit(fastmath=True)
def onto_plane(position, velocity, wind, k, g, normal, marks):
    """Marks of all flights, one after another."""
    wx, wy, wz = wind
    for i in range(len(position)):
        p = (position[i, 0], position[i, 1], position[i, 2])
        u = (velocity[i, 0] - wx, velocity[i, 1] - wy, velocity[i, 2] - wz)
        marks[i] = one_onto_plane(p, u, (wx, wy, wz), k, g, (normal[0], normal[1], normal[2]))

"""Flights a second from Python, on one thread: loamline beside general tools that do the same work.

`make bench` runs it by table.py. Launches, winds and ground are those of benches/batch.rs. Every way is held to loamline's
single flights first, and its greatest error stands in the table. numba is taken where it is installed.
"""

import platform
import statistics
import time
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp

import loamline as ll

WINDS = [(0.0, 0.0, 0.0), (-4.0, 4.0, -0.5), (3.0, -2.0, 0.5), (6.0, 0.0, 0.0)]
SLOPE = 0.12
NORMAL = np.array([np.sin(SLOPE), 0.0, np.cos(SLOPE)])
#: Rounds of a way, and seconds that they last, at least.
ROUNDS, LEAST = 7, 0.5
#: Places kept of each path.
SAMPLES = 200
#: Flights of each wind that a way flies at once, few enough for all arrays to stay in a machine's cache.
MANY = 10_000
#: How scipy solves.
SCIPY = {"method": "DOP853", "rtol": 1e-10, "atol": 1e-10}


def launches(n):
    """Positions and velocities, invented: 4 to 14 m/s, pitched up to 40 degrees, turned up to 30."""
    part = np.modf(np.outer(np.arange(1, n + 1), np.sqrt([2.0, 3.0, 5.0, 7.0, 11.0, 13.0])))[0]
    speed, pitch = 4.0 + 10.0 * part[:, 0], np.radians(40.0) * part[:, 1]
    yaw, level = np.radians(60.0) * (part[:, 2] - 0.5), speed * np.cos(pitch)
    velocity = np.stack([level * np.cos(yaw), level * np.sin(yaw), speed * np.sin(pitch)], axis=1)
    position = np.stack([part[:, 3] - 0.5, part[:, 4] - 0.5, 2.0 + part[:, 5]], axis=1)
    return position, velocity


def drag_of(rider, air):
    return 0.5 * air.density * rider.cda / rider.mass


def pulled(wind, k, g):
    """The right side of a flight's equations, as scipy wants it."""
    wind, pull = np.array(wind), np.array([0.0, 0.0, -g])

    def rate(_, y):
        u = y[3:] - wind
        return np.concatenate([y[3:], pull - k * np.sqrt(u @ u) * u])

    return rate


def scipy_until(gap, position, velocity, wind, k, g, **how):
    """Each flight by `solve_ivp` with DOP853 and an event where a gap closes, tolerances of 1e-10."""
    gap.terminal, gap.direction = True, -1
    rate, marks = pulled(wind, k, g), np.empty_like(position)
    for i, start in enumerate(np.hstack([position, velocity])):
        way = solve_ivp(rate, (0.0, 60.0), start, events=gap, **SCIPY, **how)
        marks[i] = way.y_events[0][0][:3]
    return marks


def by_scipy(position, velocity, wind, k, g):
    """Each flight by scipy, onto the plane."""
    return scipy_until(lambda _, y: NORMAL @ y[:3], position, velocity, wind, k, g)


def end_of_parabola(position, velocity, wind, k, g):
    """When the flights touch, about: under the drag that they have at a third of the way."""
    fall, gap, rate = NORMAL[2] * g, position @ NORMAL, velocity @ NORMAL
    third = (rate + np.sqrt(rate**2 + 2.0 * fall * gap)) / (3.0 * fall)
    u = velocity - wind
    u[:, 2] -= g * third
    fall = fall + k * np.linalg.norm(u, axis=1) * (u @ NORMAL)
    return (rate + np.sqrt(rate**2 + 2.0 * fall * gap)) / fall


def by_numpy(position, velocity, wind, k, g, steps=40):
    """All flights at once: RK4 to about their ends, and on to the touch by a cubic in time."""
    wind, pull = np.array(wind), np.array([0.0, 0.0, -g])
    h = (end_of_parabola(position, velocity, wind, k, g) / steps)[:, None]

    def acceleration(v):
        u = v - wind
        return pull - k * np.sqrt(np.einsum("ij,ij->i", u, u))[:, None] * u

    p, v = position, velocity
    for _ in range(steps):
        a1 = acceleration(v)
        v2 = v + 0.5 * h * a1
        a2 = acceleration(v2)
        v3 = v + 0.5 * h * a2
        a3 = acceleration(v3)
        v4 = v + h * a3
        p = p + h / 6.0 * (v + 2.0 * v2 + 2.0 * v3 + v4)
        v = v + h / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + acceleration(v4))
    a, u = acceleration(v), v - wind
    speed = np.linalg.norm(u, axis=1)[:, None]
    jerk = -k * (speed * a + np.sum(u * a, axis=1)[:, None] / speed * u)
    gap, rate, turn, twist = p @ NORMAL, v @ NORMAL, a @ NORMAL, jerk @ NORMAL
    t = np.zeros(len(p))
    for _ in range(4):
        value = gap + t * (rate + t * (turn / 2.0 + t * twist / 6.0))
        t = t - value / (rate + t * (turn + t * twist / 2.0))
    t = t[:, None]
    return p + t * (v + t * (a / 2.0 + t * jerk / 6.0))


def numba_rk8():
    """One loop over flights in compiled code, by DOP853's stages written out and its steps; None without numba."""
    try:
        from by_hand import onto_plane
    except ImportError:
        return None

    def by_numba(position, velocity, wind, k, g):
        marks = np.empty_like(position)
        onto_plane(position, velocity, np.array(wind), k, g, NORMAL, marks)
        return marks

    return by_numba


def numba_hodograph():
    """Loamline's own algorithm, compiled by numba; None without numba."""
    try:
        import hodograph
    except ImportError:
        return None

    def by_hodograph(position, velocity, wind, k, g):
        marks = np.empty_like(position)
        rules, limits = hodograph.RULES, hodograph.LIMITS
        hodograph.fly(position, velocity, np.array(wind), NORMAL, k, g, rules, limits, marks)
        return marks

    return by_hodograph


def paths_by_scipy(position, velocity, wind, k, g, ends):
    """As many places of each path, by `solve_ivp` with DOP853 and its own interpolation."""
    rate, found = pulled(wind, k, g), np.empty((len(position), SAMPLES, 3))
    for i, start in enumerate(np.hstack([position, velocity])):
        times = np.linspace(0.0, ends[i], SAMPLES)
        way = solve_ivp(rate, (0.0, ends[i]), start, t_eval=times, **SCIPY)
        found[i] = way.y[:3].T
    return found


def measured(way, sets):
    """Flights a second of the processor's time, in the median of some rounds, and what each set gave."""
    found = [np.array(way(*one)) for one in sets]
    # The first hundredths of a second are slower, whatever the way.
    seconds, until = [], time.process_time() + LEAST
    while len(seconds) < ROUNDS or time.process_time() < until:
        start = time.process_time()
        for one in sets:
            way(*one)
        seconds.append(time.process_time() - start)
    return sum(map(len, found)) / statistics.median(seconds), found


def machine():
    names = [line for line in Path("/proc/cpuinfo").read_text().splitlines() if "model name" in line]
    return f"{names[0].split(':')[1].strip()}, {len(names)} threads, {platform.platform()}"


class Scene:
    """What all flights have alike."""

    def __init__(self):
        self.rider, self.calm = ll.Rider(com_height_landing=0.0), ll.Air()
        self.ground = ll.Ground.plane(slope_deg=float(np.degrees(SLOPE)))
        self.airs = {wind: ll.Air(wind=wind) for wind in WINDS}
        self.k, self.g = drag_of(self.rider, self.calm), self.calm.gravity

    def one(self, position, velocity, wind):
        return ll.Launch(position, velocity).flight(self.ground, self.rider, self.airs[wind])

    def many(self, position, velocity, wind, **how):
        return ll.flights(position, velocity, self.ground, self.rider, self.airs[wind], **how)

    def sets(self, count):
        return [(*launches(count), wind, self.k, self.g) for wind in WINDS]


def worst(scene, found, of_one, count=50):
    """The greatest distance of the first of each wind from the single flight's."""
    errors = [0.0]
    for wind, all_of_it in zip(WINDS, found, strict=True):
        position, velocity = launches(len(all_of_it))
        for i in range(min(count, len(all_of_it))):
            exact = of_one(scene.one(position[i], velocity[i], wind))
            errors.append(float(np.max(np.linalg.norm(np.atleast_2d(all_of_it[i] - exact), axis=1))))
    return max(errors)


def worst_mark(scene, found):
    """The same of marks, and of all of them from those of loamline's many flights. Flights that were not flown are left out."""
    errors = [worst(scene, found, lambda one: one.touchdown.mark)]
    for wind, marks in zip(WINDS, found, strict=True):
        exact = scene.many(*launches(len(marks)), wind).mark
        errors.append(float(np.nanmax(np.linalg.norm(marks - exact, axis=1))))
    return max(errors)


def rows_of(scene, ways):
    """Rows of name, flights a second, and greatest error in metres, of ways and how many they fly of each wind."""
    rows = []
    for name, (way, count) in ways.items():
        if way is None:
            continue
        sets = scene.sets(count)
        # What is compiled is compiled before it is timed.
        way(*(x[:10] if isinstance(x, np.ndarray) else x for x in sets[0]))
        rate, found = measured(way, sets)
        rows.append((name, rate, worst_mark(scene, found)))
    return rows


def loamline_over(scene, count):
    """Many flights on one thread, into the same arrays again and again, and how many."""
    out = scene.many(*launches(count), WINDS[0])

    def by_loamline(position, velocity, wind, k, g):
        into = out if len(position) == count else None
        return scene.many(position, velocity, wind, threads=1, out=into).mark

    return by_loamline, count


def onto_a_plane(scene):
    """Rows of what was flown; the first is loamline's."""
    return rows_of(scene, {
        "loamline": loamline_over(scene, MANY),
        "the same algorithm in numba": (numba_hodograph(), MANY),
        "numba RK8": (numba_rk8(), MANY),
        "numpy RK4": (by_numpy, MANY),
        "scipy DOP853": (by_scipy, 50),
    })  # fmt: skip


def paths(scene):
    """The same of sampled paths."""
    def ends(position, velocity, wind):
        return scene.many(position, velocity, wind).time

    rows = []
    for name, count in {"loamline": MANY, "scipy DOP853": 50}.items():
        out = np.empty((count, SAMPLES, 3))
        sets = [(*one, ends(*one[:3])) for one in scene.sets(count)]

        def by_loamline(position, velocity, wind, k, g, until, out=out):
            air = scene.airs[wind]
            return ll.flight_paths(position, velocity, until, scene.rider, air, SAMPLES, threads=1, out=out)

        way = by_loamline if name == "loamline" else paths_by_scipy
        rate, found = measured(way, sets)
        rows.append((name, rate, worst(scene, found, lambda one: one.path(SAMPLES), count=20)))
    return rows


def one_flight(scene):
    """The same one by one, each with all that a flight says."""
    def by_loamline(position, velocity, wind, k, g):
        return [scene.one(p, v, wind).touchdown.mark for p, v in zip(position, velocity, strict=True)]

    rows = []
    for name, way, count in [("loamline", by_loamline, 2_000), ("scipy DOP853", by_scipy, 50)]:
        rate, found = measured(way, scene.sets(count))
        rows.append((name, rate, worst_mark(scene, found)))
    return rows


def compared():
    """Rows by what was flown."""
    scene = Scene()
    return {
        "onto a plane": onto_a_plane(scene),
        f"{SAMPLES} places of each path": paths(scene),
        "one flight a call": one_flight(scene),
    }

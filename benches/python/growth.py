"""How flights a second go with their number, threads, the grid's size, and a rider's height above his tyres."""

import statistics
import time

import numpy as np
from flights import SLOPE, WINDS, launches

import loamline as ll


def often(count, work):
    """How many a second, in the median of some rounds of so many."""
    seconds = []
    for _ in range(5):
        start = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - start)
    return count / statistics.median(seconds)


def rate(count, ground, height=0.0, threads=1):
    """Flights a second, over all winds."""
    position, velocity = launches(count)
    rider = ll.Rider(com_height_landing=height)
    airs = [ll.Air(wind=wind) for wind in WINDS]
    out = ll.flights(position, velocity, ground, rider, airs[0])

    def fly():
        for air in airs:
            ll.flights(position, velocity, ground, rider, air, threads=threads, out=out)

    return often(len(airs) * count, fly)


def rigid(count, ground, threads):
    """Rigid flights a second."""
    (position, velocity), level = launches(count), np.tile(np.eye(3), (count, 1, 1))
    scene = ground, ll.Rider(), ll.Air()
    out = ll.rigid_flights(position, velocity, level, *scene)
    return often(count, lambda: ll.rigid_flights(position, velocity, level, *scene, threads=threads, out=out))


def loads(count, threads):
    """Loads of landings a second."""
    speed, rider = np.linspace(1.0, 7.0, count), ll.Rider()
    out = ll.loads(speed, rider)
    return often(count, lambda: ll.loads(speed, rider, threads=threads, out=out))


def by_threads(plane):
    """Names and rates of the same work on one thread and on two."""
    ways = {
        "a plane, 1,000,000 flights": lambda threads: rate(1_000_000, plane, threads=threads),
        "a grid of 200 by 200, 1,000,000 flights": lambda threads: rate(1_000_000, bumpy(200), threads=threads),
        "a plane, 20,000 rigid flights": lambda threads: rigid(20_000, plane, threads),
        "loads of 2,000 landings": lambda threads: loads(2_000, threads),
    }
    return [(f"{name}, threads={threads}", way(threads)) for name, way in ways.items() for threads in (1, 2)]


def bumps(nodes):
    """Origin, spacing and heights of gentle bumps on a slope, invented: always 30 m wide."""
    spacing = 29.85 / (nodes - 1)
    x, y = np.meshgrid(-4.0 + spacing * np.arange(nodes), -15.0 + spacing * np.arange(nodes))
    heights = 0.15 * np.sin(1.3 * x) * np.cos(1.1 * y + 0.4) - 0.12 * x
    return (-4.0, -15.0), spacing, heights


def bumpy(nodes):
    """Ground of those."""
    origin, spacing, heights = bumps(nodes)
    return ll.Ground.grid(origin, (spacing, spacing), heights)


def rows():
    """What was flown, and how many a second."""
    plane = ll.Ground.plane(slope_deg=float(np.degrees(SLOPE)))
    found = []
    for count in (1, 100, 10_000, 1_000_000):
        found.append((f"a plane, {count:,} flights a call", rate(count, plane)))
    found += by_threads(plane)
    for nodes in (50, 200, 800):
        found.append((f"a grid of {nodes} by {nodes}, a point", rate(50_000, bumpy(nodes))))
    for nodes in (50, 200, 800):
        found.append((f"a grid of {nodes} by {nodes}, 1 m above the tyres", rate(2_000, bumpy(nodes), height=1.0)))
    return [(name, f"{value:.3g}") for name, value in found]

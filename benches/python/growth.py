"""How flights a second go with their number, threads, the grid's size, and a rider's height above his tyres."""

import statistics
import time

import numpy as np
from flights import SLOPE, WINDS, launches

import loamline as ll


def rate(count, ground, height=0.0, threads=1):
    """Flights a second, in the median of some rounds over all winds."""
    position, velocity = launches(count)
    rider = ll.Rider(com_height_landing=height)
    airs = [ll.Air(wind=wind) for wind in WINDS]
    out = ll.flights(position, velocity, ground, rider, airs[0])
    seconds = []
    for _ in range(5):
        start = time.perf_counter()
        for air in airs:
            ll.flights(position, velocity, ground, rider, air, threads=threads, out=out)
        seconds.append(time.perf_counter() - start)
    return len(airs) * count / statistics.median(seconds)


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
    for threads in (1, 2):
        found.append((f"a plane, 1,000,000 flights, threads={threads}", rate(1_000_000, plane, threads=threads)))
    for nodes in (50, 200, 800):
        found.append((f"a grid of {nodes} by {nodes}, a point", rate(50_000, bumpy(nodes))))
    for nodes in (50, 200, 800):
        found.append((f"a grid of {nodes} by {nodes}, 1 m above the tyres", rate(2_000, bumpy(nodes), height=1.0)))
    return [(name, f"{value:.3g}") for name, value in found]

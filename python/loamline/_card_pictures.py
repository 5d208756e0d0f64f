"""Small pictures on cards: a line or two as SVG, drawn without matplotlib so that a card takes a millisecond."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

Line = npt.NDArray[np.float64]

_WIDTH, _HEIGHT, _EDGE = 260.0, 110.0, 4.0
# Ground, line, second line: as in the pictures of loamline.plot.
_INKS = ("#0072b2", "#d55e00", "#8c6d4f")
_PLACES = 80

# What is drawn, and whether lengths meet lengths at equal scale.
Picture: TypeAlias = tuple[str, bool, Callable[[Any], list[Any]]]


def picture(thing: Any, kind: str) -> str:
    """Returns the small picture of a thing as SVG; nothing where it has none."""
    if kind not in _PICTURES:
        return ""
    words, equal, draw = _PICTURES[kind]
    lines = [_finite(line) for line in draw(thing)]
    lines = [line for line in lines if len(line)]
    if not lines:
        return ""
    ways = "".join(_way(line, _INKS[k % 3]) for k, line in enumerate(_fitted(lines, equal)))
    size = f"viewBox='0 0 {_WIDTH:.0f} {_HEIGHT:.0f}' width='{_WIDTH:.0f}' height='{_HEIGHT:.0f}'"
    said = escape(words)
    return f"<svg {size} role='img' aria-label='{said}' style='display:block'>{ways}</svg><small>{said}</small>"


def _finite(line: Any) -> Line:
    line = np.asarray(line, dtype=float).reshape(-1, 2)
    return np.asarray(line[np.isfinite(line).all(axis=1)])


def _fitted(lines: list[Line], equal: bool) -> list[Line]:
    """Returns lines in the picture's own places, y down."""
    every = np.vstack(lines)
    low, high = every.min(axis=0), every.max(axis=0)
    span = np.maximum(high - low, 1e-9)
    scale = np.array([_WIDTH - 2 * _EDGE, _HEIGHT - 2 * _EDGE]) / span
    if equal:
        scale = np.full(2, scale.min())
    return [np.column_stack([_EDGE, _HEIGHT - _EDGE]) + (line - low) * scale * (1.0, -1.0) for line in lines]


def _way(line: Line, ink: str) -> str:
    if len(line) == 1:
        (x, y), *_ = line
        return f"<circle cx='{x:.1f}' cy='{y:.1f}' r='2.5' fill='{ink}'/>"
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in line)
    return f"<polyline points='{points}' fill='none' stroke='{ink}' stroke-width='1.8'/>"


def _along(path: Any) -> Line:
    """Returns a path in space as level distance from its start, and height."""
    path = np.asarray(path, dtype=float)
    steps = np.hypot(*np.diff(path[:, :2], axis=0).T)
    return np.column_stack([np.concatenate([[0.0], np.cumsum(steps)]), path[:, 2]])


def _thin(*columns: Any) -> Line:
    rows = np.column_stack(columns)
    return rows[:: max(1, len(rows) // _PLACES)]


def _flight(flight: Any) -> list[Any]:
    path = _along(flight.path(_PLACES))
    mark = flight.touchdown.mark
    return [path, [[path[-1, 0], mark[2]]]]


def _landing(landing: Any) -> list[Any]:
    """Returns a face from the side, with its batter behind, drawn from its crest line."""
    drop = landing.length * np.tan(np.radians(landing.slope_deg))
    back = drop / np.tan(np.radians(landing.batter_deg))
    return [[[-back, 0.0], [0.0, drop], [landing.length, 0.0]]]


def _mesh(takeoff: Any) -> list[Any]:
    """Returns a takeoff's sides and its edge seen from above."""
    mesh = takeoff.mesh(30, 2)
    return [mesh[:, 0, :2], mesh[:, -1, :2], mesh[-1, :, :2]]


def _site(site: Any) -> list[Any]:
    return [*_mesh(site.takeoff), *([place[:2]] for place in site.survey)]


def _marks(passes: Any) -> list[Any]:
    """Returns marks from above, the edge of the takeoff's launches as a dot each."""
    known = passes.mark[np.isfinite(passes.mark[:, 0]), :2]
    return [[place] for place in known[:: max(1, len(known) // 60)]]


def _section(ground: Any) -> list[Any]:
    """Returns a section through the middle of a ground with ends."""
    if ground.bounds is None:
        return []
    low, high = ground.bounds
    x = np.linspace(low[0], high[0], _PLACES)
    return [np.column_stack([x, ground.height(x, np.full_like(x, 0.5 * (low[1] + high[1])))])]


_PICTURES: dict[str, Picture] = {
    "Ride": ("normal load over the station", False, lambda ride: [_thin(ride.station, ride.normal_load)]),
    "Flight": ("the way of the centre of mass, and the mark", True, _flight),
    "RigidFlight": ("the way of the centre of mass", True, lambda flight: [_along(flight.path(_PLACES))]),
    "Loads": ("force on the body over time", False, lambda loads: [_thin(loads.time, loads.force)]),
    "Landing": ("the face from the side", True, _landing),
    "Passes": ("marks from above", True, _marks),
    "Site": ("survey and takeoff from above", True, _site),
    "Profile": ("the profile", True, lambda profile: [_thin(profile.distance, profile.height)]),
    "Wall": ("from above", True, _mesh),
    "Lip": ("from above", True, _mesh),
    "Drop": ("from above", True, _mesh),
    "Entrance": ("from the side", True, lambda entrance: [_along(entrance.mesh(40, 3)[:, 1])]),
    "Line": ("from above", True, lambda line: [line.points(_PLACES)[:, :2]]),
    "Ground": ("section through its middle", True, _section),
    "Tradeoff": ("soft share over earth", False, lambda curve: [np.column_stack([curve.volumes, curve.caught])]),
    "EvenLanding": ("its earth from the side", True, lambda even: [_even(even)]),
    "BuiltLanding": ("face and toe from above", True, lambda built: [built.outline[:, :2], built.toe[:, :2]]),
}


def _even(even: Any) -> Line:
    near, far = even.reach
    x = np.linspace(near, far, _PLACES)
    return np.column_stack([x, even.height(x)])

"""What is sent to the page that draws: numbers only, rounded to a millimetre."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from contourpy import contour_generator
from matplotlib.colors import to_hex

from ..cautions import SHORT
from ..frames import deck_outline, lattice_heights
from ..plot import style
from ..plot.plan import extent
from ..plot.units import UNITS, Units
from ..takeoffs import kind
from ..tally import LEAN_WORDS

if TYPE_CHECKING:
    from .bench import Bench, Built, Way

# Places along a path in the air, evenly in time; straight between two of them lies within 4 mm of the path.
_PLACES = 24
# Places along a section of the ground.
_SECTION = 140
_COLOURS = 33
_OUTCOMES = {
    "caught": "lands on the face",
    "landed": "lands on the ground as it is",
    "short": "comes down short of the crest",
    "long": "goes past the foot",
    "wide": "goes off a side",
    "rolled_off": "rolls off the edge",
    "off_survey": "leaves the surveyed ground",
    "no_touchdown": "meets no ground at all",
}
# Label, kind of number (see plot.units) and digits, in the order of `numbers`.
ROWS: tuple[tuple[str, str, int], ...] = (
    ("fall height", "m", 2),
    ("mark, out from the edge", "m", 2),
    ("speed at the edge", "m/s", 2),
    ("grip demand", "", 2),
    ("time in the air", "s", 2),
    ("angle to the surface", "°", 0),
    ("land softly", "of 100", 0),
    ("earth in place", "m³", 2),
    ("barrows", "", 0),
)
# What only the reckoning beside it can say: it would be too slow for a table.
LOAD = ("peak on the body", "body weights", 1)


def fixed(bench: Bench, units: Units, rows: tuple[tuple[str, str, int], ...]) -> dict[str, Any]:
    """Returns what does not move: the ground, the takeoff, the sliders, and the words beside numbers."""
    scale = UNITS[units]
    return {
        "site": bench.site.name,
        "caution": SHORT,
        "limit": bench.site.fall_limit,
        "colours": _colours("light"),
        "night": _colours("dark"),
        "length": {"unit": scale.length.name, "size": scale.length.size},
        "rows": [{"label": label, "unit": scale.of(unit).name, "digits": digits} for label, unit, digits in rows],
        "frame": {"x": bench.frame.x, "y": bench.frame.y, "angle": bench.frame.angle},
        "sliders": [
            {"label": s.label, "unit": scale.of(s.unit).name, "size": scale.of(s.unit).size,
             "low": s.low, "high": s.high, "step": s.step, "start": s.start}
            for s in bench.sliders
        ],
        "leans": list(LEAN_WORDS.values()),
        "side": _side(bench),
        "plan": _plan(bench),
    }


def _colours(look: str) -> list[str]:
    """Returns the colours of fall heights, from none to twice the limit."""
    with style.sheet(look):
        return [to_hex(style.FALL_HEIGHT(i / (_COLOURS - 1))) for i in range(_COLOURS)]


def _side(bench: Bench) -> dict[str, Any]:
    mesh = bench.takeoff.mesh(24, 6)
    along = bench.frame.along(mesh)
    low, high = -2.0, bench.sliders[2].high + 2.5
    u, z = _section(bench, bench.bare, low, high)
    top = max(float(mesh[..., 2].max()), float(np.nanmax(bench.passes.launch_position[:, 2]))) + 1.2
    rims = [np.column_stack([along[:, rim], mesh[:, rim, 2]]) for rim in (0, -1)]
    edge = np.column_stack([along[-1], mesh[-1, :, 2]])
    floor = float(np.nanmin(z)) - 0.4 if np.isfinite(z).any() else -1.0
    return {
        "box": [low, high, floor, top],
        "ground": _rows(np.column_stack([u, z])),
        "rims": [_rows(rim) for rim in rims],
        "edge": _rows(edge),
    }


def _section(bench: Bench, ground: Any, low: float, high: float) -> tuple[Any, Any]:
    u = np.linspace(low, high, _SECTION)
    return u, ground.height(*bench.frame.place(u, bench.across))


def _plan(bench: Bench) -> dict[str, Any]:
    site = bench.site
    left, right, bottom, top = extent(site, bench.passes, None)
    ends = np.column_stack(bench.frame.place([bench.sliders[2].high + 1.0] * 2, [bench.across - 2, bench.across + 2]))
    left, bottom = np.minimum([left, bottom], ends.min(axis=0))
    right, top = np.maximum([right, top], ends.max(axis=0))
    box = (float(left), float(right), float(bottom), float(top))
    mesh = bench.takeoff.mesh(24, 2)
    return {
        "box": list(box),
        "contours": _contours(bench.bare, box),
        "takeoff": _rows(np.vstack([mesh[:, 0, :2], mesh[::-1, -1, :2]])),
        "kind": kind(bench.takeoff),
        "edge": _rows(mesh[-1, :, :2]),
        "area": _rows(site.area),
        "keep_outs": [_rows(corners) for _, corners in site.keep_outs],
        "obstacles": [{"name": name, "place": _rows(place[:2]), "radius": r} for name, place, r in site.obstacles],
        "named": [{"name": name, "place": _rows(place[:2])} for name, place in site.marks.items()],
    }


def _contours(ground: Any, box: tuple[float, float, float, float]) -> list[dict[str, Any]]:
    x, y = np.linspace(*box[:2], 60), np.linspace(*box[2:], 60)
    z = np.ma.masked_invalid(lattice_heights(ground, x, y))
    if z.count() == 0:
        return []
    span = float(z.max() - z.min())
    step = next((s for s in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0) if span / s <= 9.0), 10.0)
    levels = np.arange(np.ceil(z.min() / step), np.floor(z.max() / step) + 1) * step
    lines: Any = contour_generator(x, y, z)
    return [{"z": round(float(v), 2), "lines": [_rows(line) for line in lines.lines(v)]} for v in levels]


def ways(bench: Bench, ridden: list[Way]) -> list[dict[str, Any]]:
    """Returns the paths through the air of each way, as far as the survey's lowest ground and beyond."""
    return [_way(bench, way) for way in ridden]


def _way(bench: Bench, way: Way) -> dict[str, Any]:
    if way.launch is None:
        return {"outcome": way.outcome, "path": [], "time": 0.0}
    flight = way.launch.flight(bench.bare, bench.rider, bench.air)
    return {"outcome": way.outcome, "path": _rows(flight.path(_PLACES)), "time": round(flight.touchdown.time, 4)}


def built(bench: Bench, there: Built) -> dict[str, Any]:
    """Returns the landing's earth in section, its face from above, and everyone's marks."""
    face, earth = [], []
    if there.landing is not None:
        face = _rows(deck_outline(there.landing))
        side = bench.sliders[2]
        u, new = _section(bench, there.ground, -2.0, side.high + 2.5)
        old = bench.bare.height(*bench.frame.place(u, bench.across))
        earth = _rows(np.column_stack([u, new, old])[new > old + 1e-6])
    return {"face": face, "earth": earth, "marks": _rows(there.marks, 2), "why": there.why or ""}


def touched(bench: Bench, ridden: list[Way], there: Built) -> dict[str, Any]:
    """Returns where each way comes down, which judges, and what is said of it."""
    touches = bench.touches(ridden, there.ground)
    judge = bench.hardest(ridden, touches)
    return {
        "touches": [_touch(td) for td in touches],
        "judge": -1 if judge is None else judge,
        "values": _values(bench, ridden, touches, judge, there),
        "said": _said(bench, ridden, touches, judge),
    }


def _touch(td: Any) -> list[Any]:
    """Returns time, mark and fall height; nothing where there is no touch."""
    if td is None or not np.isfinite(td.fall_height):
        return []
    return [round(td.time, 4), *_rows(td.mark), round(td.fall_height, 3)]


def _values(bench: Bench, ridden: list[Way], touches: list[Any], judge: int | None, there: Built) -> list[Any]:
    """Returns the numbers of ROWS, None where there is none."""
    if judge is None:
        own: list[float] = [np.nan, np.nan, np.nan, ridden[1].grip_demand, np.nan, np.nan]
    else:
        td, way = touches[judge], ridden[judge]
        out = float(bench.frame.along(td.mark))
        own = [td.fall_height, out, way.exit_speed, way.grip_demand, td.time, td.angle_deg]
    values = [*own, 100.0 * there.soft, there.volume, there.barrows]
    return [round(float(v), 3) if np.isfinite(v) else None for v in values]


def _said(bench: Bench, ridden: list[Way], touches: list[Any], judge: int | None) -> str:
    if judge is None:
        return f"In balance he does not leave the edge: {ridden[1].outcome}."
    lean, td = ridden[judge].lean, touches[judge]
    end = _OUTCOMES.get(td.outcome, td.outcome)
    words = f"By the hardest lean, {LEAN_WORDS[lean]}, he {end}"
    over = np.isfinite(td.fall_height) and td.fall_height > bench.site.fall_limit
    limit = ", harder than the limit" if over else ""
    others = [f" {LEAN_WORDS[w.lean].capitalize()}: {w.outcome}." for w in ridden if w.launch is None]
    return f"{words}{limit}." + "".join(others)


def _rows(values: Any, digits: int = 3) -> list[Any]:
    """Returns an array as lists, rounded; None for what is not finite."""
    array = np.asarray(values, dtype=float)
    rounded = np.where(np.isfinite(array), np.round(array, digits), np.nan).astype(object)
    rounded[~np.isfinite(array)] = None
    return list(rounded.tolist())


def load(bench: Bench, ridden: list[Way], there: Built, judge: int) -> float | None:
    """Returns the highest force on the body of the way that judges, body weights."""
    if judge < 0:
        return None
    touch = bench.touches([ridden[judge]], there.ground)[0]
    if not np.isfinite(touch.fall_height):
        return None
    return round(float(bench.rider.loads(touch).peak_bodyweights), 3)


def sizes(units: Units, rows: tuple[tuple[str, str, int], ...]) -> list[float]:
    """Returns how large the shown unit of each number is, in SI."""
    return [UNITS[units].of(unit).size for _, unit, _ in rows]


def sized(values: list[Any], by: list[float]) -> list[Any]:
    """Returns numbers in shown units."""
    return [None if value is None else value / size for value, size in zip(values, by)]

"""Lines and sections for other programs: GeoJSON, DXF and SVG."""

from __future__ import annotations

import json
import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from ._native import FileError, InputError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from .frames import Array

PathLike = str | os.PathLike[str]
Area = tuple[float, float, float, float]

# A line: the layer it belongs to, its corners (n, 3), whether it closes, and what is said of it.
Line = tuple[str, "Array", bool, dict[str, float]]

_FRAME = "site frame, metres: x, y level, z up; not longitude and latitude"
_MOST = 4_000_000


def write_contours(
    path: PathLike,
    ground: Any,
    interval: float = 0.1,
    *,
    spacing: float = 0.1,
    area: Area | None = None,
) -> None:
    """Write the contours of a ground as GeoJSON (`.geojson`, `.json`) or DXF (`.dxf`), m.

    Contours are those of heights on a lattice: they miss what is smaller than its spacing.

    Args:
        path: the file; written whole or not at all. DXF needs ezdxf (`pip install loamline[dxf]`).
        ground: the ground.
        interval: height between contours, m, above 0.
        spacing: how far apart heights are taken, m, above 0.
        area: (x0, y0, x1, y1), m; None takes all of the ground.

    Raises:
        InputError: a number out of its range, or a ground without end and no area.
        FileError: an ending that is not known, or a file that cannot be written.
    """
    from contourpy import LineType, contour_generator

    _above("interval", interval)
    x, y, heights = _lattice(ground, spacing, area)
    seen = contour_generator(x, y, heights, line_type=LineType.Separate)
    low, high = float(np.ma.min(heights)), float(np.ma.max(heights))
    # A level on the very lowest or highest point has no line but that point.
    first, last = np.ceil(low / interval), np.floor(high / interval)
    if last - first > _MOST / 1000:
        raise _wrong("interval", interval, "so high that there are at most 4000 contours")
    lines: list[Line] = []
    for level in np.arange(first, last + 1) * interval:
        for line in seen.lines(float(level)):
            places: Any = line
            closed = len(places) > 3 and bool(np.all(places[0] == places[-1]))
            corners = np.column_stack([places, np.full(len(places), level)])
            lines.append(("contour", corners, closed, {"height": float(level)}))
    _write_lines(path, lines)


def write_outline(path: PathLike, built: Any) -> None:
    """Write a built landing's toe, face, crest and foot as GeoJSON or DXF, m.

    Args:
        path: the file; written whole or not at all: `.geojson`, `.json`, or `.dxf`, which needs ezdxf
            (`pip install loamline[dxf]`).
        built: a `BuiltLanding`, as `landing.on(ground)` gives it.

    Raises:
        FileError: an ending that is not known, or a file that cannot be written.
    """
    lines: list[Line] = [
        ("toe", _ring(built.toe), True, {}),
        ("face", _ring(built.outline), True, {}),
        ("crest", built.crest_line, False, {}),
        ("foot", built.foot_line, False, {}),
    ]
    _write_lines(path, lines)


def write_section(
    path: PathLike,
    before: Any,
    after: Any,
    start: tuple[float, float],
    stop: tuple[float, float],
) -> None:
    """Write the section of two grounds along a level line as SVG: the ground, the fill and the cut.

    Args:
        path: the file, `.svg`; written whole or not at all.
        before, after: the grounds.
        start, stop: (x, y) of the line's ends, m.

    Raises:
        InputError: ends at one place, or not numbers.
        FileError: an ending that is not known, or a file that cannot be written.
    """
    from matplotlib.figure import Figure

    from .plot.section import section
    from .plot.style import sheet

    if Path(path).suffix.lower() != ".svg":
        raise FileError(f"{path}: the ending is not known: expected .svg")
    with sheet("light"):
        figure = Figure(figsize=(7.0, 3.2), layout="constrained")
        section(before, after, start, stop, ax=figure.subplots())
        # No date inside: the same section is the same file.
        _whole(path, lambda to: figure.savefig(to, format="svg", metadata={"Date": None}))


def _ring(corners: Any) -> Array:
    """Returns corners with the first one again at the end."""
    return np.vstack([corners, corners[:1]])


def _wrong(field: str, value: float, allowed: str) -> InputError:
    error = InputError(f"{field} = {value} is out of range: {allowed}")
    error.field, error.value, error.allowed = field, value, allowed  # type: ignore[attr-defined]
    return error


def _above(field: str, value: float) -> None:
    if not (np.isfinite(value) and value > 0.0):
        raise _wrong(field, value, "a finite number above 0")


def _lattice(ground: Any, spacing: float, area: Area | None) -> tuple[Array, Array, Any]:
    """Returns x, y and the heights over them, masked where the ground is not known."""
    from .frames import lattice_heights

    _above("spacing", spacing)
    if area is None:
        bounds = ground.bounds
        if bounds is None:
            error = InputError("the ground has no end: name the area to write")
            error.field = "area"  # type: ignore[attr-defined]
            raise error
        area = (*bounds[0, :2].tolist(), *bounds[1, :2].tolist())
    x0, y0, x1, y1 = area
    if not (np.isfinite(area).all() and x1 > x0 and y1 > y0):
        raise _wrong("area", min(x1 - x0, y1 - y0), "corners in order, all finite")
    across, up = (int(np.ceil(min(d / spacing, _MOST) - 1e-9)) + 1 for d in (x1 - x0, y1 - y0))
    if across * up > _MOST:
        raise _wrong("spacing", spacing, "so wide that the area takes at most 4 million heights")
    x, y = np.linspace(x0, x1, max(across, 2)), np.linspace(y0, y1, max(up, 2))
    heights = np.ma.masked_invalid(lattice_heights(ground, x, y))
    if heights.count() == 0:
        raise _wrong("area", x0, "where there is ground")
    return x, y, heights


def _write_lines(path: PathLike, lines: list[Line]) -> None:
    match Path(path).suffix.lower():
        case ".geojson" | ".json":
            text = json.dumps(_geojson(lines), indent=1) + "\n"
            _whole(path, lambda to: to.write_text(text, encoding="utf-8"))
        case ".dxf":
            document = _dxf(lines)
            _whole(path, document.saveas)
        case other:
            raise FileError(
                f"{path}: the ending {other or 'of no kind'} is not known: expected .geojson, .json or .dxf"
            )


def _geojson(lines: Iterable[Line]) -> dict[str, Any]:
    features = [
        {
            "type": "Feature",
            "properties": {"layer": layer, **said},
            "geometry": {"type": "LineString", "coordinates": corners.tolist()},
        }
        for layer, corners, _, said in lines
    ]
    return {"type": "FeatureCollection", "frame": _FRAME, "features": features}


def _dxf(lines: Iterable[Line]) -> Any:
    try:
        import ezdxf
        from ezdxf import units
    except ImportError as error:
        raise ImportError("DXF needs ezdxf: pip install loamline[dxf]") from error
    document = ezdxf.new("R2010", units=units.M)  # type: ignore[attr-defined]
    space = document.modelspace()
    for layer, corners, closed, _ in lines:
        if layer not in document.layers:
            document.layers.add(layer)
        points = corners[:-1] if closed else corners
        space.add_polyline3d(points.tolist(), close=closed, dxfattribs={"layer": layer})
    return document


def _whole(path: PathLike, write: Callable[[Path], object]) -> None:
    """Writes a file whole or not at all: beside its place first, then moved into it."""
    place = Path(path)
    if place.is_dir():
        raise FileError(f"{place}: cannot be written: a folder stands there")
    try:
        with tempfile.TemporaryDirectory(prefix=".loamline-", dir=place.absolute().parent) as folder:
            new = Path(folder) / place.name
            write(new)
            os.replace(new, place)
    except OSError as error:
        raise FileError(f"{place}: cannot be written: {error.strerror or error}") from error

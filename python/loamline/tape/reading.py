"""Profiles and surveys out of files: CSV, GPX, GeoTIFF, LAS."""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np

from loamline import FileError, Ground, InputError, Profile

if TYPE_CHECKING:
    from os import PathLike

    from ..frames import Array

Names: TypeAlias = Mapping[str, tuple[str, ...]]

# Points of a track nearer than this say nothing of the slope: phones wander.
_APART = 1.0
# What a survey takes at most: more is thinned out by wider spacing.
_MOST = 200_000
# What a table's columns may be called; the first is the one that is asked for.
_NAMES: Names = {
    "x": ("x", "ahead", "easting", "east"),
    "y": ("y", "left", "northing", "north"),
    "z": ("z", "up", "height", "elevation"),
}
_LEVEL: Names = {"distance": ("distance",), "height": ("height",)}
_TAPED: Names = {"tape": ("tape",), "angle_deg": ("angle_deg",)}


def read_profile(path: str | PathLike[str]) -> tuple[Array, Array]:
    """The profile of a run-in out of a file: level distances and heights, in the order ridden.

    CSV with a header and one row a point: `distance,height` (m), or `tape,angle_deg`: lengths along the ground (m) and
    what the inclinometer says of each (degrees, downhill negative). GPX: the first track's points with heights;
    heights of phones wander by metres and only show whether a run-in was forgotten.

    Args:
        path: the file, `.csv` or `.gpx`.

    Returns:
        Two arrays (n,), m: distances from 0 on, and heights as the file has them (from 0 on for `tape,angle_deg`).

    Raises:
        FileError: a file that cannot be read, with the line where there is one.
        InputError: points that make no profile.
        ImportError: gpxpy is not installed.
    """
    file = Path(path)
    readers = {".csv": _profile_table, ".gpx": _track}
    distance, height = _reader(file, readers)(file)
    Profile(distance, height)
    return distance, height


def read_survey(
    path: str | PathLike[str],
    *,
    origin: tuple[float, float, float] = (0.0, 0.0, 0.0),
    heading_deg: float = 0.0,
    reach: float = 25.0,
    spacing: float = 0.5,
) -> Array:
    """Points of the ground out of a file, in the site's frame.

    CSV with a header `x,y,z` (or easting, northing, height); GeoTIFF heights, read by tifffile; LAS or LAZ point
    clouds, read by laspy: of points classed as ground (class 2 of the ASPRS standard) where there are any, the
    lowest in each square. Maps count from far away: `origin` and `heading_deg` bring them into the site's frame.

    Args:
        path: the file, `.csv`, `.tif`, `.tiff`, `.las` or `.laz`.
        origin: the site's origin in the file's coordinates, m.
        heading_deg: of the site's x axis there, counter-clockwise from the file's x axis (east).
        reach: of a GeoTIFF or LAS file, only what is nearer to the origin in plan, m, above 0.
        spacing: of these, one point a square of this width, m, above 0.

    Returns:
        Points, m, (n, 3).

    Raises:
        FileError: a file that cannot be read, with the line where there is one; or nothing within reach.
        InputError: a number outside its range, or points that make no ground.
        ImportError: tifffile or laspy is not installed.
    """
    from ..exports import _above, _wrong
    from .rasters import cloud, raster

    _above("reach", reach)
    _above("spacing", spacing)
    if not np.isfinite([*origin, heading_deg]).all():
        raise _wrong("origin", float("nan"), "three finite numbers, and a finite heading_deg")
    file = Path(path)
    many = {".tif": raster, ".tiff": raster, ".las": cloud, ".laz": cloud}
    points = _reader(file, {".csv": _survey_table, **many})(file)
    points = _turned(points, origin, heading_deg)
    if file.suffix.lower() in many:
        points = _thinned(file, points, reach, spacing)
    Ground.survey(points)
    return points


def _reader(file: Path, readers: Mapping[str, Callable[[Path], Any]]) -> Callable[[Path], Any]:
    ending = file.suffix.lower()
    if ending not in readers:
        known = ", ".join(readers)
        raise FileError(f"{file}: the ending {ending or 'of no kind'} is not known: expected {known}")
    if not file.is_file():
        raise FileError(f"{file}: there is no such file")
    return readers[ending]


def _rows(file: Path) -> list[tuple[int, list[str]]]:
    """Returns the rows of a table with their lines; comments and empty lines are passed over."""
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise FileError(f"{file}: cannot be read: {error}") from error
    lines = enumerate(text.splitlines(), start=1)
    said = ((n, line) for n, line in lines if line.strip() and not line.startswith("#"))
    rows = [(n, next(csv.reader([line]), [])) for n, line in said]
    if len(rows) < 2:
        raise FileError(f"{file}: a header and rows of numbers are needed")
    return rows


def _columns(file: Path, *choices: Names) -> dict[str, Array]:
    """Returns a table's columns by the first choice of names that its header has."""
    rows = _rows(file)
    header = [name.strip().lower() for name in rows[0][1]]
    for names in choices:
        places = {name: next((header.index(w) for w in words if w in header), None) for name, words in names.items()}
        if None not in places.values():
            return {name: np.array([_number(file, n, r, at) for n, r in rows[1:]]) for name, at in places.items()}
    wanted = " or ".join(",".join(words[0] for words in names.values()) for names in choices)
    raise FileError(f"{file}, line {rows[0][0]}: the header is {','.join(header)}; expected {wanted}")


def _number(file: Path, line: int, row: list[str], at: int | None) -> float:
    assert at is not None
    text = row[at].strip() if at < len(row) else ""
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not np.isfinite(value):
        raise FileError(f"{file}, line {line}: {text!r} is not a finite number")
    return value


def _profile_table(file: Path) -> tuple[Array, Array]:
    columns = _columns(file, _LEVEL, _TAPED)
    if "distance" in columns:
        return columns["distance"] - columns["distance"][0], columns["height"]
    angle = np.radians(columns["angle_deg"])
    steps = columns["tape"] * np.array([np.cos(angle), np.sin(angle)])
    distance, height = np.concatenate([np.zeros((2, 1)), np.cumsum(steps, axis=1)], axis=1)
    return distance, height


def _survey_table(file: Path) -> Array:
    return np.column_stack(list(_columns(file, _NAMES).values()))


def _track(file: Path) -> tuple[Array, Array]:
    try:
        import gpxpy
    except ImportError as error:
        raise ImportError("GPX needs gpxpy: pip install 'loamline[gpx]'") from error
    try:
        gpx = gpxpy.parse(file.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError, gpxpy.gpx.GPXException) as error:
        raise FileError(f"{file}: cannot be read as GPX: {error}") from error
    segments = [segment.points for track in gpx.tracks for segment in track.segments]
    points = [p for p in (segments[0] if segments else ()) if p.elevation is not None]
    distance, height = [0.0], []
    for last, point in zip([None, *points], points):
        if last is None:
            height.append(point.elevation)
            kept = point
            continue
        apart = float(kept.distance_2d(point) or 0.0)
        if apart >= _APART:
            distance.append(distance[-1] + apart)
            height.append(point.elevation)
            kept = point
    if len(height) < 2:
        raise FileError(f"{file}: the track has fewer than two points with heights, {_APART:g} m apart")
    return np.array(distance), np.array(height, dtype=float)


def _turned(points: Array, origin: tuple[float, float, float], heading_deg: float) -> Array:
    """Returns points of a map in the site's frame."""
    away = points - np.asarray(origin, dtype=float)
    cos, sin = np.cos(np.radians(heading_deg)), np.sin(np.radians(heading_deg))
    x, y, z = away.T
    return np.column_stack([x * cos + y * sin, y * cos - x * sin, z])


def _thinned(file: Path, points: Array, reach: float, spacing: float) -> Array:
    """Returns the lowest point of each square within reach."""
    near = points[np.hypot(points[:, 0], points[:, 1]) <= reach]
    if len(near) == 0:
        raise FileError(f"{file}: no point lies within {reach:g} m of the origin: give origin and heading_deg")
    squares = np.floor(near[:, :2] / spacing).astype(np.int64)
    order = np.lexsort([near[:, 2], squares[:, 1], squares[:, 0]])
    ordered = squares[order]
    first = np.concatenate([[True], (np.diff(ordered, axis=0) != 0).any(axis=1)])
    lowest: Array = near[order][first]
    if len(lowest) > _MOST:
        raise InputError(f"spacing = {spacing:g} gives {len(lowest)} points: at most {_MOST} are taken")
    return lowest

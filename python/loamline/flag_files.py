"""Flags as files: a CSV with a header of its own, one row a test ride; and speeds off a phone or bike computer.

The columns (a comment line begins with `#`; empty cells are not measured):

    name, who, start, start_sd, leave, brake,
    x, y                                    the mark by coordinates, m, or
    tape_from, tape_towards, along, left    the mark by tape between two named marks of the site, m
    mark_sd, tyre,
    seconds, seconds_from, seconds_to, seconds_sd
    speed, speed_at, speed_sd

Only `who` and `start` must be there. Places of times and speeds are m up the hill, `edge` or `touch`.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ._native import FileError, Flag, InputError, Site

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from os import PathLike

COLUMNS = (
    "name", "who", "start", "start_sd", "leave", "brake", "x", "y", "tape_from", "tape_towards",
    "along", "left", "mark_sd", "tyre", "seconds", "seconds_from", "seconds_to", "seconds_sd",
    "speed", "speed_at", "speed_sd",
)  # fmt: skip
# A stopwatch by hand, and a speed off a phone: from memory, as the core has them.
_SECONDS_SD, _SPEED_SD = 0.12, 0.3


def load_flags(path: str | PathLike[str]) -> list[Flag]:
    """Return the flags of a CSV file, in its order.

    Args:
        path: the file.

    Raises:
        FileError: names the file, the line, the column, the value and what may stand there.
    """
    file = Path(path)
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise _wrong(file, 0, f"cannot be read: {error}") from error
    lines = [(n, line) for n, line in enumerate(text.splitlines(), 1) if _says(line)]
    if not lines:
        raise _wrong(file, 1, "is empty: a header and a row for each test ride are wanted")
    header = [name.strip().lower() for name in next(csv.reader([lines[0][1]]))]
    _check_header(file, lines[0][0], header)
    rows = ((n, dict(zip(header, _cells(file, n, line, header)))) for n, line in lines[1:])
    return [_flag(file, n, cells) for n, cells in rows]


def save_flags(path: str | PathLike[str], flags: Iterable[Flag], site: Site) -> None:
    """Write mark, start and place of leaving of flags as a CSV file that `load_flags` reads; no file is overwritten.

    Args:
        path: the file, which must not exist yet.
        flags: the flags.
        site: the site, which turns tapes into coordinates.

    Raises:
        FileError: the file exists, or cannot be written.
    """
    file = Path(path)
    names = ("name", "who", "start", "leave", "brake", "x", "y", "mark_sd")
    rows = []
    for flag in flags:
        x, y = flag.mark(site) or ("", "")
        leave = "" if flag.leave is None else flag.leave
        rows.append((flag.name, flag.who, flag.start, leave, flag.brake, x, y, flag.mark_sd))
    try:
        with file.open("x", newline="", encoding="utf-8") as out:
            csv.writer(out).writerows([names, *rows])
    except OSError as error:
        raise _wrong(file, 0, f"cannot be written: {error}") from error


def track_speeds(
    path: str | PathLike[str], start: float, places: Sequence[float], sd: float = _SPEED_SD
) -> list[tuple[float, float, float]]:
    """Return speeds down the run-in off a recorded ride, for a flag's `speeds`.

    The track is a GPX file with times (read by the package gpxpy), or a CSV with the columns `time` (s) and `speed`
    (m/s). It begins where the rider does: the ride is taken to start at its last standstill before the fastest moment,
    and the level way from there is measured along the track.

    Args:
        path: the file, `.gpx` or `.csv`.
        start: start mark, level m up the hill.
        places: where speeds are wanted, level m up the hill, below `start`.
        sd: standard deviation of one speed, m/s, above 0; the default is from memory of what phones show.

    Raises:
        FileError: a file that cannot be read, or a track without times.
        InputError: a place that the track does not pass.
        ImportError: gpxpy is not installed.
    """
    file = Path(path)
    times, way = _gpx(file) if file.suffix.lower() == ".gpx" else _table(file)
    speeds = [
        (way[i + 1] - way[i]) / (times[i + 1] - times[i]) for i in range(len(times) - 1)
    ]
    fastest = max(range(len(speeds)), key=speeds.__getitem__)
    # Slower than a walk is standing: phones wander.
    first = max((i for i in range(fastest) if speeds[i] < 0.5), default=-1) + 1
    found = []
    for place in places:
        wanted = start - place
        inside = [i for i in range(first, len(speeds)) if way[i] - way[first] <= wanted <= way[i + 1] - way[first]]
        if not inside or wanted <= 0.0:
            reach = start - (way[-1] - way[first])
            raise InputError(f"the track does not pass {place} m up the hill: it runs from {start} to {reach:.1f} m")
        found.append((float(place), float(speeds[inside[0]]), float(sd)))
    return found


def _says(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _check_header(file: Path, line: int, header: list[str]) -> None:
    if len(header) == 1 and ";" in header[0]:
        raise _wrong(file, line, "columns are parted by semicolons: commas are wanted, and points in numbers")
    for name in header:
        if name not in COLUMNS:
            raise _wrong(file, line, f"there is no column {name!r}; there are: {', '.join(COLUMNS)}", name)
        if header.count(name) > 1:
            raise _wrong(file, line, f"column {name!r} stands twice", name)
    for name in ("who", "start"):
        if name not in header:
            raise _wrong(file, line, f"column {name!r} is missing", name)


def _cells(file: Path, line: int, text: str, header: list[str]) -> list[str]:
    cells = [cell.strip() for cell in next(csv.reader([text]))]
    if len(cells) > len(header):
        raise _wrong(file, line, f"has {len(cells)} cells, the header {len(header)}")
    return cells + [""] * (len(header) - len(cells))


def _flag(file: Path, line: int, cells: dict[str, str]) -> Flag:
    def number(name: str) -> float | None:
        text = cells.get(name, "")
        if not text:
            return None
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            hint = "; a decimal point, not a comma" if "," in text else ""
            raise _wrong(file, line, f"{name} = {text!r} is not a number{hint}", name)
        return value

    def place(name: str, default: float | str) -> float | str:
        text = cells.get(name, "")
        return text if text in ("edge", "touch") else default if not text else number(name) or 0.0

    start = number("start")
    if start is None or not cells.get("who"):
        raise _wrong(file, line, "who and start must stand in every row", "start")
    extra: dict[str, Any] = {}
    for name in ("mark_sd", "leave", "brake", "start_sd"):
        if (value := number(name)) is not None:
            extra[name] = value
    if cells.get("tyre"):
        extra["tyre"] = cells["tyre"]
    if (seconds := number("seconds")) is not None:
        sd = number("seconds_sd") or _SECONDS_SD
        extra["timings"] = [(place("seconds_from", start), place("seconds_to", "edge"), seconds, sd)]
    if (speed := number("speed")) is not None:
        extra["speeds"] = [(place("speed_at", "edge"), speed, number("speed_sd") or _SPEED_SD)]
    try:
        return Flag(start, cells["who"], _mark(file, line, cells, number), name=cells.get("name") or None, **extra)
    except FileError:
        raise
    except InputError as error:
        raise _wrong(file, line, str(error), getattr(error, "field", None)) from error


def _mark(file: Path, line: int, cells: dict[str, str], number: Any) -> Any:
    x, y = number("x"), number("y")
    along, left = number("along"), number("left")
    if x is not None and y is not None and along is None:
        return x, y
    if along is not None and x is None and y is None and cells.get("tape_from") and cells.get("tape_towards"):
        return cells["tape_from"], cells["tape_towards"], along, left or 0.0
    if x is None and y is None and along is None:
        return None
    wanted = "a mark wants x and y, or tape_from, tape_towards and along, not both"
    raise _wrong(file, line, wanted, "x")


def _gpx(file: Path) -> tuple[list[float], list[float]]:
    import gpxpy

    try:
        track = gpxpy.parse(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, gpxpy.gpx.GPXException) as error:
        raise _wrong(file, 0, f"cannot be read: {error}") from error
    points = [p for part in track.tracks for segment in part.segments for p in segment.points]
    clock = [point.time for point in points if point.time is not None]
    if len(clock) < len(points):
        raise _wrong(file, 0, "has points without times: speeds cannot be told")
    times = [(time - clock[0]).total_seconds() for time in clock]
    way = [0.0]
    for a, b in zip(points, points[1:]):
        way.append(way[-1] + (b.distance_2d(a) or 0.0))
    return _checked(file, times, way)


def _table(file: Path) -> tuple[list[float], list[float]]:
    try:
        with file.open(newline="", encoding="utf-8-sig") as lines:
            rows = [(float(row["time"]), float(row["speed"])) for row in csv.DictReader(lines)]
    except (OSError, UnicodeDecodeError) as error:
        raise _wrong(file, 0, f"cannot be read: {error}") from error
    except (KeyError, TypeError, ValueError) as error:
        raise _wrong(file, 0, f"wants columns time and speed, numbers only: {error}") from error
    times, way = [row[0] for row in rows], [0.0]
    for (a, v), (b, w) in zip(rows, rows[1:]):
        way.append(way[-1] + 0.5 * (v + w) * (b - a))
    return _checked(file, times, way)


def _checked(file: Path, times: list[float], way: list[float]) -> tuple[list[float], list[float]]:
    if len(times) < 3:
        raise _wrong(file, 0, f"has {len(times)} points: at least 3 are wanted")
    if any(b <= a for a, b in zip(times, times[1:])):
        raise _wrong(file, 0, "has times that do not go on")
    return times, way


def _wrong(file: Path, line: int, why: str, field: str | None = None) -> FileError:
    where = f"{file}, line {line}" if line else str(file)
    error = FileError(f"{where}: {why}")
    error.path, error.line, error.field = file, line or None, field  # type: ignore[attr-defined]
    return error

"""The journal of a site: a folder of dated plain files that are never overwritten.

    2026-05-02-flags.csv          what was seen that day
    2026-05-02-survey.csv         the ground as it was from then on (columns x, y, z; m)
    2026-05-09-forecast.json      what was forecast, with all that it takes to forecast it again

Dates are given by who writes them; nothing here looks at a clock. A second file of one day and kind
gets `-2` and so on.
"""

from __future__ import annotations

import csv
import datetime
import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from . import _native as ll
from .flag_files import load_flags

if TYPE_CHECKING:
    from collections.abc import Sequence
    from os import PathLike

_NAME = re.compile(r"(\d{4}-\d{2}-\d{2})-(flags|survey|forecast)(?:-(\d+))?\.(csv|json)")


class Journal:
    """A site's journal: flags, surveys and forecasts by their dates."""

    def __init__(self, folder: str | PathLike[str]) -> None:
        """Open the journal in a folder, which is made where it is not there yet."""
        self.folder = Path(folder)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise ll.FileError(f"{self.folder}: cannot be made: {error}") from error

    def __repr__(self) -> str:
        """Return how it is made."""
        return f"Journal({str(self.folder)!r})"

    def __eq__(self, other: object) -> bool:
        """Return whether the other is a journal in the same folder."""
        return isinstance(other, Journal) and self.folder.absolute() == other.folder.absolute()

    __hash__ = None  # type: ignore[assignment]

    def __reduce__(self) -> tuple[type[Journal], tuple[str]]:
        """Return how it is made again: a pickle keeps the folder's name, not what lies in it."""
        return Journal, (str(self.folder),)

    def _repr_html_(self) -> str:
        from ._cards import html

        return html(self)

    def entries(self, kind: str | None = None, until: str | None = None) -> list[Path]:
        """Return the files of a kind ("flags", "survey", "forecast"; all by default) up to a date, oldest first."""
        found = []
        for path in self.folder.iterdir():
            match = _NAME.fullmatch(path.name)
            if match and kind in (None, match[2]) and (until is None or match[1] <= _day(until)):
                found.append((match[1], int(match[3] or 1), path.name, path))
        return [entry[-1] for entry in sorted(found)]

    def add_flags(self, date: str, path: str | PathLike[str]) -> Path:
        """Take a flags CSV into the journal, byte for byte, once it reads; return where it lies."""
        load_flags(path)
        return self._write(date, "flags", "csv", Path(path).read_text(encoding="utf-8-sig"))

    def add_survey(self, date: str, points: Any) -> Path:
        """Take a survey of the ground as it is from a date on: rows of x, y, z, m; return where it lies."""
        rows = [[float(value) for value in point] for point in points]
        ll.Ground.survey(rows)
        text = "x,y,z\n" + "".join(",".join(map(repr, row)) + "\n" for row in rows)
        return self._write(date, "survey", "csv", text)

    def flags(self, site: ll.Site, until: str | None = None) -> list[ll.Flag]:
        """Return all flags up to a date, each on the ground that was surveyed last before it."""
        flags = []
        for path in self.entries("flags", until):
            ground = self.ground(site, path.name[:10])
            flags += [_on(flag, ground, site) for flag in load_flags(path)]
        return flags

    def ground(self, site: ll.Site, date: str) -> ll.Ground:
        """Return the ground as surveyed last up to a date: the site's own where nothing was surveyed since."""
        surveys = self.entries("survey", date)
        if not surveys:
            return site.ground
        with surveys[-1].open(newline="", encoding="utf-8") as lines:
            rows = list(csv.reader(lines))[1:]
        return ll.Ground.survey([[float(value) for value in row] for row in rows])

    def found(self, site: ll.Site, date: str, **options: Any) -> ll.Found:
        """Return what the flags up to a date tell, on the ground as it was then."""
        found = ll.fit_flags(site, self.flags(site, date), **options)
        return found.on(self.ground(site, date))

    def add_forecast(self, date: str, site: ll.Site, starts: Sequence[float], seed: int = 1) -> Path:
        """Forecast rides from start marks by the flags up to a date, and write it down; return where it lies."""
        record = _record(self.found(site, date), date, starts, seed)
        return self._write(date, "forecast", "json", json.dumps(record, indent=2, allow_nan=False) + "\n")

    def redo(self, path: str | PathLike[str], site: ll.Site) -> dict[str, Any]:
        """Return a past forecast made again from the flags and surveys up to its date: the same numbers."""
        try:
            record = json.loads(Path(path).read_text(encoding="utf-8"))
            date, starts, seed = record["date"], record["starts"], record["seed"]
        except (OSError, ValueError, KeyError) as error:
            raise ll.FileError(f"{path}: is no forecast of a journal: {error}") from error
        again = _record(self.found(site, date), date, starts, seed)
        return dict(json.loads(json.dumps(again)))

    def _write(self, date: str, kind: str, ending: str, text: str) -> Path:
        day = _day(date)
        for number in range(1, 1000):
            more = "" if number == 1 else f"-{number}"
            path = self.folder / f"{day}-{kind}{more}.{ending}"
            try:
                with path.open("x", encoding="utf-8", newline="") as out:
                    out.write(text)
            except FileExistsError:
                continue
            except OSError as error:
                raise ll.FileError(f"{path}: cannot be written: {error}") from error
            return path
        raise ll.FileError(f"{self.folder}: a thousand files of {day}-{kind} already")


def _day(date: str) -> str:
    try:
        return datetime.date.fromisoformat(date).isoformat()
    except (TypeError, ValueError) as error:
        raise ll.InputError(f"date = {date!r} is no date: YYYY-MM-DD is wanted") from error


def _on(flag: ll.Flag, ground: ll.Ground, site: ll.Site) -> ll.Flag:
    return flag if ground == site.ground else flag.on(ground)


def _record(found: ll.Found, date: str, starts: Sequence[float], seed: int) -> dict[str, Any]:
    from .flag_numbers import forecast_numbers, found_numbers

    forecasts = [forecast_numbers(found.forecast(start, seed=seed)) for start in starts]
    return {
        "version": ll.__version__,
        "date": date,
        "seed": seed,
        "starts": [float(start) for start in starts],
        "found": found_numbers(found),
        "forecasts": forecasts,
    }

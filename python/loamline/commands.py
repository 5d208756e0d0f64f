"""What each command does: it reads a site, asks the model, and says or writes the outcome."""

from __future__ import annotations

import io
import json
import math
import textwrap
from argparse import Namespace
from collections import Counter
from typing import TYPE_CHECKING, Any, Literal

import loamline as ll

from .cautions import SHORT
from .colours import paint
from .flag_commands import flags
from .flag_commands import next_step as next  # noqa: A004
from .lacking import Lacking
from .outdir import OutDir
from .progress import Stages
from .site_commands import asked_site, new, profile, survey, template
from .tally import Lean, Row, alike, leans, metres, tally

if TYPE_CHECKING:
    from collections.abc import Callable

    from .planning import Wish

# A look at the site needs no more rides than this.
_LOOK = 256


def check(asked: Namespace) -> int:
    """Says what a site holds and whether riders leave its edge."""
    from .answer import who_stays
    from .holds import holds, ride
    from .likely import unlikely
    from .reach import out_of_reach, unsurveyed

    site = asked_site(asked.site)
    passes = ride(site, n=_LOOK, seed=1)
    rows = tally(passes, site.fall_limit)
    facts = {
        "site": site.name,
        "marks": sorted(site.marks),
        "survey_points": len(site.survey),
        "classes": [{"name": c.name, "weight": c.weight} for c in site.classes],
        "barrows": site.barrow_count,
        "fall_limit": site.fall_limit,
        "left": rows[0].left,
        "rides": dict(sorted(Counter(map(str, passes.ride_outcome)).items())),
        "holds": holds(site),
        "warnings": [*unlikely(site), *filter(None, [who_stays(rows), unsurveyed(passes), out_of_reach(site, passes)])],
    }
    if asked.json:
        return _print_json(facts)
    _print_check(facts)
    return 0


def forecast(asked: Namespace) -> int:
    """Says who lands where, and how hard, on the ground as it is."""
    from .answer import soft_already, who_stays
    from .holds import ride
    from .likely import unlikely
    from .numbers import forecast_numbers
    from .reach import unsurveyed

    site, wish = asked_site(asked.site), _wish(asked)
    limit = site.fall_limit if asked.fall_limit is None else asked.fall_limit
    with Stages() as stages:
        passes = ride(site, n=wish.passes, seed=wish.seed, progress=stages("riding"))
    rows, band = tally(passes, limit), leans(passes, limit)
    if asked.json:
        return _print_json(forecast_numbers(site, wish, limit, rows, band))
    _say([*unlikely(site, limit), *filter(None, [who_stays(rows), unsurveyed(passes)])], "beware")
    soft = f"{100 * rows[0].soft:.0f} of 100 riders who leave the edge land softly"
    _say([f"{soft} (fall height at most {limit:.2f} m) on the ground as it is."])
    _say(list(filter(None, [soft_already(rows)])))
    _print_rows(rows)
    _print_leans(band)
    _caution()
    return 0


def plan(asked: Namespace) -> int:
    """Finds the landing and writes report, field sheet, stakes, shapes and numbers."""
    from .answer import answer
    from .numbers import plan_numbers
    from .planning import plan as make

    site = asked_site(asked.site)
    with Stages() as stages, OutDir(asked.output) as out:
        planned = make(site, _wish(asked), stages)
        stages("writing")
        numbers = plan_numbers(planned)
        _write(out, planned, numbers)
        _write_sliders(out, planned, stages)
        also = _write_also(out, planned, asked.also)
    if asked.json:
        return _print_json(numbers)
    _say(planned.slips, "beware")
    _say(answer(planned).lines())
    _caution()
    files = ["report.html", "explore.html", "field-sheet.pdf", "stakes.csv", "landing.obj", "landing.ply"]
    _say([f"Written to {out.folder}: {', '.join([*files, 'results.json', *also])}."])
    return 0


def schema(asked: Namespace) -> int:
    """Prints the JSON Schema of site files."""
    print(ll.site_schema().rstrip())
    return 0


def _write(out: OutDir, planned: Any, numbers: dict[str, Any]) -> None:
    from .numbers import stakes_csv
    from .report import report
    from .sheet import field_sheet

    out.write("results.json", json.dumps(numbers, indent=2, allow_nan=False) + "\n")
    out.write("stakes.csv", stakes_csv(planned))
    # Made in memory: a PDF that breaks off half-way would hide why.
    pdf = io.BytesIO()
    field_sheet(planned, pdf)
    out.path("field-sheet.pdf").write_bytes(pdf.getvalue())
    try:
        ll.write_obj(str(out.path("landing.obj")), planned.ground)
        ll.write_ply(str(out.path("landing.ply")), planned.ground)
    except ll.FileError as error:
        raise OSError(str(error)) from error
    out.write("report.html", report(planned))


def _write_sliders(out: OutDir, planned: Any, stages: Stages) -> None:
    """Writes the page with sliders, which start at the plan's landing."""
    from .sliders.page import page

    shown = page(planned.site, landing=planned.landing, progress=stages("sliders"))
    out.write("explore.html", shown)


def _write_also(out: OutDir, planned: Any, kinds: list[str]) -> list[str]:
    """Writes the files asked for besides; returns their names."""
    ground, landing, names = planned.ground, planned.landing, []
    middle, ahead = _axis(landing)
    writers: dict[str, dict[str, Callable[[str], None]]] = {
        "asc": {"finished.asc": lambda to: ll.write_ascii_grid(to, ground)},
        "tif": {"finished.tif": lambda to: ll.write_geotiff(to, ground)},
        "glb": {"scene.glb": lambda to: ll.write_gltf(to, planned.site, ground)},
        "html": {"scene.html": lambda to: _write_scene(to, planned)},
        "svg": {"section.svg": lambda to: ll.write_section(to, planned.site.ground, ground, middle, ahead)},
    }
    for lines in ("geojson", "dxf"):
        writers[lines] = {
            f"contours.{lines}": lambda to: ll.write_contours(to, ground),
            f"outline.{lines}": lambda to: ll.write_outline(to, landing.on(planned.site.ground)),
        }
    try:
        for kind in dict.fromkeys(kinds):
            for name, write in writers[kind].items():
                write(str(out.path(name)))
                names.append(name)
    except ImportError as error:
        raise Lacking(str(error)) from error
    except ll.FileError as error:
        raise OSError(str(error)) from error
    return names


def _write_scene(to: str, planned: Any) -> None:
    from . import plot

    plot.save(plot.scene(planned.site, planned.after, planned.ground, fall_limit=planned.fall_limit), to)


def _axis(landing: Any) -> tuple[tuple[float, float], tuple[float, float]]:
    """Returns the ends of a section along the landing, 2 m before its crest and past its foot, m."""
    angle, (x, y) = math.radians(landing.heading_deg), landing.crest
    ends = ((x + d * math.cos(angle), y + d * math.sin(angle)) for d in (-2.0, landing.length + 2.0))
    first, last = ends
    return first, last


def _wish(asked: Namespace) -> Wish:
    from .planning import Wish

    return Wish(
        passes=asked.passes,
        seed=asked.seed,
        volume=getattr(asked, "volume", None),
        barrows=getattr(asked, "barrows", None),
        fall_limit=asked.fall_limit,
    )


def _print_json(numbers: dict[str, Any]) -> int:
    print(json.dumps(numbers, indent=2, allow_nan=False))
    return 0


def _say(lines: list[str], kind: Literal["beware", "caution"] | None = None) -> None:
    for line in lines:
        words = textwrap.fill(line, 96)
        print(words if kind is None else paint(words, kind))


def _caution() -> None:
    _say([SHORT], "caution")


def _print_check(facts: dict[str, Any]) -> None:
    from .holds import in_words

    _say(facts["warnings"], "beware")
    print(f"{facts['site']}: the site file is right.")
    print(f"{100 * facts['left']:.0f} of 100 riders leave the edge.")
    rides = ", ".join(f"{n} {name.replace('_', ' ')}" for name, n in facts["rides"].items())
    print(f"of {_LOOK} rides: {rides}")
    _say([in_words(one) for one in facts["holds"]])
    print(f"marks: {', '.join(facts['marks'])}; {facts['survey_points']} survey points")
    classes = ", ".join(f"{c['name']} ({c['weight']:g})" for c in facts["classes"])
    print(f"classes of riders (weight): {classes}")
    print(f"earth: {facts['barrows']} barrows; fall-height limit {facts['fall_limit']:.2f} m")


def _print_rows(rows: list[Row]) -> None:
    """Prints the table of who lands where."""
    names = ("leave %", "soft %", "hard %", "half <= m", "95 % <= m")
    print(f"{'riders':<20}" + "".join(f"{name:>11}" for name in names))
    for r in rows:
        print(
            f"{r.name[:19]:<20}{100 * r.left:>11.0f}{100 * r.soft:>11.0f}{100 * r.hard:>11.0f}"
            f"{metres(r.median_fall_height):>11}{metres(r.p95_fall_height):>11}"
        )


def _print_leans(band: list[Lean]) -> None:
    """Prints everybody's fall heights for each lean on the takeoff, the hardest of which judges; nothing where all are alike."""
    if alike(band):
        return
    print("Judged for each rider by the hardest of these leans on the takeoff:")
    print(f"{'all, leaning':<42}{'soft %':>11}{'half <= m':>11}{'95 % <= m':>11}")
    for lean in band:
        r = lean.row
        heights = f"{metres(r.median_fall_height):>11}{metres(r.p95_fall_height):>11}"
        print(f"{lean.words:<42}{100 * r.soft:>11.0f}{heights}")

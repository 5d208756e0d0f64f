"""What the command line takes, and the help that teaches it."""

from __future__ import annotations

import argparse
import textwrap
from typing import Any, NoReturn

from .arguments import any_number, chance, count, more_than_nothing, seed
from .cautions import SHORT

BAD_INPUT = 2
_ALSO = ("asc", "tif", "glb", "html", "geojson", "dxf", "svg")
_SITE = "a site file (TOML) or its folder, or the word demo for the invented demo site"
_WAY = """from the tape to the field sheet:
  loamline template tape.pdf                    print it, fill it in outside
  loamline new my-site                          give the readings one by one
  loamline check my-site/site.toml              is the file right, do riders leave the edge?
  loamline forecast my-site/site.toml           who lands where on the ground as it is
  loamline plan my-site/site.toml -o my-plan    what to build: report, field sheet, stakes
  loamline flags my-site/site.toml flags.csv    what the flags of test rides tell
  loamline next my-site/site.toml flags.csv     how far up the hill the next start may be

Try it on the invented demo site: loamline forecast demo
loamline COMMAND --help says more, with an example. --json on each prints its numbers.

exit codes:
  0    it went well
  1    something could not be written, or whoever read the output has gone
  2    the input is at fault: the message names the field, the value and what may stand
  130  stopped by Ctrl-C, 143 asked to end: nothing was written
"""
_CAUTION = textwrap.fill(SHORT, 96)


class Parser(argparse.ArgumentParser):
    """Says what is wrong in one line."""

    def __init__(self, **about: Any) -> None:
        # Examples keep their lines.
        super().__init__(**{**about, "formatter_class": argparse.RawDescriptionHelpFormatter})

    def error(self, message: str) -> NoReturn:
        """Ends with what is wrong, and where help is."""
        self.exit(BAD_INPUT, f"loamline: {message} (see {self.prog} --help)\n")


def parser() -> Parser:
    """Returns the parser of the whole command line."""
    whole = Parser(
        prog="loamline",
        description="Where riders come down off a takeoff, how hard, and which landing to build.",
        epilog=f"{_WAY}\n{_CAUTION}",
    )
    whole.add_argument("--version", action=_Version, nargs=0, help="say the version and end")
    commands = whole.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for add in (_template, _new, _profile, _survey, _check, _forecast, _plan, _flags, _next, _schema):
        add(commands)
    return whole


def _command(commands: argparse._SubParsersAction[Parser], name: str, says: str, more: str, example: str) -> Parser:
    """Adds a command with its help: what it does, more about it, and an example; every one takes `--json`."""
    one = commands.add_parser(name, help=says, description=f"{says[0].upper()}{says[1:]}.\n\n{more}")
    one.epilog = f"for example:\n  {example}\n\n{_CAUTION}"
    one.add_argument("--json", action="store_true", help="print the numbers as JSON, and nothing else")
    return one


def _template(commands: argparse._SubParsersAction[Parser]) -> None:
    more = "Three pages of A4 with a blank for each reading, in the order in which `loamline new` asks for them."
    says = "write the tape sheet to print and fill in outside (PDF)"
    template = _command(commands, "template", says, more, "loamline template tape.pdf --takeoff lip")
    template.add_argument("file", metavar="FILE", help="the PDF")
    template.add_argument("--takeoff", choices=("wall", "lip", "drop"), default="wall", help="what is taped (wall)")


def _new(commands: argparse._SubParsersAction[Parser]) -> None:
    more = (
        "Asks for one reading after the other and checks each as it comes. Lengths as people say them: 2.4,\n"
        "240 cm, 7 ft 10 in. ? says how to measure, back goes back one reading, Ctrl-C writes nothing.\n"
        "From a pipe the answers are read a line each; lines that begin with # are passed over."
    )
    says = "make a site file from tape readings, asked for one by one"
    new = _command(commands, "new", says, more, "loamline new my-site")
    new.add_argument("folder", metavar="DIR", help="folder for site.toml, run-in.csv and survey.csv")


def _profile(commands: argparse._SubParsersAction[Parser]) -> None:
    more = (
        "A CSV of distance,height (level distances and heights, m) or of tape,angle_deg (lengths along the\n"
        "ground and what the inclinometer says of each, downhill negative); or the first track of a GPX file.\n"
        "Heights of phones wander by metres: use them to see whether a stretch was forgotten."
    )
    says = "make a run-in's table of a file: CSV or GPX"
    profile = _command(commands, "profile", says, more, "loamline profile ride.gpx -o run-in.csv")
    profile.add_argument("file", metavar="FILE", help="the file, .csv or .gpx, from the top down to the takeoff")
    profile.add_argument("-o", "--output", metavar="CSV", required=True, help="the table to write")


def _survey(commands: argparse._SubParsersAction[Parser]) -> None:
    more = (
        "Maps count from far away: --origin says where the site's origin lies in the file's coordinates, and\n"
        "--heading how far the site's x axis (the way the edge is left) is turned from east, counter-clockwise.\n"
        "Of a point cloud the ground points are taken, the lowest in each square."
    )
    example = "loamline survey hill.tif --origin 512020 5203985 36.2 --heading 60 -o survey.csv"
    survey = _command(commands, "survey", "make a site's survey of a file: CSV, GeoTIFF or LAS", more, example)
    survey.add_argument("file", metavar="FILE", help="CSV of x,y,z; GeoTIFF of heights; LAS or LAZ points")
    survey.add_argument("-o", "--output", metavar="CSV", required=True, help="the table to write")
    axes: dict[str, Any] = {"nargs": 3, "metavar": ("X", "Y", "Z"), "default": (0.0, 0.0, 0.0)}
    survey.add_argument("--origin", type=any_number, help="the site's origin in the file, m (0 0 0)", **axes)
    survey.add_argument("--heading", type=any_number, default=0.0, metavar="DEG", help="of the x axis, from east (0)")
    survey.add_argument("--reach", type=more_than_nothing, default=25.0, help="farthest from the origin, m (25)")
    survey.add_argument("--spacing", type=more_than_nothing, default=0.5, help="one point a square of, m (0.5)")


def _check(commands: argparse._SubParsersAction[Parser]) -> None:
    more = "Reads the site and its tables, and sends a few hundred riders down: do they leave the edge, and how not?"
    says = "say whether a site file is right and rideable"
    check = _command(commands, "check", says, more, "loamline check my-site/site.toml")
    check.add_argument("site", metavar="SITE", help=_SITE)


def _forecast(commands: argparse._SubParsersAction[Parser]) -> None:
    more = (
        "Sends riders of all classes down, over the edge and onto the ground as it is, each with three leans on\n"
        "the takeoff; the hardest judges. Soft is a fall height at or below the limit."
    )
    says = "say who lands where on the ground as it is, and how hard"
    forecast = _command(commands, "forecast", says, more, "loamline forecast my-site/site.toml --passes 1024")
    forecast.add_argument("site", metavar="SITE", help=_SITE)
    _ensemble(forecast)


def _plan(commands: argparse._SubParsersAction[Parser]) -> None:
    more = (
        "The main job. Writes report.html, explore.html (sliders), field-sheet.pdf, stakes.csv, landing.obj,\n"
        "landing.ply and results.json into a folder, all or none."
    )
    says = "find the landing to build; write report, field sheet, stakes and shapes"
    plan = _command(commands, "plan", says, more, "loamline plan my-site/site.toml -o my-plan --barrows 40")
    plan.add_argument("site", metavar="SITE", help=_SITE)
    plan.add_argument("-o", "--output", metavar="DIR", required=True, help="folder to write into")
    _ensemble(plan)
    earth = plan.add_mutually_exclusive_group()
    earth.add_argument("--barrows", type=more_than_nothing, help="earth at hand, heaped barrows")
    earth.add_argument("--volume", type=more_than_nothing, help="earth at hand, in place, m3")
    also = (
        "write this file too: heights of the finished ground (asc, tif), the scene (glb, html), contours and"
        " outline (geojson, dxf), a section (svg); again for more"
    )
    plan.add_argument("--also", action="append", default=[], choices=_ALSO, help=also)


def _flags(commands: argparse._SubParsersAction[Parser]) -> None:
    more = (
        "A flag is planted where the tyres came down. From start marks and flags it learns resistance, brake, pop\n"
        "and lean of the rider, and forecasts rides not yet tried, with regions for half and nine tenths of them."
    )
    says = "say what flags of test rides tell, and forecast faster rides"
    flags = _command(commands, "flags", says, more, "loamline flags my-site/site.toml flags.csv -o my-flags")
    _fitted(flags)
    start = "start mark to forecast, m (may be repeated)"
    flags.add_argument("--start", type=more_than_nothing, action="append", help=start)
    flags.add_argument("-o", "--output", metavar="DIR", help="folder for flags.html and pocket-card.pdf")


def _next(commands: argparse._SubParsersAction[Parser]) -> None:
    more = "The farthest start mark whose chance of a bad end stays small, or why there is none; and the ladder beyond."
    says = "say how far up the hill the next start may be"
    step = _command(commands, "next", says, more, "loamline next my-site/site.toml flags.csv --chance 0.02")
    _fitted(step)
    step.add_argument("--chance", type=chance, default=0.05, help="chance of a bad end allowed (0.05)")


def _schema(commands: argparse._SubParsersAction[Parser]) -> None:
    more = "Editors check a site file against it and complete its keys. The schema is JSON already."
    _command(commands, "schema", "print the JSON Schema of site files", more, "loamline schema > site.schema.json")


def _fitted(command: Parser) -> None:
    command.add_argument("site", metavar="SITE", help=_SITE)
    command.add_argument("flags", metavar="FLAGS", help="a CSV file of flags, one row a test ride")
    command.add_argument("--who", help="class whose flags are taken, where there are several")
    leave = "where the next rides leave the edge, m (as the rider does)"
    command.add_argument("--leave", type=any_number, help=leave)
    command.add_argument("--fall-limit", type=more_than_nothing, help="fall height allowed, m (the site's)")


def _ensemble(command: Parser) -> None:
    command.add_argument("--passes", type=count, default=4096, help="how many rides (4096)")
    command.add_argument("--seed", type=seed, default=1, help="seed of the draws (1)")
    command.add_argument("--fall-limit", type=more_than_nothing, help="highest soft fall height, m (the site's)")


class _Version(argparse.Action):
    """Says the version; a class so that the package is imported only when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> NoReturn:
        import loamline as ll

        print(f"loamline {ll.__version__}")
        parser.exit(0)

"""The command line: `loamline new`, `template`, `check`, `plan`, `forecast`, `flags`, `next` and `schema`."""

from __future__ import annotations

import argparse
import os
import signal
import sys
from collections.abc import Sequence
from typing import NoReturn

from .cautions import SHORT
from .lacking import Lacking

BAD_INPUT, FAILED, INTERRUPTED, ENDED = 2, 1, 130, 143
# What a forecast takes at most.
_MOST = 1_048_576
_ALSO = ("asc", "tif", "glb", "html", "geojson", "dxf", "svg")
_SITE = "a site file (TOML), or the word demo for the invented demo site"


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command line; returns its exit code.

    0 went well, 2 the input is at fault, 1 something could not be written, 130 stopped by Ctrl-C.
    """
    signal.signal(signal.SIGTERM, _ended)
    try:
        asked = _parser().parse_args(arguments)
        return _run(asked)
    except KeyboardInterrupt:
        return _tell("stopped; nothing was written", INTERRUPTED)
    except BrokenPipeError:
        # Whoever read our output has gone; keep the interpreter from complaining about it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAILED


def _run(asked: argparse.Namespace) -> int:
    # Imported here: `--help` and a slip of the finger need not wait for it.
    import loamline as ll

    from . import commands

    try:
        code = getattr(commands, asked.command)(asked)
        sys.stdout.flush()
        return int(code)
    except ll.Cancelled:
        return _tell("stopped; nothing was written", INTERRUPTED)
    except (ll.LoamlineError, Lacking) as error:
        return _tell(str(error), BAD_INPUT)
    except BrokenPipeError:
        raise
    except (NotADirectoryError, FileNotFoundError, PermissionError) as error:
        return _tell(_os_words(error), BAD_INPUT)
    except OSError as error:
        return _tell(f"could not write: {_os_words(error)}; nothing was changed", FAILED)


def _tell(message: str, code: int) -> int:
    """Prints one message on standard error; returns the code."""
    print(f"loamline: {message}", file=sys.stderr)
    return code


def _os_words(error: OSError) -> str:
    if error.filename is None or error.strerror is None:
        return str(error.strerror or error)
    return f"{error.filename}: {error.strerror}"


def _ended(number: int, frame: object) -> NoReturn:
    """Ends by the way of an exception, so that no half-written folder stays behind."""
    raise SystemExit(ENDED)


class _Parser(argparse.ArgumentParser):
    """Says what is wrong in one line."""

    def error(self, message: str) -> NoReturn:
        self.exit(BAD_INPUT, f"loamline: {message} (see {self.prog} --help)\n")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="loamline",
        description="Where riders come down off a takeoff, how hard, and which landing to build.",
        epilog=SHORT,
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="say the version and end")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _check(commands)
    _plan(commands)
    _forecast(commands)
    _flags(commands)
    _next(commands)
    _new(commands)
    _template(commands)
    _profile(commands)
    _survey(commands)
    schema = commands.add_parser("schema", help="print the JSON Schema of site files")
    schema.add_argument("--json", action="store_true", help="the schema is JSON already")
    return parser


def _check(commands: argparse._SubParsersAction[_Parser]) -> None:
    check = commands.add_parser("check", help="say whether a site file is right and rideable")
    check.add_argument("site", metavar="SITE", help=_SITE)
    _json(check)


def _new(commands: argparse._SubParsersAction[_Parser]) -> None:
    new = commands.add_parser("new", help="make a site file from tape readings, asked for one by one")
    new.add_argument("folder", metavar="DIR", help="folder for site.toml, run-in.csv and survey.csv")
    _json(new)


def _template(commands: argparse._SubParsersAction[_Parser]) -> None:
    template = commands.add_parser("template", help="write the tape sheet to print and fill in outside (PDF)")
    template.add_argument("file", metavar="FILE", help="the PDF")
    template.add_argument("--takeoff", choices=("wall", "lip", "drop"), default="wall", help="what is taped (wall)")
    _json(template)


def _profile(commands: argparse._SubParsersAction[_Parser]) -> None:
    profile = commands.add_parser("profile", help="make a run-in's table of a file: CSV or GPX")
    profile.add_argument("file", metavar="FILE", help="CSV of distance,height or of tape,angle_deg; or a GPX track")
    profile.add_argument("-o", "--output", metavar="CSV", required=True, help="the table to write")
    _json(profile)


def _survey(commands: argparse._SubParsersAction[_Parser]) -> None:
    survey = commands.add_parser("survey", help="make a site's survey of a file: CSV, GeoTIFF or LAS")
    survey.add_argument("file", metavar="FILE", help="CSV of x,y,z; GeoTIFF of heights; LAS or LAZ points")
    survey.add_argument("-o", "--output", metavar="CSV", required=True, help="the table to write")
    survey.add_argument(
        "--origin", type=_any_number, nargs=3, default=(0.0, 0.0, 0.0), metavar=("X", "Y", "Z"),
        help="the site's origin in the file's coordinates, m (0 0 0)",
    )
    survey.add_argument(
        "--heading", type=_any_number, default=0.0, metavar="DEG", help="of the site's x axis there, from east (0)"
    )
    survey.add_argument("--reach", type=_more_than_nothing, default=25.0, help="farthest from the origin, m (25)")
    survey.add_argument("--spacing", type=_more_than_nothing, default=0.5, help="one point a square of, m (0.5)")
    _json(survey)


def _plan(commands: argparse._SubParsersAction[_Parser]) -> None:
    plan = commands.add_parser(
        "plan", help="find the landing to build; write report, field sheet, stakes and shapes"
    )
    plan.add_argument("site", metavar="SITE", help=_SITE)
    plan.add_argument("-o", "--output", metavar="DIR", required=True, help="folder to write into")
    _ensemble(plan)
    earth = plan.add_mutually_exclusive_group()
    earth.add_argument("--barrows", type=_more_than_nothing, help="earth at hand, heaped barrows")
    earth.add_argument("--volume", type=_more_than_nothing, help="earth at hand, in place, m3")
    plan.add_argument(
        "--also",
        action="append",
        default=[],
        choices=_ALSO,
        help="write this file too: heights of the finished ground (asc, tif), the scene (glb, html), contours and"
        " outline (geojson, dxf), a section (svg); again for more",
    )
    _json(plan)


def _forecast(commands: argparse._SubParsersAction[_Parser]) -> None:
    forecast = commands.add_parser("forecast", help="say who lands where on the ground as it is")
    forecast.add_argument("site", metavar="SITE", help=_SITE)
    _ensemble(forecast)
    _json(forecast)


def _flags(commands: argparse._SubParsersAction[_Parser]) -> None:
    flags = commands.add_parser("flags", help="say what flags of test rides tell, and forecast faster rides")
    _fitted(flags)
    flags.add_argument(
        "--start", type=_more_than_nothing, action="append", help="start mark to forecast, m (may be repeated)"
    )
    flags.add_argument("-o", "--output", metavar="DIR", help="folder for flags.html and pocket-card.pdf")
    _json(flags)


def _next(commands: argparse._SubParsersAction[_Parser]) -> None:
    step = commands.add_parser("next", help="say how far up the hill the next start may be")
    _fitted(step)
    step.add_argument("--chance", type=_chance, default=0.05, help="chance of a bad end allowed (0.05)")
    _json(step)


def _fitted(command: argparse.ArgumentParser) -> None:
    command.add_argument("site", metavar="SITE", help=_SITE)
    command.add_argument("flags", metavar="FLAGS", help="a CSV file of flags, one row a test ride")
    command.add_argument("--who", help="class whose flags are taken, where there are several")
    command.add_argument("--leave", type=_any_number, help="where the next rides leave the edge, m (as the rider does)")
    command.add_argument(
        "--fall-limit", type=_more_than_nothing, help="fall height allowed, m (the site's)"
    )


def _ensemble(command: argparse.ArgumentParser) -> None:
    command.add_argument("--passes", type=_count, default=4096, help="how many rides (4096)")
    command.add_argument("--seed", type=_seed, default=1, help="seed of the draws (1)")
    command.add_argument(
        "--fall-limit", type=_more_than_nothing, help="highest soft fall height, m (the site's)"
    )


def _json(command: argparse.ArgumentParser) -> None:
    command.add_argument("--json", action="store_true", help="print the numbers as JSON")


def _more_than_nothing(text: str) -> float:
    value = float(text) if _is_number(text) else float("nan")
    if not 0.0 < value < float("inf"):
        raise argparse.ArgumentTypeError(f"{text} is not a number above 0")
    return value


def _any_number(text: str) -> float:
    if not _is_number(text):
        raise argparse.ArgumentTypeError(f"{text} is not a number")
    return float(text)


def _chance(text: str) -> float:
    value = float(text) if _is_number(text) else float("nan")
    if not 0.001 <= value <= 0.5:
        raise argparse.ArgumentTypeError(f"{text} is not a number from 0.001 to 0.5")
    return value


def _count(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= _MOST:
        raise argparse.ArgumentTypeError(f"{text} is not a whole number from 1 to {_MOST}")
    return int(text)


def _seed(text: str) -> int:
    if not text.isascii() or not text.isdigit() or int(text) >= 2**64:
        raise argparse.ArgumentTypeError(f"{text} is not a whole number from 0 to 2^64 - 1")
    return int(text)


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


class _Version(argparse.Action):
    """Says the version; a class so that the package is imported only when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> NoReturn:
        import loamline as ll

        print(f"loamline {ll.__version__}")
        parser.exit(0)


if __name__ == "__main__":
    raise SystemExit(main())

"""The command line: `loamline new`, `template`, `check`, `plan`, `forecast`, `flags`, `next` and `schema`."""

from __future__ import annotations

import os
import signal
import sys
from argparse import Namespace
from collections.abc import Sequence
from typing import NoReturn

from .colours import paint
from .lacking import Lacking
from .parser import BAD_INPUT, parser

FAILED, INTERRUPTED, ENDED = 1, 130, 143


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command line; returns its exit code.

    0 went well, 2 the input is at fault, 1 something could not be written, 130 stopped by Ctrl-C, 143 asked to end.
    """
    signal.signal(signal.SIGTERM, _ended)
    try:
        asked = parser().parse_args(arguments)
        return _run(asked)
    except KeyboardInterrupt:
        return _tell("stopped; nothing was written", INTERRUPTED)
    except BrokenPipeError:
        # Whoever read our output has gone; keep the interpreter from complaining about it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAILED


def _run(asked: Namespace) -> int:
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
    print(f"{paint('loamline:', 'wrong', sys.stderr)} {message}", file=sys.stderr)
    return code


def _os_words(error: OSError) -> str:
    if error.filename is None or error.strerror is None:
        return str(error.strerror or error)
    return f"{error.filename}: {error.strerror}"


def _ended(number: int, frame: object) -> NoReturn:
    """Ends by the way of an exception, so that no half-written folder stays behind."""
    raise SystemExit(ENDED)


if __name__ == "__main__":
    raise SystemExit(main())

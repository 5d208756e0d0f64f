"""What the commands do that make a site: `new`, `template`, `profile` and `survey`."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

import loamline as ll

from .lacking import Lacking


def asked_site(name: str) -> ll.Site:
    """Returns the site that a command is asked about: of a file, of the `site.toml` of a folder, or the demo."""
    if name == "demo":
        return ll.Site.demo()
    file = Path(name)
    return ll.Site.load(file / "site.toml" if file.is_dir() else file)


def new(asked: Namespace) -> int:
    """Asks for a site's tape readings and writes its files."""
    from .tape.asking import terminal
    from .tape.new import new_site

    site = new_site(asked.folder, terminal())
    files = [str(Path(asked.folder) / name) for name in ("site.toml", "run-in.csv", "survey.csv")]
    if asked.json:
        return _print_json({"site": site.name, "files": files})
    print(f"{site.name}: written to {', '.join(files)}.")
    print(f"Next: loamline check {files[0]}")
    return 0


def template(asked: Namespace) -> int:
    """Writes the tape sheet."""
    from .exports import _whole
    from .tape.template import tape_sheet

    _whole(asked.file, lambda to: tape_sheet(to, asked.takeoff))
    if asked.json:
        return _print_json({"files": [asked.file]})
    print(f"Written to {asked.file}, for a {asked.takeoff} (--takeoff names another).")
    print("Print it, fill it in outside, then: loamline new DIR")
    return 0


def profile(asked: Namespace) -> int:
    """Makes the table of a run-in."""
    distance, height = _told(ll.read_profile, asked.file)
    return _table(asked, "distance height", np.column_stack([distance, height]))


def survey(asked: Namespace) -> int:
    """Makes the table of a survey."""
    how = {"origin": tuple(asked.origin), "heading_deg": asked.heading, "reach": asked.reach, "spacing": asked.spacing}
    return _table(asked, "x y z", _told(ll.read_survey, asked.file, **how))


def _told(read: Callable[..., Any], *what: Any, **how: Any) -> Any:
    try:
        return read(*what, **how)
    except ImportError as error:
        raise Lacking(str(error)) from error


def _table(asked: Namespace, columns: str, rows: Any) -> int:
    from .exports import _whole
    from .tape.site_text import table

    text = table(f"From {Path(asked.file).name}.", columns, rows)
    _whole(asked.output, lambda to: to.write_text(text, encoding="utf-8"))
    if asked.json:
        return _print_json({"files": [asked.output], "points": len(rows)})
    print(f"{len(rows)} points written to {asked.output}.")
    return 0


def _print_json(numbers: dict[str, Any]) -> int:
    print(json.dumps(numbers, indent=2, allow_nan=False))
    return 0

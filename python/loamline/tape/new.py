"""A new site from tape readings: asked for, checked, and written as a folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import loamline as ll

from ..outdir import OutDir
from .interview import interview
from .site_text import site_files

if TYPE_CHECKING:
    from .asking import Asker


def new_site(folder: str, ask: Asker) -> ll.Site:
    """Asks for a site's readings and writes `site.toml` and its tables into a folder; returns the site.

    Raises:
        InputError: the folder has a site already, or, from a pipe, an answer that cannot be.
    """
    path = Path(folder) / "site.toml"
    if path.exists():
        raise ll.FileError(f"{path}: there is a site already; name another folder")
    answers = ask.interview(interview)
    with OutDir(folder) as out:
        for name, text in site_files(answers).items():
            out.write(name, text)
        # Read back before it is moved in: what was written must be a site.
        return ll.Site.load(out.path("site.toml"))

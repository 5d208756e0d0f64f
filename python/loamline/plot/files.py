"""Pictures as files: PNG, SVG and PDF, and pages of HTML for what turns or moves."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from . import style

# Said in no file: so the same picture is the same file.
_NOTHING = {
    ".png": {"Software": None},
    ".svg": {"Creator": None, "Date": None, "Format": None, "Type": None},
    ".pdf": {"Creator": None, "Producer": None, "CreationDate": None},
}


def save(picture: Any, path: Any, dpi: float = 160.0) -> None:
    """Saves a picture whole or not at all: PNG, SVG or PDF; a scene as HTML; a film as HTML or GIF.

    The ending of the path says which. By day a PNG is on white, the others on the paper of whatever shows them. The same
    picture makes the same file, byte for byte.

    Args:
        picture: axes, a figure, what `scene` or what `film` returns.
        path: the file.
        dpi: dots an inch of PNG and GIF.

    Raises:
        FileError: an ending that such a picture cannot be saved with, or a file that cannot be written.
    """
    from loamline import FileError

    from ..exports import _whole

    writers = _writers(picture, dpi)
    ending = Path(path).suffix.lower()
    if ending not in writers:
        raise FileError(f"{path}: the ending {ending or 'of no kind'} is not known: expected {', '.join(writers)}")
    _whole(path, writers[ending])


def _writers(picture: Any, dpi: float) -> dict[str, Any]:
    """Returns what writes a picture, by ending."""
    if hasattr(picture, "to_jshtml"):
        return {".html": lambda to: to.write_text(_page(picture), "utf-8"), ".gif": lambda to: _gif(picture, to, dpi)}
    if hasattr(picture, "write_html"):
        return {".html": lambda to: picture.write_html(to, include_plotlyjs=True, config={"displaylogo": False})}
    figure = getattr(picture, "figure", picture)
    return {ending: lambda to, e=ending: _still(figure, to, e, dpi) for ending in _NOTHING}


def _still(figure: Any, to: Path, ending: str, dpi: float) -> None:
    with style.sheet():
        paper = figure.get_facecolor()
        if ending == ".png" and paper[3] == 0.0:
            # Pages give their own paper to SVG; a viewer shows a PNG on whatever it has, dark too.
            paper = "white"
        figure.savefig(to, dpi=dpi, metadata=_NOTHING[ending], facecolor=paper)


def _gif(film: Any, to: Path, dpi: float) -> None:
    from matplotlib.animation import PillowWriter

    film.save(to, writer=PillowWriter(fps=round(1000.0 / film.event_source.interval)), dpi=dpi)


def _page(film: Any) -> str:
    shown = film.to_jshtml(default_mode="once")
    head = '<meta charset="utf-8"><link rel="icon" href="data:,"><title>film</title>'
    return f"<!doctype html><html lang='en'><head>{head}</head><body>{shown}</body></html>\n"

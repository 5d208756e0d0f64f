"""Pictures as files: PNG, SVG and PDF, and pages of HTML for what turns or moves."""

from __future__ import annotations

from html import escape
from pathlib import Path
from typing import Any

from . import style

# Said in no file: so the same picture is the same file.
_NOTHING = {
    ".png": {"Software": None},
    ".svg": {"Creator": None, "Date": None, "Format": None, "Type": None},
    ".pdf": {"Creator": None, "Producer": None, "CreationDate": None},
}

# On a page that is higher than wide the camera steps back, so that as much is seen across.
_STEP_BACK = """
const drawn = document.getElementById('{plot_id}');
const back = Math.min(drawn.clientHeight / drawn.clientWidth, 2.2);
if (back > 1) {
  const {center, eye, up} = drawn.layout.scene.camera;
  const away = k => center[k] + back * (eye[k] - center[k]);
  Plotly.relayout(drawn, {'scene.camera': {center, up, eye: {x: away('x'), y: away('y'), z: away('z')}}});
}
"""


def save(picture: Any, path: Any, dpi: float = 160.0) -> None:
    """Saves a picture whole or not at all: PNG, SVG or PDF; a scene as HTML; a film as HTML or GIF.

    The ending of the path says which. By day PNG and GIF are on white, the others on the paper of whatever shows them. The same
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
        return {".html": lambda to: to.write_text(_turning(picture), "utf-8")}
    figure = getattr(picture, "figure", picture)
    return {ending: lambda to, e=ending: _still(figure, to, e, dpi) for ending in _NOTHING}


def _still(figure: Any, to: Path, ending: str, dpi: float) -> None:
    with style.sheet():
        # Pages give their own paper to SVG; a viewer shows a PNG on whatever it has, dark too.
        paper = _paper(figure) if ending == ".png" else figure.get_facecolor()
        figure.savefig(to, dpi=dpi, metadata=_NOTHING[ending], facecolor=paper)


def _paper(figure: Any) -> Any:
    """Returns a figure's paper, white where it has none."""
    own = figure.get_facecolor()
    return own if own[3] > 0.0 else "white"


def _gif(film: Any, to: Path, dpi: float) -> None:
    from matplotlib.animation import PillowWriter

    # Frames without paper of their own would show through each other.
    paper = {"facecolor": _paper(film._fig)}
    film.save(to, writer=PillowWriter(fps=round(1000.0 / film.event_source.interval)), dpi=dpi, savefig_kwargs=paper)


def _page(film: Any) -> str:
    return _html("film", film.to_jshtml(default_mode="once"))


def _turning(scene: Any) -> str:
    """Returns a page that the scene fills, also on a phone."""
    layout = scene.layout
    config = {"displaylogo": False, "responsive": True}
    how = {"include_plotlyjs": True, "config": config, "default_height": "100dvh", "post_script": _STEP_BACK}
    drawn = scene.to_html(full_html=False, **how)
    # The paper reaches the page's edges, and the words of the scene stay where a small page has room for them.
    look = f"html,body{{margin:0;height:100%;background:{layout.paper_bgcolor}}}"
    return _html(layout.title.text, drawn, look)


def _html(title: str, shown: str, look: str = "") -> str:
    """Returns a page that asks for nothing from outside and is as wide as the screen."""
    head = (
        '<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<link rel="icon" href="data:,"><title>{escape(title)}</title><style>{look}</style>'
    )
    return f"<!doctype html><html lang='en'><head>{head}</head><body>{shown}</body></html>\n"

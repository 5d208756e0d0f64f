"""Colours, markers and the style sheet that every figure shares."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache, wraps
from importlib import resources
from typing import Any

import matplotlib as mpl
from matplotlib import RcParams
from matplotlib.axes import Axes
from matplotlib.colorbar import Colorbar
from matplotlib.colors import ListedColormap, Normalize

INK = "#22201d"
PAPER = "#fffdf8"
GROUND = "#8c6d4f"
EARTH = "#c98f4e"
TIMBER = "#5f6f7a"
STONE = "#8a8378"
BLUE, RED, GREEN = "#0072b2", "#d55e00", "#009e73"

# The two ends of the map are cut off so that a mark shows on white and on black alike.
_LOW, _HIGH, _STEPS = 0.14, 0.86, 256
FALL_HEIGHT = ListedColormap(
    mpl.colormaps["plasma"]([_LOW + (_HIGH - _LOW) * i / (_STEPS - 1) for i in range(_STEPS)]),
    name="loamline_fall_height",
)

# Each outcome has a shape of its own: colour alone does not carry it.
MARKERS = {
    "landed": "o",
    "caught": "o",
    "short": "v",
    "long": "^",
    "wide": "s",
    "rolled_off": "D",
    "off_survey": "X",
    "no_touchdown": "P",
}


def _read() -> RcParams:
    """Reads the style sheet."""
    path = resources.files("loamline") / "loamline.mplstyle"
    with resources.as_file(path) as file:
        return mpl.rc_params_from_file(file, use_default_template=False)


_rules = cache(_read)


@contextmanager
def sheet() -> Iterator[None]:
    """Lets loamline's style sheet hold for the time of a `with` block."""
    with mpl.rc_context(_rules()):
        yield
        interactive = mpl.is_interactive()
    # A notebook's back end starts with its first figure and turns interactive then, perhaps within
    # the block: that is no style, and later figures would not be shown if it were taken back.
    mpl.interactive(interactive)


def styled(**figure: Any) -> Callable[[Callable[..., Axes]], Callable[..., Axes]]:
    """Makes a plot function draw in loamline's style, on a new figure where `ax` is None."""

    def decorate(draw: Callable[..., Axes]) -> Callable[..., Axes]:
        @wraps(draw)
        def styled_draw(*args: Any, ax: Axes | None = None, **kwargs: Any) -> Axes:
            with sheet():
                if ax is None:
                    # Only here, so that the report can draw without pyplot's window manager.
                    from matplotlib import pyplot as plt

                    ax = plt.subplots(**figure)[1]
                return draw(*args, ax=ax, **kwargs)

        return styled_draw

    return decorate


def severity_norm(fall_limit: float | None) -> Normalize:
    """Returns the scale of fall-height colours: from nothing to twice the limit, in metres."""
    return Normalize(0.0, 2.0 * (fall_limit or 1.0), clip=True)


def severity_bar(ax: Any, fall_limit: float | None, **kwargs: Any) -> Colorbar:
    """Draws the fall-height colour bar beside `ax`, marks the limit on it; returns the bar."""
    mappable = mpl.cm.ScalarMappable(severity_norm(fall_limit), FALL_HEIGHT)
    first = ax if not hasattr(ax, "__len__") else ax[0]
    with sheet():
        look = {"shrink": 0.7, "aspect": 25, **kwargs}
        bar: Colorbar = first.figure.colorbar(mappable, ax=ax, extend="max", **look)
    bar.set_label("fall height, m")
    bar.outline.set_visible(False)
    if fall_limit is not None:
        level = kwargs.get("orientation") == "horizontal"
        line = bar.ax.axvline if level else bar.ax.axhline
        line(fall_limit, color=PAPER, linewidth=2.4)
        line(fall_limit, color=INK, linewidth=1.0)
    return bar

"""Colours, markers and the style sheet that every figure shares, by day and by night."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, wraps
from importlib import resources
from typing import Any, Literal, TypeAlias

import matplotlib as mpl
from matplotlib import RcParams
from matplotlib.axes import Axes
from matplotlib.colorbar import Colorbar
from matplotlib.colors import ListedColormap, Normalize
from matplotlib.lines import Line2D

from .units import show, show_axis, units_of

# Ink and paper of each look. `style.INK`, `style.PAPER` and `style.FALL_HEIGHT` are those of the look that holds (see
# `__getattr__`).
_LOOKS = {
    "light": {"INK": "#22201d", "PAPER": "#fffdf8"},
    "dark": {"INK": "#ece6da", "PAPER": "#191714"},
}
# Two words rather than one Literal: the stub checker knows only unions.
Look: TypeAlias = Literal["light"] | Literal["dark"]
_look: ContextVar[str] = ContextVar("look", default="light")

GROUND = "#8c6d4f"
EARTH = "#c98f4e"
TIMBER = "#5f6f7a"
STONE = "#8a8378"
BLUE, RED, GREEN = "#0072b2", "#d55e00", "#009e73"

# The ends of the map are cut off so that a mark shows on its paper: what is palest by day, what is darkest by night.
_SPANS, _STEPS = {"light": (0.14, 0.86), "dark": (0.36, 0.96)}, 256


def _fall_height(low: float, high: float) -> ListedColormap:
    shares = [low + (high - low) * i / (_STEPS - 1) for i in range(_STEPS)]
    return ListedColormap(mpl.colormaps["plasma"](shares), name="loamline_fall_height")


_FALL_HEIGHT = {look: _fall_height(*span) for look, span in _SPANS.items()}

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


def __getattr__(name: str) -> Any:
    """Gives INK, PAPER and FALL_HEIGHT of the look that holds."""
    if name in ("INK", "PAPER"):
        return _LOOKS[_look.get()][name]
    if name == "FALL_HEIGHT":
        return _FALL_HEIGHT[_look.get()]
    raise AttributeError(name)


def _read(look: str) -> RcParams:
    """Reads the style sheet; by night its ink and paper are exchanged, and the paper is drawn."""
    path = resources.files("loamline") / "loamline.mplstyle"
    with resources.as_file(path) as file:
        rules = mpl.rc_params_from_file(file, use_default_template=False)
    if look == "light":
        return rules
    day, night = _LOOKS["light"], _LOOKS[look]
    for key, value in rules.items():
        if value in (day["INK"], day["INK"][1:]):
            rules[key] = night["INK"]
    rules.update({"figure.facecolor": night["PAPER"], "savefig.facecolor": night["PAPER"]})
    return rules


_rules = cache(_read)


@contextmanager
def sheet(look: str | None = None) -> Iterator[None]:
    """Lets loamline's style sheet hold for the time of a `with` block.

    Args:
        look: "light" or "dark"; None keeps the look that holds, at first the light one.

    Raises:
        InputError: another word.
    """
    look = _look.get() if look is None else _known(look)
    token = _look.set(look)
    try:
        with mpl.rc_context(_rules(look)):
            yield
            interactive = mpl.is_interactive()
    finally:
        _look.reset(token)
    # A notebook's back end starts with its first figure and turns interactive then, perhaps within
    # the block: that is no style, and later figures would not be shown if it were taken back.
    mpl.interactive(interactive)


def _known(look: str) -> str:
    if look not in _LOOKS:
        from loamline import InputError

        error = InputError(f"look = {look!r} is out of range: expected 'light' or 'dark'")
        error.field, error.value, error.allowed = "look", look, "light or dark"  # type: ignore[attr-defined]
        raise error
    return look


def styled(**figure: Any) -> Callable[[Callable[..., Axes]], Callable[..., Axes]]:
    """Makes a plot function draw in loamline's style, on a new figure where `ax` is None.

    Gives it two more arguments: `look`, "light" or "dark", and `units`, "metres" or "feet", for the axes.
    """

    def decorate(draw: Callable[..., Axes]) -> Callable[..., Axes]:
        @wraps(draw)
        def styled_draw(
            *args: Any, ax: Axes | None = None, look: str | None = None, units: str | None = None, **kwargs: Any
        ) -> Axes:
            with sheet(look), units_of(units):
                if ax is None:
                    # Only here, so that the report can draw without pyplot's window manager.
                    from matplotlib import pyplot as plt

                    ax = plt.subplots(**figure)[1]
                drawn = draw(*args, ax=ax, **kwargs)
                show(drawn)
                return drawn

        styled_draw.__signature__ = _with_more(draw)  # type: ignore[attr-defined]
        return styled_draw

    return decorate


def _with_more(draw: Callable[..., Axes]) -> inspect.Signature:
    """Returns a function's signature with `look` and `units` besides."""
    own = inspect.signature(draw)
    kind = inspect.Parameter.KEYWORD_ONLY
    more = [inspect.Parameter(name, kind, default=None, annotation="str | None") for name in ("look", "units")]
    return own.replace(parameters=[*own.parameters.values(), *more])


def name_shapes(ax: Any, outcomes: Any, more: Any = ()) -> None:
    """Names the shapes of outcomes over the axes, in ink: their colours tell fall heights.

    Args:
        ax: the axes.
        outcomes: the words of what is drawn.
        more: other lines to name after them.
    """
    there = [name for name in MARKERS if (outcomes == name).any()]
    ink = {"color": __getattr__("INK"), "linestyle": "none", "markersize": 4}
    handles = [Line2D([], [], marker=MARKERS[name], label=name.replace("_", " "), **ink) for name in there]
    handles += more
    if handles:
        where = {"loc": "lower left", "bbox_to_anchor": (0.0, 1.0), "ncols": len(handles), "borderpad": 0.2}
        ax.legend(handles=handles, **where, handletextpad=0.1, columnspacing=1.0, fontsize=8)


def severity_norm(fall_limit: float | None) -> Normalize:
    """Returns the scale of fall-height colours: from nothing to twice the limit, in metres."""
    return Normalize(0.0, 2.0 * (fall_limit or 1.0), clip=True)


def severity_bar(ax: Any, fall_limit: float | None, units: str | None = None, **kwargs: Any) -> Colorbar:
    """Draws the fall-height colour bar beside `ax`, marks the limit on it; returns the bar.

    Args:
        ax: axes, or several, that it stands beside.
        fall_limit: m; None marks none, and the colours are for 1 m.
        units: "metres" or "feet".
        kwargs: handed on to matplotlib's `colorbar`.
    """
    mappable = mpl.cm.ScalarMappable(severity_norm(fall_limit), __getattr__("FALL_HEIGHT"))
    first = ax if not hasattr(ax, "__len__") else ax[0]
    with sheet():
        look = {"shrink": 0.7, "aspect": 25, **kwargs}
        bar: Colorbar = first.figure.colorbar(mappable, ax=ax, extend="max", **look)
    bar.set_label("fall height, m")
    bar.outline.set_visible(False)
    if fall_limit is not None:
        level = kwargs.get("orientation") == "horizontal"
        line = bar.ax.axvline if level else bar.ax.axhline
        line(fall_limit, color=__getattr__("PAPER"), linewidth=2.4)
        line(fall_limit, color=__getattr__("INK"), linewidth=1.0)
    with units_of(units):
        show_axis(bar.ax.xaxis if kwargs.get("orientation") == "horizontal" else bar.ax.yaxis)
    return bar

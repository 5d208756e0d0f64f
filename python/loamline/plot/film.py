"""Flights that move: the side view as a film, slow enough to see."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from ..frames import Heading
from . import style
from .side import draw_edge, draw_ground
from .units import show, told, units_of

if TYPE_CHECKING:
    from collections.abc import Sequence

_STEPS = 200


def film(
    site: Any,
    flights: Sequence[Any],
    ground: Any = None,
    fall_limit: float | None = None,
    slower: float = 4.0,
    rate: int = 20,
    look: str | None = None,
    units: str | None = None,
) -> Any:
    """Makes a film of flights from the side; returns a `matplotlib.animation.FuncAnimation`.

    Each flight is the way of the rider's centre of mass, coloured by its fall height; the tyres' mark shows when
    they touch. `plot.save(film, "film.gif")` or `.html` writes it; `film.to_jshtml()` shows it in a notebook.

    Args:
        site: the site; gives ground and takeoff.
        flights: flights, as from `launch.flight(...)` or `passes.flight(i)`; 1 to 200 of them.
        ground: ground with a landing to draw, or None for the ground as it is.
        fall_limit: limit in metres for the colours; the site's where None.
        slower: how many times slower than life, above 0.
        rate: frames a second, 1 to 60.
        look: "light" or "dark".
        units: "metres" or "feet", for the axes.

    Raises:
        InputError: no flights or too many, or a number outside its range.
    """
    from matplotlib.animation import FuncAnimation
    from matplotlib.figure import Figure

    _check(flights, slower, rate)
    limit = site.fall_limit if fall_limit is None else fall_limit
    with style.sheet(look), units_of(units):
        figure = Figure(figsize=(5.4, 3.0), layout="constrained")
        ax = figure.subplots()
        stage = _Stage(ax, site, list(flights), ground, limit)
        show(ax)
        # Laid out once: to do so anew for each frame takes ten times as long as the drawing.
        figure.draw_without_rendering()
        figure.set_layout_engine("none")
        seconds = max(flight.time for flight in flights) * slower
        # The last second stands still.
        frames = round(seconds * rate) + rate
        times = np.minimum(np.arange(frames) / rate, seconds) / slower
        return FuncAnimation(figure, stage.draw, list(times), interval=1000.0 / rate, blit=False, repeat=True)


def _check(flights: Sequence[Any], slower: float, rate: int) -> None:
    from ..exports import _above, _wrong

    if not 1 <= len(flights) <= 200:
        raise _wrong("flights", len(flights), "1 to 200 of them")
    _above("slower", slower)
    if not 1 <= rate <= 60:
        raise _wrong("rate", rate, "1 to 60 frames a second")


class _Stage:
    """What is drawn once, and what each moment moves."""

    def __init__(self, ax: Any, site: Any, flights: list[Any], ground: Any, limit: float) -> None:
        frame = _frame(site, flights, ground)
        paths = [np.asarray(flight.path(_STEPS)) for flight in flights]
        self._times = [np.linspace(0.0, flight.time, _STEPS) for flight in flights]
        self._paths = [np.column_stack([frame.along(path), path[:, 2]]) for path in paths]
        self._flights = flights
        ahead = max(float(path[:, 0].max()) for path in self._paths) + 2.0
        draw_edge(ax, site.takeoff, frame, 0.0)
        # Through the middle of the marks.
        across = float(np.mean([frame.across(path[-1]) for path in paths]))
        draw_ground(ax, site.ground, ground, frame, 0.0, (-2.0, ahead), across)
        top = max(float(path[:, 1].max()) for path in self._paths) + 0.8
        ax.set(xlabel="along the flight from the edge, m", ylabel="height, m", aspect="equal")
        ax.set(xlim=(-2.0, ahead), ylim=(ax.get_ylim()[0], top))
        norm = style.severity_norm(limit)
        inks = [_ink(flight, norm) for flight in flights]
        self._trails = [ax.plot([], [], "-", color=ink, lw=1.0, alpha=0.75)[0] for ink in inks]
        self._riders = [ax.plot([], [], "o", color=ink, ms=6, mec=style.INK, mew=0.6, zorder=6)[0] for ink in inks]
        shapes = [style.MARKERS.get(flight.touchdown.outcome, "o") for flight in flights]
        self._marks = [ax.plot([], [], shape, color=ink, ms=5, zorder=5)[0] for shape, ink in zip(shapes, inks)]
        self._frame = frame
        self._clock = ax.text(0.99, 0.97, "", transform=ax.transAxes, ha="right", va="top")

    def draw(self, time: float) -> list[Any]:
        """Moves everything to a time since the launches, s; returns what moved."""
        for flight, path, times, trail, rider, mark in zip(
            self._flights, self._paths, self._times, self._trails, self._riders, self._marks
        ):
            here = np.array([np.interp(time, times, path[:, k]) for k in (0, 1)])
            behind = path[times < time]
            trail.set_data(*np.vstack([behind, here]).T)
            rider.set_data(here[:1], here[1:])
            down = time >= flight.time and np.isfinite(flight.touchdown.mark[0])
            at = flight.touchdown.mark
            mark.set_data([float(self._frame.along(at))] if down else [], [at[2]] if down else [])
        self._clock.set_text(f"{time:.2f} s{self._falls(time)}")
        return [*self._trails, *self._riders, *self._marks, self._clock]

    def _falls(self, time: float) -> str:
        """Returns the fall height in words once a single flight is down."""
        if len(self._flights) > 1 or time < self._flights[0].time:
            return ""
        fall = self._flights[0].touchdown.fall_height
        return f": fall height {told(fall, 'm')}" if np.isfinite(fall) else ""


def _frame(site: Any, flights: list[Any], ground: Any) -> Heading:
    """Returns the film's plane: from the edge's middle along the landing, or along the mean launch."""
    middle = site.takeoff.mesh(2, 3)[-1, 1]
    landing = None if ground is None else ground.landing
    if landing is not None:
        return Heading(float(middle[0]), float(middle[1]), float(np.radians(landing.heading_deg)))
    vx, vy = np.mean([flight.launch.velocity[:2] for flight in flights], axis=0)
    return Heading(float(middle[0]), float(middle[1]), float(np.arctan2(vy, vx)))


def _ink(flight: Any, norm: Any) -> Any:
    fall = flight.touchdown.fall_height
    return style.FALL_HEIGHT(norm(fall)) if np.isfinite(fall) else style.STONE

"""Sliders for speed, exit height, landing place and slope, beside side view, plan and numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ..plot.units import Units
    from .widget import Explorer

__all__ = ["explore"]


def explore(
    site: Any,
    who: str | None = None,
    landing: Any = None,
    riders: int = 64,
    seed: int = 1,
    units: Units = "metres",
) -> Explorer:
    """Sliders for a notebook: speed, exit height, landing place and slope, with side view, plan and numbers.

    Each move rides the takeoff with each of the three leans, flies and lands, by the class's middle rider
    without pop, and lands all riders of an ensemble again. The face's foot lies on the ground; other
    numbers of the landing do not change. Numbers guide, they certify nothing.

    Args:
        site: the site.
        who: class of the rider; None takes the commonest.
        landing: gives length, width, heading, batter, and where the sliders stand at first; None takes a
            face 2.5 m long and 2 m wide (an assumption) along the mean flight.
        riders: how many are landed at each move for the share that lands softly, 1 to 1048576.
        seed: of their draws.
        units: "metres" or "feet", in which numbers are shown.

    Returns:
        A widget for Jupyter; `view.setting`, `view.numbers` and `view.landing` say where the sliders stand.

    Raises:
        InputError: a class that there is not, or a number outside its range.
        PassesError: nobody leaves the edge, and why.
        ImportError: anywidget is not installed.
    """
    from ..plot.units import scale

    scale(units)
    try:
        from .widget import Explorer
    except ImportError as error:
        raise ImportError("sliders need anywidget: pip install 'loamline[notebook]'") from error
    from .bench import Bench

    return Explorer(Bench(site, who, landing, riders, seed), units)

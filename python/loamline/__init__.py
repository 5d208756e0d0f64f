"""Where mountain-bike riders land off a takeoff, how hard, and which landing to build for them.

SI units; angles in degrees where a name ends in `_deg`; `z` up, headings counter-clockwise from
`+x`. Numbers guide a first build and the next test; they certify nothing: start slow, wear
protection, never test alone, and let local codes, the land manager and a licensed engineer decide.

>>> import loamline as ll
>>> ll.Rider().mass
90.0
"""

from loamline._native import (
    Absorber,
    Air,
    Cancelled,
    FileError,
    FitError,
    FlightError,
    InputError,
    LoamlineError,
    PassesError,
    Rider,
    RideError,
    __version__,
)

__all__ = [
    "Absorber",
    "Air",
    "Cancelled",
    "FileError",
    "FitError",
    "FlightError",
    "InputError",
    "LoamlineError",
    "PassesError",
    "RideError",
    "Rider",
    "__version__",
]

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
    BuiltLanding,
    Cancelled,
    Earthwork,
    FileError,
    FitError,
    Flight,
    FlightError,
    Flights,
    Ground,
    HoldSpeeds,
    InputError,
    Landing,
    Launch,
    Line,
    LoamlineError,
    Passes,
    PassesError,
    Profile,
    Ride,
    RideError,
    Rider,
    RiderClass,
    Site,
    Touchdown,
    Wall,
    __version__,
    earthwork,
    flights,
)

__all__ = [
    "Absorber",
    "Air",
    "BuiltLanding",
    "Cancelled",
    "Earthwork",
    "FileError",
    "FitError",
    "Flight",
    "FlightError",
    "Flights",
    "Ground",
    "HoldSpeeds",
    "InputError",
    "Landing",
    "Launch",
    "Line",
    "LoamlineError",
    "Passes",
    "PassesError",
    "Profile",
    "Ride",
    "RideError",
    "Rider",
    "RiderClass",
    "Site",
    "Touchdown",
    "Wall",
    "__version__",
    "earthwork",
    "flights",
]

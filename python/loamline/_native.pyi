"""Native part of loamline: what `import loamline` gives, typed."""

from collections.abc import Callable, Sequence
from os import PathLike
from typing import Any, ClassVar, Literal, TypeAlias, final

import numpy as np
from numpy.typing import ArrayLike, NDArray

_Array: TypeAlias = NDArray[np.float64]
_Triple: TypeAlias = Sequence[float] | _Array

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
    "_restore",
]
__version__: str

def _restore(name: str, data: bytes) -> Any: ...

class LoamlineError(Exception):
    """Any error that loamline raises by itself."""

class InputError(LoamlineError, ValueError):
    """A wrong input; where one number is wrong: `field`, `value` and what is `allowed`."""

class RideError(LoamlineError):
    """A ride that cannot be computed, or that ended before what was asked of it."""

class FlightError(LoamlineError):
    """A flight that cannot be computed."""

class PassesError(LoamlineError):
    """An ensemble that gives no passes, such as one of which nobody leaves the edge."""

class FitError(LoamlineError):
    """No landing within the bounds given."""

class FileError(InputError):
    """A file that cannot be read or written; names the file, the line and the key."""

class Cancelled(LoamlineError):
    """Long work that its own progress function stopped by returning False."""

@final
class Air:
    """The air and gravity at a site, the same everywhere and at all times there.

    Density follows the ISO 2533 standard atmosphere below 11 km; wind is constant, without gusts.

    Args:
        elevation: above sea level, m, from -5000 to 11000.
        temperature_c: the site's own temperature, degrees Celsius, from -90 to 60; None takes the
            standard one at the elevation.
        wind: the air's velocity (x, y, z), m/s: where it blows to.
        density: kg/m^3, at least 0, whatever elevation and temperature say; None follows them.
        gravity: m/s^2, above 0.

    Raises:
        InputError: a number outside its range.

    >>> import loamline as ll
    >>> round(ll.Air(elevation=1000.0).density, 5)
    1.11166
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        elevation: float = 0.0,
        temperature_c: float | None = None,
        wind: _Triple = (0, 0, 0),
        density: float | None = None,
        gravity: float = 9.80665,
    ) -> Air: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    @property
    def elevation(self) -> float:
        """Elevation above sea level, m."""
    @property
    def temperature_c(self) -> float:
        """Temperature, degrees Celsius: the given one, or the standard one at the elevation."""
    @property
    def pressure(self) -> float:
        """Standard pressure at the elevation, Pa."""
    @property
    def density(self) -> float:
        """Density, kg/m^3: the given one, or by the gas law from pressure and temperature."""
    @property
    def wind(self) -> _Array:
        """The air's velocity, m/s, an array of three: where it blows to."""
    @property
    def gravity(self) -> float:
        """Acceleration of gravity, m/s^2."""

@final
class Absorber:
    """Tyres, suspension, and legs and arms, as one chain along the surface's normal.

    Both wheels count together. Data on bikes are few; the legs' stroke rules the result and should
    be varied from 0.2 to 0.5 m. What is left out takes a round default.

    Args:
        tyre_stiffness: both tyres', N/m, above 0.
        unsprung_mass: between tyres and suspension, kg, above 0.
        travel: of the suspension at the wheels, m, at least 0; 0 is a rigid bike.
        sag: share of the travel used at rest, above 0 and below 1.
        progression: spring force at full travel over a linear spring's with the same sag, 1 to 20.
        compression: damping as the suspension goes in, N s/m, at least 0.
        rebound: damping as it comes out, N s/m, at least 0.
        leg_stroke: how far legs and arms can give, m, at least 0.
        leg_force: at which legs and arms yield, body weights, above 1.
        leg_stiffness: up to that force, N/m, above 0.
        leg_damping: N s/m, at least 0.

    Raises:
        InputError: a number outside its range.

    >>> import loamline as ll
    >>> ll.Absorber(leg_stroke=0.5).leg_stroke
    0.5
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        *,
        tyre_stiffness: float | None = None,
        unsprung_mass: float | None = None,
        travel: float | None = None,
        sag: float | None = None,
        progression: float | None = None,
        compression: float | None = None,
        rebound: float | None = None,
        leg_stroke: float | None = None,
        leg_force: float | None = None,
        leg_stiffness: float | None = None,
        leg_damping: float | None = None,
    ) -> Absorber: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    @property
    def tyre_stiffness(self) -> float:
        """Both tyres' stiffness, N/m."""
    @property
    def unsprung_mass(self) -> float:
        """Mass between tyres and suspension, kg."""
    @property
    def travel(self) -> float:
        """Travel of the suspension at the wheels, m; 0 is a rigid bike."""
    @property
    def sag(self) -> float:
        """Share of the travel used at rest."""
    @property
    def progression(self) -> float:
        """Spring force at full travel over a linear spring's with the same sag."""
    @property
    def compression(self) -> float:
        """Damping as the suspension goes in, N s/m."""
    @property
    def rebound(self) -> float:
        """Damping as it comes out, N s/m."""
    @property
    def leg_stroke(self) -> float:
        """How far legs and arms can give, m."""
    @property
    def leg_force(self) -> float:
        """Force at which legs and arms yield, body weights."""
    @property
    def leg_stiffness(self) -> float:
        """Legs' and arms' stiffness up to that force, N/m."""
    @property
    def leg_damping(self) -> float:
        """Legs' and arms' damping, N s/m."""

@final
class Rider:
    """Rider and bike together, ready to ride.

    Args:
        mass: of rider and bike, kg, above 0.
        cda: drag area, m^2, at least 0.
        crr: coefficient of rolling resistance, at least 0.
        grip: what tyre and surface carry sideways over the load on them, above 0; `float("inf")`
            never slides.
        com_height: height of the centre of mass above the tyres when riding, m, at least 0.
        com_height_landing: the same at touchdown, m; None keeps `com_height`.
        wheelbase: m, above 0.
        wheel_radius: m, above 0.
        wheel_inertia: spin inertia of each wheel, kg m^2, at least 0.
        inertia: in roll, pitch and yaw about the centre of mass, kg m^2, each above 0 and none
            above the sum of the others; None takes (13, 18, 8).
        absorber: what takes up a landing; None takes `Absorber()`.
        rear_to_com: the centre of mass ahead of the rear contact, m, from 0 to the wheelbase;
            None takes 0.4 of the wheelbase.

    Raises:
        InputError: a number outside its range.

    >>> import loamline as ll
    >>> ll.Rider(mass=80.0).mass
    80.0
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        mass: float = 90.0,
        cda: float = 0.55,
        crr: float = 0.03,
        grip: float = 0.6,
        com_height: float = 1.0,
        com_height_landing: float | None = None,
        wheelbase: float = 1.2,
        wheel_radius: float = 0.35,
        wheel_inertia: float = 0.0,
        inertia: _Triple | None = None,
        absorber: Absorber | None = None,
        rear_to_com: float | None = None,
    ) -> Rider: ...
    @staticmethod
    def typical(body_mass: float = 75.0, body_height: float = 1.75) -> Rider:
        """The rider on a trail bike that body mass and height suggest.

        Mass and inertia from body segments (de Leva 1996) and a measured bike (Moore 2012), drag by
        body surface (Du Bois 1916); posture is common practice. Other postures differ by 20 % and more.

        Args:
            body_mass: kg, from 20 to 200.
            body_height: m, from 1.0 to 2.3.

        Raises:
            InputError: a number outside its range.

        >>> import loamline as ll
        >>> round(ll.Rider.typical(body_mass=75, body_height=1.75).mass, 6)
        90.0
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    @property
    def mass(self) -> float:
        """Mass of rider and bike, kg."""
    @property
    def cda(self) -> float:
        """Drag area, m^2."""
    @property
    def crr(self) -> float:
        """Coefficient of rolling resistance."""
    @property
    def grip(self) -> float:
        """Grip between tyre and surface: the side or braking force it carries over the load on it."""
    @property
    def com_height(self) -> float:
        """Height of the centre of mass above the tyres when riding, m."""
    @property
    def com_height_landing(self) -> float:
        """Height of the centre of mass above the tyres at touchdown, m."""
    @property
    def wheelbase(self) -> float:
        """Wheelbase, m."""
    @property
    def rear_to_com(self) -> float:
        """How far the centre of mass is ahead of the rear contact, m."""
    @property
    def wheel_radius(self) -> float:
        """The wheels' radius, m."""
    @property
    def wheel_inertia(self) -> float:
        """Spin inertia of each wheel, kg m^2."""
    @property
    def inertia(self) -> _Array:
        """Inertia in roll, pitch and yaw about the centre of mass, kg m^2, an array of three."""
    @property
    def absorber(self) -> Absorber:
        """What takes up a landing between the tyres and the rider's mass."""

"""Native part of loamline: what `import loamline` gives, typed."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from os import PathLike
from typing import Any, ClassVar, Literal, TypeAlias, final

import numpy as np
from numpy.typing import ArrayLike, NDArray

_Array: TypeAlias = NDArray[np.float64]
_Words: TypeAlias = NDArray[np.str_]
_Triple: TypeAlias = Sequence[float] | _Array
_Zone: TypeAlias = Sequence[float] | Mapping[str, float]
_Brake: TypeAlias = float | Sequence[_Zone] | _Array
_Progress: TypeAlias = bool | Callable[[int, int], object]
_Span: TypeAlias = tuple[float, float, float]
_Path: TypeAlias = str | PathLike[str]

__all__ = [
    "Absorber",
    "Air",
    "Balance",
    "Bargain",
    "BarrowMap",
    "BatchLoads",
    "BatchPasses",
    "Borrow",
    "BuiltLanding",
    "Cancelled",
    "Doubt",
    "Drop",
    "Earthwork",
    "Entrance",
    "EntranceCheck",
    "EvenLanding",
    "EvenSurface",
    "FileError",
    "Fit",
    "FitError",
    "Flag",
    "FlagForecast",
    "Flight",
    "FlightError",
    "Flights",
    "Found",
    "FreeLanding",
    "Ground",
    "HoldSpeeds",
    "InputError",
    "Ladder",
    "Landing",
    "Launch",
    "Line",
    "Lip",
    "Loads",
    "LoamlineError",
    "NextStep",
    "Passes",
    "PassesError",
    "PocketCard",
    "Pond",
    "Ponding",
    "Profile",
    "Retaining",
    "Ride",
    "RideError",
    "Rider",
    "RiderClass",
    "RigidFlight",
    "RigidFlights",
    "RunOut",
    "Site",
    "Soil",
    "Terrain",
    "Touchdown",
    "Tradeoff",
    "TwoWheelRide",
    "Wall",
    "__version__",
    "_columns",
    "_restore",
    "bargain",
    "barrow_map",
    "base_course",
    "check_entrance",
    "earthwork",
    "even_landing",
    "even_surface",
    "fit_flags",
    "fit_landing",
    "flight_paths",
    "flights",
    "free_landing",
    "ladder",
    "loads",
    "membrane",
    "next_barrows",
    "next_step",
    "passes",
    "ponding",
    "retaining",
    "rigid_flights",
    "run_out",
    "site_schema",
    "tradeoff",
    "write_ascii_grid",
    "write_obj",
    "write_ply",
]
__version__: str

def _restore(name: str, data: bytes) -> Any: ...
def _columns(name: str, columns: dict[str, Any]) -> Any: ...

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
    def _repr_html_(self) -> str: ...
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
    be varied from 0.2 to 0.5 m. What is left out takes a round default. A bike without suspension is
    `Absorber.rigid(...)`.

    Args:
        tyre_stiffness: both tyres', N/m, above 0.
        unsprung_mass: between tyres and suspension, kg, above 0.
        frame_mass: of the bike between suspension and rider, kg, above 0.
        travel: of the suspension at the wheels, m, above 0.
        sag: share of the travel used at rest, above 0 and below 1.
        progression: spring force at full travel over a linear spring's with the same sag, 1 to 20.
        compression: damping as the suspension goes in, N s/m, at least 0.
        rebound: damping as it comes out, N s/m, at least 0.
        leg_stroke: how far legs and arms can give, m, above 0.
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
        travel: float | None = None,
        tyre_stiffness: float | None = None,
        unsprung_mass: float | None = None,
        frame_mass: float | None = None,
        leg_stroke: float | None = None,
        leg_force: float | None = None,
        leg_stiffness: float | None = None,
        leg_damping: float | None = None,
        sag: float | None = None,
        progression: float | None = None,
        compression: float | None = None,
        rebound: float | None = None,
    ) -> Absorber: ...
    @staticmethod
    def rigid(
        *,
        tyre_stiffness: float | None = None,
        unsprung_mass: float | None = None,
        frame_mass: float | None = None,
        leg_stroke: float | None = None,
        leg_force: float | None = None,
        leg_stiffness: float | None = None,
        leg_damping: float | None = None,
    ) -> Absorber:
        """The absorber of a bike without suspension: tyres, the whole bike's mass, legs and arms.

        Args:
            tyre_stiffness: both tyres', N/m, above 0.
            unsprung_mass: a part of the bike's mass, kg, above 0.
            frame_mass: the rest of the bike's mass, kg, above 0.
            leg_stroke: how far legs and arms can give, m, above 0.
            leg_force: at which legs and arms yield, body weights, above 1.
            leg_stiffness: up to that force, N/m, above 0.
            leg_damping: N s/m, at least 0.

        Raises:
            InputError: a number outside its range.

        >>> import loamline as ll
        >>> ll.Absorber.rigid().travel is None
        True
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def travel(self) -> float | None:
        """Travel of the suspension at the wheels, m; None for a rigid bike."""
    @property
    def tyre_stiffness(self) -> float:
        """Both tyres' stiffness, N/m."""
    @property
    def unsprung_mass(self) -> float:
        """Mass between tyres and suspension, kg."""
    @property
    def frame_mass(self) -> float:
        """The bike's mass between suspension and rider, kg."""
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
    def loads(
        self,
        touchdown: Touchdown | None = None,
        *,
        fall_height: float | None = None,
        normal_speed: float | None = None,
        slope_deg: float | None = None,
        gravity: float | None = None,
        chain: str = "bike",
        ground_stiffness: float | None = None,
        crush_force: float | None = None,
    ) -> Loads:
        """What bike and body take in a landing: of a touchdown, or by fall height or speed, and slope.

        Args:
            touchdown: the moment of landing; its slope and gravity count. Or, one of:
            fall_height: equivalent fall height, m, at least 0.
            normal_speed: speed into the surface, m/s, at least 0.
            slope_deg: of the surface, degrees, 0 to 90; None is level.
            gravity: m/s^2; None is standard gravity.
            chain: "bike", or "legs" for the body alone, landing on its feet.
            ground_stiffness: of the ground, N/m, above 0; None is rigid.
            crush_force: at which the ground is crushed and does not come back, N; None never.

        Raises:
            InputError: a number outside its range, a touchdown without a touch, or a rider no heavier
                than the bike.

        >>> import loamline as ll
        >>> round(ll.Rider().loads(fall_height=0.6).peak_bodyweights, 3)
        3.2
        """
    def two_wheel_ride(
        self,
        terrain: Terrain,
        air: Air,
        *,
        start: float | Mapping[str, Any],
        speed: float = 0.0,
        brake: Sequence[float] | _Array | None = None,
        tolerance: float = 1e-9,
    ) -> TwoWheelRide:
        """The ride over a terrain of a rigid body on two wheels with suspension and tyres.

        Bike and rider pitch, squat and leave the ground as the wheels do, in the plane of travel;
        nothing is steered, pumped or pulled up, and legs and arms do not give: loads are upper
        bounds.

        Args:
            terrain: what is ridden.
            air: through what.
            start: level distance, m, at which the front wheel touches, settled on both wheels; or a
                pose as a dict of `centre` (x, z), `pitch_deg`, `velocity` (x, z), `pitch_rate_deg`
                and `travel` (rear, front), of which only `centre` is needed.
            speed: along the ground at that start, m/s, from 0 to 100; a pose brings its own.
            brake: (from, to, deceleration), level metres of the centre of mass and m/s^2 on the
                level, each wheel by its load and no more than the grip.
            tolerance: error allowed a step, from 1e-12 to 1e-3.

        Raises:
            InputError: a hollow tighter than the wheels, a run-in shorter than the wheelbase, a
                number outside its range.
            RideError: numbers that do not resolve.

        >>> import loamline as ll
        >>> hill = ll.Terrain.polyline([0, 40], [4.0, 0.0])
        >>> ll.Rider().two_wheel_ride(hill, ll.Air(), start=2.0, speed=5.0).outcome
        'rode_out'
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
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


@final
class Profile:
    """Heights over level distances along a straight course, distance growing along the travel.

    Args:
        distance: level distances, m, (n,), rising.
        height: m, (n,).
        radius: None joins the points by one smooth curve (a cubic spline); a radius, m, joins them
            by straights rounded at the corners.
        position: (x, y, z), m, of the profile's zero of distance and height.
        heading_deg: of the course, counter-clockwise from +x, degrees.

    Raises:
        InputError: points that do not rise or are not finite, or a radius that does not fit.

    >>> import loamline as ll
    >>> hill = ll.Profile([0, 10, 20], [3, 1, 0], radius=2.0)
    >>> round(hill.line().length, 3)
    20.248
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        distance: ArrayLike,
        height: ArrayLike,
        radius: float | None = None,
        position: _Triple = (0, 0, 0),
        heading_deg: float = 0.0,
    ) -> Profile: ...
    def line(self) -> Line:
        """The tyres' line along the whole profile."""
    def run_in(self, start: float) -> Line:
        """The tyres' line from a start mark to the profile's end.

        Args:
            start: level metres before the profile's end.

        Raises:
            InputError: a start mark off the profile.
        """
    def start_mark(
        self,
        speed: float,
        rider: Rider,
        air: Air,
        brake: _Brake | None = None,
        roll_in: float = 0.0,
    ) -> float:
        """The nearest start mark that gives a wanted speed at the profile's end.

        Args:
            speed: the tyres', m/s, above 0.
            rider, air: who rides, through what.
            brake: as in `Line.ride`; zones by stations along the whole profile's line.
            roll_in: speed at the mark, m/s; 0 starts from rest.

        Returns:
            Level metres before the profile's end; the speed is met to 1e-7 m/s.

        Raises:
            RideError: no mark gives that speed; says the fastest.
        """
    def height_at(self, distance: float) -> float:
        """Height at a level distance along the profile, m, over its zero.

        Raises:
            InputError: a distance off the profile.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def distance(self) -> _Array:
        """Level distances given, m, (n,)."""
    @property
    def height(self) -> _Array:
        """Heights given, m, (n,)."""
    @property
    def radius(self) -> float | None:
        """Radius at the corners, m; None for a smooth curve."""


@final
class Wall:
    """A panel carried along a curve in plan and banked to the outside of the turn.

    An even bank is a wall ride, a growing one a steepening wall, a small one on a turn a berm.

    Args:
        radius: of the foot line in plan, m, with `sweep_deg`; or give `pieces`.
        sweep_deg: how far the foot line turns, degrees, with `radius`.
        bank_deg: at the start and the end, degrees, 0 to 90, even between; or one number all
            along; or rows (station along the foot in m, degrees), smooth through them.
        width: of the panel from its foot up, m, above 0 and at most 1000.
        grade: rise of the foot line over its run, -1 to 1.
        turn: "left" or "right", seen by the rider.
        position: (x, y, z), m, of the foot line's start.
        heading_deg: of the foot line at its start, counter-clockwise from +x, degrees.
        pieces: the foot line in plan piece by piece: dicts of `length` (a straight), `radius` and
            `sweep_deg` (an arc), or `length`, `radius_start` and `radius_end` (a clothoid;
            `float("inf")` is straight); m and degrees.
        end_skew_deg: the end edge off square, degrees, -60 to 60; positive where the top reaches on.
        hollow_radius: by which the panel bends up across, m, above 0; None for a flat panel. The bank
            is that at the foot, and grows by `width / hollow_radius` to the top, where it is at most 90
            degrees; heights up the panel are measured along it.

    Raises:
        InputError: a number outside its range, with its name.

    >>> import loamline as ll
    >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
    >>> round(wall.length, 3)
    6.72
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        radius: float | None = None,
        sweep_deg: float | None = None,
        bank_deg: float | ArrayLike | None = None,
        width: float | None = None,
        grade: float = 0.0,
        turn: Literal["left", "right"] = "left",
        position: _Triple = (0, 0, 0),
        heading_deg: float = 0.0,
        pieces: Sequence[Mapping[str, float]] | None = None,
        end_skew_deg: float = 0.0,
        hollow_radius: float | None = None,
    ) -> Wall: ...
    def line(
        self,
        enter: float | None = None,
        leave: float | None = None,
        points: ArrayLike | None = None,
    ) -> Line:
        """A line on the wall.

        Args:
            enter: metres up the panel from its foot, at the start.
            leave: the same at the end edge; a quintic lies between, level along the panel at both
                ends.
            points: instead, rows (station along the foot, metres up the panel), smooth through them,
                up to the end edge.

        Raises:
            InputError: a line that is not on the panel, and where.

        >>> import loamline as ll
        >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
        >>> round(wall.line(enter=0.25, leave=1.6).length, 2)
        7.49
        """
    def free_line(
        self,
        rider: Rider,
        air: Air,
        enter: float,
        speed: float,
        heading_deg: float = 0.0,
        end: Literal["edge", "any"] = "edge",
    ) -> Line:
        """The line of a rider who just lets it run: nothing is carried across it anywhere.

        The centre of mass is a particle on the surface parallel to the wall; drag, rolling resistance
        and the wheels' inertia hold it back along the line. Ridden again at the same speed, the
        line has no side load. It says where a wall leads, not where a rider steers.

        Args:
            rider, air: who rides, through what.
            enter: metres up the panel from its foot, at the start.
            speed: the tyres' there, m/s, 0.1 to 100.
            heading_deg: the tyres' direction there, from level along the panel, positive up it,
                -90 to 90 degrees.
            end: "edge": only a line that reaches the end edge is given; "any": also one that ends
                otherwise, up to there. `line.free_end` says how.

        Returns:
            Line: to be ridden like any other.

        Raises:
            InputError: a number outside its range, with its name.
            RideError: a line that does not reach the edge: it runs off the top, comes down to the foot,
                turns back over the start, stalls (below 0.1 m/s) or leaves the surface; `outcome`, `station` and
                `height` on the error say how and where. Or a hollow tighter than twice the height of the
                centre of mass.

        >>> import loamline as ll
        >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
        >>> line = wall.free_line(ll.Rider(), ll.Air(), enter=0.25, speed=8.0)
        >>> round(line.free_end.get("height"), 2)
        0.71
        """
    def free_speed(
        self, rider: Rider, air: Air, enter: float, leave: float, heading_deg: float = 0.0
    ) -> float:
        """The entry speed whose free line leaves the end edge at a wanted height, m/s, up to 60.

        Args:
            rider, air: who rides, through what.
            enter, leave: metres up the panel from its foot, at the start and at the end edge.
            heading_deg: the tyres' direction at the start, as in `free_line`.

        Raises:
            InputError: a number outside its range, with its name.
            RideError: no speed found gives that height.

        >>> import loamline as ll
        >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
        >>> speed = wall.free_speed(ll.Rider(), ll.Air(), enter=0.25, leave=1.6)
        >>> line = wall.free_line(ll.Rider(), ll.Air(), enter=0.25, speed=speed)
        >>> round(line.free_end.get("height"), 6)
        1.6
        """
    def hold_speeds(
        self,
        line: Line,
        rider: Rider,
        air: Air,
        lean: Literal["deck", "balanced", "settled"] = "balanced",
    ) -> HoldSpeeds:
        """The entry speeds that hold a line to its end: `line.hold_speeds(rider, air, lean)`.

        Returns:
            HoldSpeeds: unpacks as `slow, fast`, m/s; None, None where nothing holds, with `reason`.
        """
    def bank_deg_at(self, station: float) -> float:
        """Bank at a station along the foot, degrees; that of the foot itself for a hollow panel."""
    def edge(self, height: float) -> _Array:
        """The end edge at a height up the panel, m, an array of three."""
    def mesh(self, along: int = 60, up: int = 12) -> _Array:
        """Points of the panel for pictures, m, (along, up, 3).

        Args:
            along: how many along the foot, at least 2.
            up: how many up the panel, at least 2.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def length(self) -> float:
        """Length of the foot seen from above, m."""
    @property
    def width(self) -> float:
        """Width of the panel from its foot up, m."""
    @property
    def grade(self) -> float:
        """Rise of the foot over its run."""
    @property
    def turn(self) -> Literal["left", "right"]:
        """To which side it turns, "left" or "right"."""
    @property
    def position(self) -> _Array:
        """Where the foot starts, m, an array of three."""
    @property
    def heading_deg(self) -> float:
        """Heading of the foot where it starts, degrees."""
    @property
    def end_skew_deg(self) -> float:
        """Skew of the end edge, degrees."""
    @property
    def hollow_radius(self) -> float | None:
        """Radius by which the panel bends up across, m; None for a flat one."""


@final
class Lip:
    """A takeoff that rises in one vertical plane up to an edge; set across the trail it is a hip.

    Its shape is one arc, by `radius` or by `height`, or `pieces`. Places on it are metres along its
    curve and metres across, from its middle to the left.

    Args:
        radius: of the arc, m, with `end_angle_deg`.
        end_angle_deg: from level at the edge, degrees, at most 90.
        width: across the travel, along the surface, m, above 0.
        height: of the edge over the start, m, with `end_angle_deg`, instead of `radius`.
        grade: at its start, rise over run, -1 to 1; negative where it begins on a trail that falls.
        pieces: instead, its shape piece by piece: dicts of `length` (a straight), `radius` and
            `sweep_deg` (an arc), or `length`, `radius_start` and `radius_end` (a clothoid;
            `float("inf")` is straight); `bend="down"` in one that bends down.
        position: (x, y, z), m, of the middle of its start.
        heading_deg: of the travel over it, counter-clockwise from +x, degrees.
        hip_deg: from the travel to the lip's own direction, degrees, -60 to 60, positive to the left.
            Its sides, and lines on it, still run along the travel seen from above.
        end_skew_deg: the end edge off square, degrees, -60 to 60; positive where the left side reaches
            on.
        tilt_deg: how far the surface is banked sideways, degrees from level across, -60 to 60, positive
            where the left side is higher; one number all along, or two: at the start and at the end,
            even between.

    Raises:
        InputError: a number outside its range, with its name; a shape past vertical.

    >>> import loamline as ll
    >>> lip = ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5)
    >>> round(lip.height, 3), round(lip.length, 3)
    (0.936, 2.793)
    >>> ll.Lip(height=0.9, end_angle_deg=40.0, width=1.5).end_angle_deg
    40.0
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        radius: float | None = None,
        end_angle_deg: float | None = None,
        width: float | None = None,
        height: float | None = None,
        grade: float = 0.0,
        pieces: Sequence[Mapping[str, float | str]] | None = None,
        position: _Triple = (0, 0, 0),
        heading_deg: float = 0.0,
        hip_deg: float = 0.0,
        end_skew_deg: float = 0.0,
        tilt_deg: float | ArrayLike = 0.0,
    ) -> Lip: ...
    def line(self, offset: float = 0.0) -> Line:
        """The line over it: straight along the travel seen from above, from its start to its edge.

        Args:
            offset: metres across from its middle, to the left positive.

        Raises:
            InputError: a line that is not on the lip.

        >>> import loamline as ll
        >>> round(ll.Lip(radius=4.0, end_angle_deg=40.0, width=1.5).line().length, 3)
        2.793
        """
    def check_rider(self, rider: Rider) -> None:
        """Says whether the rider's wheels fit into its curve; every ride over it asks this.

        Raises:
            RideError: a hollow tighter than the wheels, with both radii.
        """
    def edge(self, offset: float = 0.0) -> _Array:
        """The end edge at a place across, m, an array of three."""
    def mesh(self, along: int = 40, across: int = 8) -> _Array:
        """Points of its surface for pictures, m, (along, across, 3), from right to left.

        Args:
            along: how many along it, at least 2.
            across: how many across it, at least 2.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def length(self) -> float:
        """Length along its curve, m."""
    @property
    def height(self) -> float:
        """Height of its edge over its start, in the middle, m."""
    @property
    def end_angle_deg(self) -> float:
        """Angle from level at its edge, in its own direction and in the middle, degrees."""
    @property
    def width(self) -> float:
        """Width across the travel, along the surface, m."""
    @property
    def grade(self) -> float:
        """Grade at its start, rise over run."""
    @property
    def position(self) -> _Array:
        """Middle of its start, m, an array of three."""
    @property
    def heading_deg(self) -> float:
        """Heading of the travel over it, degrees."""
    @property
    def hip_deg(self) -> float:
        """Angle from the travel to its own direction, degrees, positive to the left."""
    @property
    def end_skew_deg(self) -> float:
        """Skew of the end edge, degrees."""
    @property
    def tilt_deg(self) -> tuple[float, float]:
        """Tilt at its start and at its end, degrees."""


@final
class Drop:
    """A straight deck, level across, that ends at an edge without rising to it.

    Args:
        length: along its middle, m, above 0.
        width: m, above 0.
        grade: rise over run, -1 to 1, uphill positive.
        position: (x, y, z), m, of the middle of its start.
        heading_deg: counter-clockwise from +x, degrees.
        end_skew_deg: the end edge off square, degrees, -60 to 60; positive where the left side reaches
            on.

    Raises:
        InputError: a number outside its range, with its name.

    >>> import loamline as ll
    >>> ll.Drop(length=3.0, width=1.2, position=(0, 0, 1.5)).edge().tolist()
    [3.0, 0.0, 1.5]
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        length: float,
        width: float,
        grade: float = 0.0,
        position: _Triple = (0, 0, 0),
        heading_deg: float = 0.0,
        end_skew_deg: float = 0.0,
    ) -> Drop: ...
    def line(self, offset: float = 0.0) -> Line:
        """The line along it, from its start to its edge.

        Args:
            offset: metres across from its middle, to the left positive.

        Raises:
            InputError: a line that is not on the deck.
        """
    def edge(self, offset: float = 0.0) -> _Array:
        """The end edge at a place across, m, an array of three."""
    def mesh(self, along: int = 2, across: int = 2) -> _Array:
        """Points of its surface for pictures, m, (along, across, 3), from right to left.

        Args:
            along: how many along it, at least 2.
            across: how many across it, at least 2.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def length(self) -> float:
        """Length along its middle, m."""
    @property
    def width(self) -> float:
        """Width, m."""
    @property
    def grade(self) -> float:
        """Rise over run, uphill positive."""
    @property
    def position(self) -> _Array:
        """Middle of its start, m, an array of three."""
    @property
    def heading_deg(self) -> float:
        """Heading, degrees."""
    @property
    def end_skew_deg(self) -> float:
        """Skew of the end edge, degrees."""


@final
class Entrance:
    """A ramp of earth from the trail up to a deck: a hollow, a straight, a crest.

    The straight is as long as the height wants. Grades are rise over run, uphill positive.

    Args:
        height: of the deck's start over the ramp's, m, above 0.
        width: m, above 0.
        ramp_grade: of the straight, steeper than trail and deck, above 0 and at most 1.
        sag_radius: of the hollow at its foot, m, above 0.
        crest_radius: of the crest at its top, m, above 0.
        trail_grade: of the trail that comes in, -1 to 1.
        deck_grade: of the deck, -1 to 1.
        position: (x, y, z), m, of the middle of its start.
        heading_deg: counter-clockwise from +x, degrees.

    Raises:
        InputError: a number outside its range, with its name; a height that the two curves alone
            come above.

    >>> import loamline as ll
    >>> ramp = ll.Entrance(height=0.8, width=1.5, ramp_grade=0.3, sag_radius=4.0, crest_radius=3.0)
    >>> round(ramp.length, 3), round(ramp.line().length, 3)
    (3.797, 3.797)
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        height: float,
        width: float,
        ramp_grade: float,
        sag_radius: float,
        crest_radius: float,
        trail_grade: float = 0.0,
        deck_grade: float = 0.0,
        position: _Triple = (0, 0, 0),
        heading_deg: float = 0.0,
    ) -> Entrance: ...
    def line(self, offset: float = 0.0) -> Line:
        """The line up it, from the trail to the deck.

        Args:
            offset: metres across from its middle, to the left positive.

        Raises:
            InputError: a line that is not on the ramp.
        """
    def edge(self, offset: float = 0.0) -> _Array:
        """Its top at a place across, where the deck begins, m, an array of three."""
    def mesh(self, along: int = 40, across: int = 2) -> _Array:
        """Points of its surface for pictures, m, (along, across, 3), from right to left.

        Args:
            along: how many along it, at least 2.
            across: how many across it, at least 2.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def length(self) -> float:
        """Length along its curve, m."""
    @property
    def run(self) -> float:
        """Level length, m."""
    @property
    def height(self) -> float:
        """Height of the deck's start over the ramp's, m."""
    @property
    def width(self) -> float:
        """Width, m."""
    @property
    def position(self) -> _Array:
        """Middle of its start, m, an array of three."""
    @property
    def heading_deg(self) -> float:
        """Heading, degrees."""


@final
class Line:
    """The line that the tyres follow, with the surface's normal under it.

    Made by `profile.line()`, `profile.run_in(start)`, `wall.line(...)`, `wall.free_line(...)` and
    `lip.line(...)`. Stations are metres of arc length from its start.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def points(self, n: int = 200) -> _Array:
        """`n` points evenly along the line, ends included, m, (n, 3)."""
    def normals(self, n: int = 200) -> _Array:
        """Unit normals of the surface at the stations of `points(n)`, (n, 3)."""
    def on_panel(self, n: int = 200) -> _Array:
        """Where `n` points evenly along a line on a wall are on its panel, m, (n, 2).

        Columns are the station along the wall's foot and the distance up the panel: what
        `loamline.plot.wall` draws.

        Raises:
            InputError: a line that is not on a wall.
        """
    def ride(
        self,
        rider: Rider,
        air: Air,
        speed: float,
        brake: _Brake | None = None,
        lean: Literal["deck", "balanced", "settled"] = "deck",
        power: float = 0.0,
        drive_limit: float = 3.0,
        sample: float | None = 0.02,
    ) -> Ride:
        """The ride along this line.

        What goes wrong on the way is the ride's `outcome`, not an error. The rider is one rigid
        body that does not pump; speeds are good to about 1e-11 within that model.

        Args:
            rider, air: who rides, through what.
            speed: the tyres' at the line's start, m/s, 0 (from rest) to 100.
            brake: a deceleration all along, m/s^2; or zones in order: rows (from, to, deceleration)
                with stations in m, or dicts with `from`, `to` and `deceleration` or `speed` (the
                speed wanted at the zone's end, m/s). Always limited to the grip left.
            lean: "deck": square to what is under the tyres, soft on slow riders; "balanced": the
                contact force passes through the centre of mass at every station, without swing
                across at the line's end; "settled": balanced, and at the line's end leant as a
                point on the tyres' line would be, so that a slow rider nearly stands.
            power: pedalling, W, at least 0.
            drive_limit: the most that pedalling pushes, m/s^2 (3 is an assumption).
            sample: the farthest that stations may lie apart, m, 1e-4 to 1; None keeps the exit only.

        Raises:
            InputError: a number outside its range.
            RideError: a hollow, or a bend leant into, tighter than twice the height of the centre
                of mass; a balance that is not found; a lip tighter than the wheels.

        >>> import loamline as ll
        >>> level = ll.Profile([0, 30], [0, 0]).line()
        >>> ride = level.ride(ll.Rider(crr=0.0, cda=0.0), ll.Air(), speed=8.0)
        >>> ride.outcome, round(ride.exit_speed, 9)
        ('reached', 8.0)
        """
    def hold_speeds(
        self,
        rider: Rider,
        air: Air,
        lean: Literal["deck", "balanced", "settled"] = "balanced",
    ) -> HoldSpeeds:
        """The entry speeds that hold this line to its end, without braking or pedalling.

        Args:
            rider, air: who rides, through what.
            lean: "balanced", which alone judges what holds; or "settled", or "deck", whose side
                load goes through a roll moment that two tyres cannot give.

        Returns:
            HoldSpeeds: unpacks as `slow, fast`, m/s; None, None where nothing holds, with `reason`.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def length(self) -> float:
        """Length along the tyres' line, m."""
    @property
    def joints(self) -> _Array:
        """Stations where curvature may jump, ends not included, m, (n,)."""
    @property
    def free_end(self) -> dict[str, Any] | None:
        """How a free line ends; None for a line that was given.

        A dict of `outcome` ("edge", "top", "foot", "start", "stalled" or "left_surface"), `station`
        (m along the foot), `height` (m up the panel), `speed` (of the tyres, m/s), `heading_deg` (of
        the tyres, from level along the panel, positive up it) and `time` (s).
        """


@final
class HoldSpeeds:
    """The entry speeds at which the tyres hold a line to its end; unpacks as `slow, fast`."""
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def holds(self, speed: float) -> bool:
        """Whether an entry speed, m/s, holds."""
    def __iter__(self) -> Iterator[float | None]: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def slowest(self) -> float | None:
        """Slowest speed that holds, m/s; None where none does."""
    @property
    def fastest(self) -> float | None:
        """Fastest speed that holds, m/s, infinite where nothing limits it; None where none holds."""
    @property
    def grip_needed(self) -> float | None:
        """Grip with which one speed would hold; None where some do, or where no grip helps."""
    @property
    def reason(self) -> str:
        """What holds, or why nothing does, in words."""


@final
class Ride:
    """A ride along a line: station by station, how it ended, and where its energy went.

    Made by `line.ride(...)`. Where curvature jumps, a station stands twice, before and after.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def launch(self, pop: float = 0.0) -> Launch:
        """The launch off the line's end.

        Args:
            pop: m/s along "up through the bike", -5 to 5; negative soaks the edge up.

        Raises:
            RideError: the ride ended before the edge, or is so slow that it hangs up there; says
                how and where.
        """
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per station; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `sample`; needs xarray."""
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def station(self) -> _Array:
        """Stations along the tyres' line, m, (n,)."""
    @property
    def speed(self) -> _Array:
        """Speed of the tyres, m/s, (n,)."""
    @property
    def normal_load(self) -> _Array:
        """Load on the surface, g's, (n,): 1 standing still on the level."""
    @property
    def grip_demand(self) -> _Array:
        """Side load over load on the surface, (n,)."""
    @property
    def lean(self) -> str:
        """How the rider leant: "deck", "balanced" or "settled"."""
    def explain(self) -> str:
        """The model behind the numbers, with what its lean means, its sources and limits, in words."""
    @property
    def lean_deg(self) -> _Array:
        """Lean off the surface's normal, degrees, (n,), to the left positive: 0 all along with
        lean="deck"."""
    @property
    def time(self) -> _Array:
        """Time from the start, s, (n,)."""
    @property
    def tyres(self) -> _Array:
        """Where the tyres are, m, (n, 3)."""
    @property
    def centre(self) -> _Array:
        """Where the centre of mass is, m, (n, 3)."""
    @property
    def outcome(self) -> str:
        """How it ended: "reached", "slid" (to the end, on paper), "stalled", "did_not_start" or
        "left_surface".
        """
    @property
    def reason(self) -> str:
        """How it ended, in words and numbers."""
    @property
    def outcome_station(self) -> float | None:
        """Station that the outcome tells, m; None where it tells none."""
    @property
    def slip(self) -> dict[str, Any] | None:
        """Where the tyres first slid, a dict of `station` (m), `slide` ("up", "down", "left",
        "right") and `grip_needed`; None where they held.
        """
    @property
    def exit_speed(self) -> float | None:
        """The tyres' speed at the line's end, m/s; None where the ride ended before."""
    @property
    def peak_grip_demand(self) -> float:
        """The highest grip demand of the ride."""
    @property
    def energy(self) -> dict[str, float]:
        """Where the energy went, J/kg: a dict of `start`, `gravity`, `drag`, `rolling`, `brake`,
        `pedal`, `end` and `residual`, with end = start + gravity + pedal - drag - rolling - brake
        + residual.
        """
    @property
    def momentum(self) -> dict[str, _Array] | None:
        """Where the momentum went, per mass, m/s: a dict of `start`, `gravity`, `drag`, `normal`, `side`,
        `rolling`, `brake`, `pedal`, `spin` (of the wheels), `joints` (where curvature jumps), `end`
        and `residual`, each (3,), with end = start + all between + residual; None where only the exit was
        asked for.
        """
    @property
    def warnings(self) -> list[str]:
        """What the rider should know, in words."""


@final
class Launch:
    """The moment of leaving: position and velocity of the centre of mass, and how the bike points.

    Made by `ride.launch(pop)`, or by hand; the distance and drop of a launch by hand count from the
    centre of mass.

    Args:
        position: of the centre of mass, (x, y, z), m.
        velocity: of the centre of mass, (vx, vy, vz), m/s.
        attitude: which way the bike points: unit vectors forward, left and up, (3, 3) in rows;
            None leaves it unknown.
        angular_velocity: rad/s, in the site's axes; only with an attitude.
        tyre_speed: with which the wheels spin on, m/s; None leaves it unknown.

    Raises:
        InputError: a number that is not finite, axes that are not right-handed unit vectors, an
            angular velocity without an attitude.

    >>> import loamline as ll
    >>> ll.Launch(position=(0, 0, 1.5), velocity=(7, 0, 2)).velocity.tolist()
    [7.0, 0.0, 2.0]
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        position: _Triple,
        velocity: _Triple,
        attitude: ArrayLike | None = None,
        angular_velocity: _Triple = (0, 0, 0),
        tyre_speed: float | None = None,
    ) -> Launch: ...
    def flight(
        self,
        ground: Ground,
        rider: Rider,
        air: Air,
        righting_rate_deg: float | None = None,
    ) -> Flight:
        """The flight from here to the ground.

        The rider is a point that flies under gravity and drag; touchdown is the first time its
        distance to the ground comes down to `rider.com_height_landing`, less while it leans.

        Args:
            ground, rider, air: onto what, who, through what.
            righting_rate_deg: how fast a rider who leaves leaning rights himself, degrees/s; None
                takes 250, an assumption.

        Raises:
            FlightError: a path that numbers do not hold.

        >>> import loamline as ll
        >>> launch = ll.Launch(position=(0, 0, 2), velocity=(6, 0, 0))
        >>> flight = launch.flight(ll.Ground.plane(), ll.Rider(cda=0.0), ll.Air())
        >>> round(flight.touchdown.fall_height, 9)
        1.0
        """
    def rigid_flight(
        self,
        ground: Ground,
        rider: Rider,
        air: Air,
        torque: _Triple = (0, 0, 0),
        righting_rate_deg: float | None = None,
    ) -> RigidFlight:
        """The flight of rider and bike as one rigid body that leaves with this attitude and angular
        velocity.

        Path and touchdown are those of `flight`; the body turns on by itself, with the wheels'
        spin momentum, 2 wheel_inertia / wheel_radius times the tyres' speed, held constant in it (for a
        launch by hand without that speed, the velocity's part forward).

        Args:
            ground, rider, air: onto what, who, through what.
            torque: the rider's own constant torque about the bike's forward, left and up axes, N m.
            righting_rate_deg: as for `flight`.

        Raises:
            FlightError: a launch without attitude, or what numbers do not hold.
            InputError: a torque that is not finite.

        >>> import loamline as ll
        >>> launch = ll.Launch((0, 0, 2), (6, 0, 0), attitude=[(1, 0, 0), (0, 1, 0), (0, 0, 1)])
        >>> rigid = launch.rigid_flight(ll.Ground.plane(slope_deg=20), ll.Rider(), ll.Air())
        >>> rigid.touchdown.turn_owed_deg.round(6).tolist()
        [0.0, 20.0, 0.0]
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def position(self) -> _Array:
        """Centre of mass, m, an array of three."""
    @property
    def velocity(self) -> _Array:
        """Velocity of the centre of mass, m/s, an array of three."""
    @property
    def attitude(self) -> _Array | None:
        """Which way the bike points: unit vectors forward, left and up, (3, 3) in rows; None for a
        launch by hand without one.

        Off a ride it is turned in pitch so that turning on at `angular_velocity` gives the angle at
        which the rear wheel leaves.
        """
    @property
    def angular_velocity(self) -> _Array:
        """Angular velocity, rad/s, an array of three in the site's axes.

        About the bike's forward, left and up axes: positive leans right, turns the nose down,
        turns left.
        """
    @property
    def tyre_point(self) -> _Array | None:
        """The tyres' point at the edge, m, an array of three; None for a launch by hand."""
    @property
    def tyre_speed(self) -> float | None:
        """The tyres' speed, m/s, with which the wheels spin on; None for a launch by hand without one."""
    @property
    def pitch(self) -> dict[str, Any] | None:
        """How the bike turned while only its rear wheel was on, nose down positive; None for a launch
        by hand.

        A dict of `angle_deg` (off the line at the edge) and `rate_deg` (degrees/s) when the rear
        wheel leaves, `duration` (s) since the front left, `after` (s) since the launch,
        `short_of_edge` (m, where the rear lifted off before), and, since the edge carries less of a
        rider who keeps still, `shift` (m) and `drift` (m/s): where his centre of mass is then and how
        it moves, from what this launch's flight has, arrays of three.
        """
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    @property
    def warnings(self) -> list[str]:
        """What came up on the ride and at the edge, in words."""


@final
class Ground:
    """The ground: a plane, a grid, a survey, or the highest of several.

    Made by `Ground.plane`, `Ground.grid`, `Ground.survey`, `ground.higher` and
    `ground.with_landing`. Known only where its points are: nothing is extrapolated.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    @staticmethod
    def plane(
        point: _Triple = (0, 0, 0),
        slope_deg: float = 0.0,
        heading_deg: float = 0.0,
    ) -> Ground:
        """A plane without end.

        Args:
            point: (x, y, z), m, through which it goes.
            slope_deg: positive downhill along the heading, degrees, from -89 to 89.
            heading_deg: counter-clockwise from +x, degrees.

        Raises:
            InputError: a number outside its range.

        >>> import loamline as ll
        >>> round(ll.Ground.plane(slope_deg=45.0).height(2.0, 0.0), 9)
        -2.0
        """
    @staticmethod
    def grid(origin: ArrayLike, spacing: ArrayLike, heights: ArrayLike) -> Ground:
        """Heights on a regular grid, bilinear between them.

        Args:
            origin: (x, y), m, of `heights[0, 0]`.
            spacing: (along x, along y), m, above 0.
            heights: (ny, nx), m: rows along y, columns along x.

        Raises:
            InputError: a number that is not finite, or fewer than two rows or columns.

        >>> import loamline as ll
        >>> ll.Ground.grid((0, 0), (1, 1), [[0, 1], [0, 1]]).height(0.5, 0.5)
        0.5
        """
    @staticmethod
    def survey(points: ArrayLike) -> Ground:
        """Surveyed points with flat triangles between neighbours (Delaunay in plan).

        Args:
            points: (n, 3), m, at least three, not all on one line, no two at one plan position.

        Raises:
            InputError: points that make no surface, and which.

        >>> import loamline as ll
        >>> round(ll.Ground.survey([(0, 0, 0), (4, 0, 0), (0, 4, 2)]).height(1.0, 2.0), 9)
        1.0
        """
    def higher(self, other: Ground) -> Ground:
        """The higher of this ground and another; where only one is known, that one."""
    def with_landing(self, landing: Landing) -> Ground:
        """This ground with a landing built on it: the higher of the two.

        Raises:
            InputError: no ground under it, a crest in the ground, or a batter that meets none.
        """
    def height(self, x: float | ArrayLike, y: float | ArrayLike) -> Any:
        """Height over a plan position, m; NaN where the ground is not known.

        Args:
            x, y: m; numbers, or two arrays (n,).

        Returns:
            A float, or an array (n,).
        """
    def normal(self, x: float, y: float) -> _Array | None:
        """Unit normal over a plan position, an array of three; None where the ground is not known."""
    def contains(self, x: float, y: float) -> bool:
        """Whether the ground is known at a plan position, borders included."""
    def triangles(self) -> _Array | None:
        """Corners of the triangles of all surfaces, m, (n, 3, 3); None for a ground without end."""
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def bounds(self) -> _Array | None:
        """Lowest and highest corner of the box about the ground, m, (2, 3); None for one without end."""
    @property
    def landing(self) -> Landing | None:
        """The landing on this ground, its crest height settled; None where there is none."""
    @property
    def mesh(self) -> tuple[_Array, NDArray[np.uint32]] | None:
        """Vertices, m, (n, 3), and triangles, (m, 3) of places among them, of the landing's earth,
        down to under the ground below; None where there is no landing.
        """


@final
class Flight:
    """A flight from its launch to the ground, or to where it is known to find none.

    Made by `launch.flight(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def path(self, n: int = 200) -> _Array:
        """`n` places of the centre of mass, evenly spaced in time from launch to end, m, (n, 3)."""
    def position(self, time: float) -> _Array:
        """The centre of mass at a time since the launch, m, an array of three.

        Args:
            time: s; outside the flight the nearest end counts.
        """
    def velocity(self, time: float) -> _Array:
        """Velocity of the centre of mass at a time since the launch, m/s, an array of three.

        Args:
            time: s; outside the flight the nearest end counts.
        """
    def on(self, ground: Ground) -> Flight:
        """The same flight onto another ground: the path is kept, the touch looked for again.

        Raises:
            FlightError: the path cannot be carried on.
        """
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def touchdown(self) -> Touchdown:
        """The moment of landing."""
    @property
    def time(self) -> float:
        """Time from the launch to the end, s."""
    @property
    def apex(self) -> _Array:
        """The centre of mass at the highest moment, m, an array of three."""
    @property
    def apex_time(self) -> float:
        """Time of the highest moment, s."""
    @property
    def launch(self) -> Launch:
        """Where it began."""
    @property
    def ground(self) -> Ground:
        """What it was flown onto."""
    @property
    def lean_deg(self) -> float:
        """How far the rider leaves leaning off the nearest ground's normal, degrees."""
    @property
    def energy(self) -> dict[str, float]:
        """Where the energy went, J/kg: a dict of `start`, `gravity`, `drag`, `end` and `residual`, with
        end = start + gravity - drag + residual.
        """
    @property
    def momentum(self) -> dict[str, _Array]:
        """Where the momentum went, per mass, m/s: a dict of `start`, `gravity`, `drag`, `end` and
        `residual`, arrays of three, with end = start + gravity + drag + residual.
        """


@final
class RigidFlight:
    """A flight of rider and bike as one rigid body: the path of the centre of mass, and how the body
    turns about it.

    Made by `launch.rigid_flight(...)`. The path, and with it mark and fall height, is that of
    `launch.flight(...)`; the rider does nothing to right himself but what his torque does.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def path(self, n: int = 200) -> _Array:
        """`n` places of the centre of mass, evenly spaced in time from launch to end, m, (n, 3)."""
    def attitude(self, time: float) -> _Array:
        """Which way the bike points at a time since the launch: unit vectors forward, left and up,
        (3, 3) in rows.

        Args:
            time: s; outside the flight the nearest end counts.
        """
    def angular_velocity(self, time: float) -> _Array:
        """Angular velocity at a time since the launch, rad/s, an array of three in the site's axes.

        Args:
            time: s; outside the flight the nearest end counts.
        """
    def body_rates_deg(self, time: float) -> _Array:
        """Roll, pitch and yaw rate at a time since the launch, degrees/s, an array of three: positive
        leans right, turns the nose down, turns left.

        Args:
            time: s; outside the flight the nearest end counts.
        """
    def on(self, ground: Ground) -> RigidFlight:
        """The same flight onto another ground: path and turning are kept, the touch looked for again.

        Raises:
            FlightError: the path cannot be carried on.
        """
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def flight(self) -> Flight:
        """The flight of the centre of mass."""
    @property
    def touchdown(self) -> Touchdown:
        """The moment of landing, with the bike's attitude and the turn it owes."""
    @property
    def rider(self) -> Rider:
        """Who flies."""
    @property
    def time(self) -> float:
        """Time from the launch to the end, s."""
    @property
    def wheel_spin(self) -> float:
        """The wheels' spin momentum to the left, held constant, kg m^2/s."""
    @property
    def torque(self) -> _Array:
        """The rider's own torque about the bike's forward, left and up axes, N m, an array of three."""
    @property
    def spin(self) -> dict[str, Any]:
        """Where the angular momentum about the centre of mass and the energy of rotation went.

        A dict of arrays of three in the site's axes, kg m^2/s: `start`, `torque`, `end` and `residual`,
        with end = start + torque + residual, the wheels' spin counted; and of J: `start_energy`,
        `work`, `end_energy` and `energy_residual`, the wheels' own spin left out.
        """


@final
class Touchdown:
    """The moment of landing and what it says: where, how fast, how hard.

    Made by `flight.touchdown`. Where there was no touch, numbers are NaN and `outcome` says why.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def outcome(self) -> str:
        """How the flight came out: "landed"; on a landing "caught", "short", "long" or "wide"; else
        "rolled_off", "off_survey" or "no_touchdown".
        """
    @property
    def time(self) -> float:
        """Time from the launch to the end, s."""
    @property
    def mark(self) -> _Array:
        """The tyres' mark: where a flag would be planted, m, an array of three."""
    @property
    def position(self) -> _Array:
        """The centre of mass, m, an array of three."""
    @property
    def velocity(self) -> _Array:
        """Velocity of the centre of mass, m/s, an array of three."""
    @property
    def normal(self) -> _Array:
        """Unit vector from the touched place to the centre of mass, an array of three."""
    @property
    def normal_speed(self) -> float:
        """Speed into the surface, m/s."""
    @property
    def fall_height(self) -> float:
        """Equivalent fall height, m: the drop onto level ground that comes down as hard,
        `normal_speed**2 / (2 g)`.
        """
    @property
    def angle_deg(self) -> float:
        """Angle between path and surface, degrees."""
    @property
    def along_speed(self) -> float:
        """Speed over the surface, forward, m/s."""
    @property
    def sideways_speed(self) -> float:
        """Speed over the surface to the left of forward, m/s.

        Forward is the landing's heading where there is a landing, else where the bike pointed at
        the launch, else where the path goes.
        """
    @property
    def grip_demand(self) -> float:
        """Grip that stopping the sideways speed in the landing would take."""
    @property
    def distance(self) -> float:
        """Level distance from the tyres' point at the launch to the mark, m; from the centre of mass
        for a launch by hand.
        """
    @property
    def drop(self) -> float:
        """How far the mark is below that point, m."""
    @property
    def lean_owed_deg(self) -> float:
        """Lean still owed, degrees: above 0 the rider touches before he is upright."""
    @property
    def upright(self) -> bool | None:
        """Whether the rider is upright when he touches; None where he does not touch."""
    @property
    def residual(self) -> float:
        """Distance to the ground less reach, m: at most 1e-9 on planes, 1e-7 on grids and surveys."""
    @property
    def attitude(self) -> _Array | None:
        """Which way the bike points, if the rider did nothing in the air but what his torque did: unit
        vectors forward, left and up, (3, 3) in rows; None but for a rigid flight that touches.
        """
    @property
    def wanted_attitude(self) -> _Array | None:
        """The attitude that the landing wants, (3, 3) in rows: forward along the velocity over the surface,
        upright on it; None but for a rigid flight that touches.
        """
    @property
    def rates_deg(self) -> _Array | None:
        """How the bike turns at the touch, roll, pitch and yaw, degrees/s, an array of three; None but for
        a rigid flight that touches.
        """
    @property
    def turn_owed_deg(self) -> _Array | None:
        """The turn still owed in roll, pitch and yaw, degrees, an array of three; None but for a rigid
        flight that touches.

        The shortest turn from `attitude` to `wanted_attitude`, its axis times its angle, about the
        bike's axes: positive leans right, turns the nose down, turns left.
        """
    @property
    def rate_to_pay_deg(self) -> _Array | None:
        """The constant rate that would pay the turn over the whole time of flight, on top of what turns
        anyway, degrees/s, an array of three; None but for a rigid flight that touches.
        """
    @property
    def torque_to_pay(self) -> _Array | None:
        """The constant torque that would pay the turn over that time, each axis by itself, N m, an array of
        three; None but for a rigid flight that touches.
        """
    @property
    def pitch_to_surface_deg(self) -> float | None:
        """Angle between bike and surface, degrees, nose up positive; None but for a rigid flight that
        touches.
        """
    @property
    def first_wheel(self) -> str | None:
        """The wheel that touches first, "front", "rear" or "both"; None but for a rigid flight that
        touches.
        """
    @property
    def wheel_gap(self) -> float | None:
        """How much higher the other wheel is then, m; None but for a rigid flight that touches."""
    @property
    def between_wheels(self) -> float | None:
        """Time until the other wheel touches at the speed into the surface, s; None but for a rigid flight
        that touches.
        """
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise, or past what the model is good for, in words."""


@final
class Loads:
    """What bike and body take in a landing: force against time, peaks, the way used.

    Made by `rider.loads(...)`. Stages go by their names, from the ground up: "ground" (tyres and ground, or
    feet), "suspension", "legs" (legs and arms: what the body feels). Bike-specific data are few and the legs'
    stroke rules the result: look at `band` beside `peak_bodyweights`.

    >>> import loamline as ll
    >>> loads = ll.Rider().loads(fall_height=0.6)
    >>> round(loads.peak_bodyweights, 3), loads.bottomed["legs"]
    (3.2, False)
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per time: `time`, and `force_` and `compression_` of each
        stage; needs pandas.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def stages(self) -> list[str]:
        """The stages that there are, from the ground up."""
    @property
    def time(self) -> _Array:
        """Time since the touch, s, (n,)."""
    @property
    def force(self) -> _Array:
        """Force on the body, N, (n,): that of the topmost stage."""
    @property
    def ground_force(self) -> _Array:
        """Force of the ground on tyres or feet, N, (n,)."""
    @property
    def suspension_force(self) -> _Array | None:
        """Force in the suspension, N, (n,); None where there is none."""
    @property
    def compression(self) -> dict[str, _Array]:
        """How far each stage is pressed together, m, (n,), by its name."""
    @property
    def forces(self) -> dict[str, _Array]:
        """Force in each stage, N, (n,), by its name."""
    @property
    def peaks(self) -> dict[str, float]:
        """Highest force in each stage, N, by its name; between samples too."""
    @property
    def peak_times(self) -> dict[str, float]:
        """Time of each stage's highest force, s, by its name."""
    @property
    def travel_used(self) -> dict[str, float]:
        """How far each stage was pressed together at most, m, by its name."""
    @property
    def bottomed(self) -> dict[str, bool]:
        """Whether each stage came to its stop, by its name."""
    @property
    def peak_force(self) -> float:
        """Highest force on the body, N."""
    @property
    def peak_bodyweights(self) -> float:
        """Highest force on the body in weights of the body (without the bike)."""
    @property
    def peak_time(self) -> float:
        """Time to the highest force on the body, s."""
    @property
    def mean_bodyweights(self) -> float:
        """The force, in weights, that would have stopped the body over the same way had it been constant:
        no peak is below it. NaN where it is not stopped.
        """
    @property
    def stopping_distance(self) -> float:
        """How far the body came down after the touch, m."""
    @property
    def impulse(self) -> float:
        """Impulse that the ground gave over the record, N s."""
    @property
    def band(self) -> dict[float, float]:
        """For legs of 0.2 to 0.5 m of stroke, by the stroke: the least force with which they take this
        landing on this bike, in body weights. Data on riders are few: this belongs beside every peak.
        """
    @property
    def response_index(self) -> float:
        """The published dynamic response index of what the body feels. It was made for people seated and
        strapped in, in ejection seats and vehicles over blasts; a standing rider's legs come first. It
        compares landings and predicts no injury.
        """
    @property
    def normal_speed(self) -> float:
        """Speed into the surface, m/s."""
    @property
    def fall_height(self) -> float:
        """Equivalent fall height, m."""
    @property
    def body_mass(self) -> float:
        """Mass of the body, kg."""
    @property
    def duration(self) -> float:
        """How long the record runs, s."""
    @property
    def end(self) -> str:
        """Why the record ends, in words."""
    @property
    def energy(self) -> dict[str, float]:
        """Where the energy went, J, by name: what came in (`kinetic`, `gravity`), what is left
        (`kinetic_left`, `stored`), what was `lost`, and the `residual` as a share.
        """
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise, or past what the model is good for, in words."""


@final
class Flights:
    """Many flights, the same fields as a touchdown's as arrays; a row per flight.

    Made by `flights(...)`. A row that has no touch is NaN, and its `status` says why.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    statuses: ClassVar[tuple[str, ...]]
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per flight; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `flight`; needs xarray."""
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def time(self) -> _Array:
        """Time from the launch to the touch, s, (n,)."""
    @property
    def normal_speed(self) -> _Array:
        """Speed into the surface, m/s, (n,)."""
    @property
    def fall_height(self) -> _Array:
        """Equivalent fall height, m, (n,)."""
    @property
    def angle_deg(self) -> _Array:
        """Angle between path and surface, degrees, (n,)."""
    @property
    def distance(self) -> _Array:
        """Level distance from the centre of mass at the launch to the mark, m, (n,)."""
    @property
    def drop(self) -> _Array:
        """How far the mark is below that, m, (n,)."""
    @property
    def along_speed(self) -> _Array:
        """Speed over the surface, forward, m/s, (n,)."""
    @property
    def sideways_speed(self) -> _Array:
        """Speed over the surface to the left of forward, m/s, (n,)."""
    @property
    def grip_demand(self) -> _Array:
        """Grip that stopping the sideways speed would take, (n,)."""
    @property
    def residual(self) -> _Array:
        """Distance to the ground less reach, m, (n,)."""
    @property
    def mark(self) -> _Array:
        """The tyres' mark, m, (n, 3)."""
    @property
    def velocity(self) -> _Array:
        """Velocity of the centre of mass at the touch, m/s, (n, 3)."""
    @property
    def normal(self) -> _Array:
        """Unit vector from the touched place to the centre of mass, (n, 3)."""
    @property
    def status(self) -> NDArray[np.uint8]:
        """How each came out, a place in `statuses`, (n,) of uint8."""
    @property
    def outcome(self) -> _Words:
        """How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
        else "rolled_off", "off_survey", "no_touchdown", "bad_input" (a number that is not finite)
        or "failed" (a path that numbers do not hold).
        """


def flight_paths(
    position: ArrayLike,
    velocity: ArrayLike,
    time: ArrayLike,
    rider: Rider,
    air: Air,
    n: int = 200,
    threads: int | None = None,
    out: _Array | None = None,
    progress: _Progress | None = None,
) -> _Array:
    """Places on the way of many flights: as `Launch(position, velocity).flight(...).path(n)` row by
    row, in parallel, within 1e-8 m.

    A flight's places are evenly spaced in time from the launch to its `time`, both included. A row
    whose time is NaN, below 0 or over 60 s, or whose launch is not finite, is NaN. The same numbers
    to the last bit on any number of threads of one machine.

    Args:
        position: of the centre of mass, m, (m, 3).
        velocity: of the centre of mass, m/s, (m, 3).
        time: until when, s, (m,): the times of `flights(...)` end each at its touch.
        rider, air: who, through what.
        n: places of each flight.
        threads: how many; None takes as many as the machine has.
        out: an array (m, n, 3) of float64, row after row, that is written over and given back.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Returns:
        Places of the centre of mass, m, (m, n, 3).

    Raises:
        InputError: arrays whose shapes do not fit.
        Cancelled: stopped by the progress function.

    >>> import loamline as ll
    >>> rider, air = ll.Rider(cda=0.0), ll.Air(gravity=10.0)
    >>> ll.flight_paths([(0, 0, 2)], [(6, 0, 0)], [0.5], rider, air, n=3)[0].round(9).tolist()
    [[0.0, 0.0, 2.0], [1.5, 0.0, 1.6875], [3.0, 0.0, 0.75]]
    """


def flights(
    position: ArrayLike,
    velocity: ArrayLike,
    ground: Ground,
    rider: Rider,
    air: Air,
    threads: int | None = None,
    out: Flights | None = None,
    progress: _Progress | None = None,
) -> Flights:
    """Many flights at once: as `Launch(position, velocity).flight(...)` row by row, in parallel.

    Onto a plane within 1e-8 m of that, onto a grid or a survey, and the landings on it, within 1e-6 m;
    onto all other grounds exactly that. The same numbers to the last bit on any number of threads of one machine. A row with a
    number that is not finite gives NaN and the status "bad_input", and the other rows as ever.

    Args:
        position: of the centre of mass, m, (n, 3).
        velocity: of the centre of mass, m/s, (n, 3).
        ground, rider, air: onto what, who, through what.
        threads: how many; None takes as many as the machine has.
        out: Flights of the same n whose arrays are written over and given back.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: arrays whose shapes do not fit.
        Cancelled: stopped by the progress function.

    >>> import loamline as ll
    >>> many = ll.flights([(0, 0, 2)], [(6, 0, 0)], ll.Ground.plane(), ll.Rider(cda=0.0), ll.Air())
    >>> many.fall_height.round(9).tolist()
    [1.0]
    """


@final
class RigidFlights:
    """Many rigid flights, the same fields as a touchdown's as arrays; a row per flight.

    Made by `rigid_flights(...)`. A row that has no touch is NaN, and its `status` says why. Vectors of
    turning are roll, pitch and yaw: positive leans right, turns the nose down, turns left.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    statuses: ClassVar[tuple[str, ...]]
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per flight; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `flight`; needs xarray."""
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def time(self) -> _Array:
        """Time from the launch to the touch, s, (n,)."""
    @property
    def normal_speed(self) -> _Array:
        """Speed into the surface, m/s, (n,)."""
    @property
    def fall_height(self) -> _Array:
        """Equivalent fall height, m, (n,)."""
    @property
    def angle_deg(self) -> _Array:
        """Angle between path and surface, degrees, (n,)."""
    @property
    def distance(self) -> _Array:
        """Level distance from the centre of mass at the launch to the mark, m, (n,)."""
    @property
    def drop(self) -> _Array:
        """How far the mark is below that, m, (n,)."""
    @property
    def along_speed(self) -> _Array:
        """Speed over the surface, forward, m/s, (n,)."""
    @property
    def sideways_speed(self) -> _Array:
        """Speed over the surface to the left of forward, m/s, (n,)."""
    @property
    def grip_demand(self) -> _Array:
        """Grip that stopping the sideways speed would take, (n,)."""
    @property
    def lean_owed_deg(self) -> _Array:
        """Lean still owed at the touch, degrees, (n,)."""
    @property
    def residual(self) -> _Array:
        """Distance to the ground less reach, m, (n,)."""
    @property
    def mark(self) -> _Array:
        """The tyres' mark, m, (n, 3)."""
    @property
    def velocity(self) -> _Array:
        """Velocity of the centre of mass at the touch, m/s, (n, 3)."""
    @property
    def normal(self) -> _Array:
        """Unit vector from the touched place to the centre of mass, (n, 3)."""
    @property
    def attitude(self) -> _Array:
        """Which way the bike points at the touch, if the rider did nothing but what his torque did: unit
        vectors forward, left and up, (n, 3, 3) in rows.
        """
    @property
    def wanted_attitude(self) -> _Array:
        """The attitude that the landing wants, (n, 3, 3) in rows: forward along the velocity over the
        surface, upright on it.
        """
    @property
    def rates_deg(self) -> _Array:
        """How the bike turns at the touch, degrees/s, (n, 3)."""
    @property
    def turn_owed_deg(self) -> _Array:
        """The turn still owed, degrees, (n, 3): its axis times its angle."""
    @property
    def rate_to_pay_deg(self) -> _Array:
        """The constant rate that would pay it over the whole time of flight, degrees/s, (n, 3)."""
    @property
    def torque_to_pay(self) -> _Array:
        """The constant torque that would pay it over that time, each axis by itself, N m, (n, 3)."""
    @property
    def pitch_to_surface_deg(self) -> _Array:
        """Angle between bike and surface, degrees, nose up positive, (n,): above 0 the rear wheel touches
        first, below it the front one.
        """
    @property
    def wheel_gap(self) -> _Array:
        """How much higher the other wheel is then, m, (n,)."""
    @property
    def between_wheels(self) -> _Array:
        """Time until the other wheel touches at the speed into the surface, s, (n,)."""
    @property
    def status(self) -> NDArray[np.uint8]:
        """How each came out, a place in `statuses`, (n,) of uint8."""
    @property
    def outcome(self) -> _Words:
        """How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
        else "rolled_off", "off_survey", "no_touchdown", "bad_input" (a number that is not finite or out
        of its range, or axes that are no attitude) or "failed" (what numbers do not hold).
        """


def rigid_flights(
    position: ArrayLike,
    velocity: ArrayLike,
    attitude: ArrayLike,
    ground: Ground,
    rider: Rider,
    air: Air,
    angular_velocity: ArrayLike | None = None,
    tyre_speed: ArrayLike | None = None,
    torque: _Triple = (0, 0, 0),
    righting_rate_deg: float | None = None,
    threads: int | None = None,
    out: RigidFlights | None = None,
    progress: _Progress | None = None,
) -> RigidFlights:
    """Many flights of rider and bike as one rigid body: as `Launch(position, velocity, attitude,
    ...).rigid_flight(...)` and its touchdown row by row, to the last bit, in parallel.

    The same numbers on any number of threads. A row with a number that is not finite or out of its
    range, or with axes that are no attitude, gives NaN and the status "bad_input", and the other rows
    as ever.

    Args:
        position: of the centre of mass, m, (n, 3).
        velocity: of the centre of mass, m/s, (n, 3).
        attitude: unit vectors forward, left and up through the bike, (n, 3, 3) in rows.
        ground, rider, air: onto what, who, through what.
        angular_velocity: rad/s in the site's axes, (n, 3); None is none.
        tyre_speed: with which the wheels spin, m/s, (n,) or one number; None takes the velocity's part
            forward.
        torque: the rider's own constant torque about the bike's forward, left and up axes, N m.
        righting_rate_deg: how fast a rider who leaves leaning rights himself, degrees/s; None takes 250.
        threads: how many; None takes as many as the machine has.
        out: RigidFlights of the same n whose arrays are written over and given back.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: arrays whose shapes do not fit, or a torque that is not finite.
        FlightError: a righting rate that is not above 0.
        Cancelled: stopped by the progress function.

    >>> import loamline as ll
    >>> scene = (ll.Ground.plane(slope_deg=20), ll.Rider(), ll.Air())
    >>> level = [[(1, 0, 0), (0, 1, 0), (0, 0, 1)]]
    >>> many = ll.rigid_flights([(0, 0, 2)], [(6, 0, 0)], level, *scene)
    >>> many.turn_owed_deg.round(6).tolist()
    [[0.0, 20.0, 0.0]]
    """


@final
class BatchLoads:
    """What bike and body take in many landings, the same numbers as of one as arrays; a row per landing.

    Made by `loads(...)`. A row that has no loads is NaN, and its `status` says why. The legs' stroke
    rules the result: look at the band (`Rider.loads(...).band`) beside it. Injury is not predicted.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    statuses: ClassVar[tuple[str, ...]]
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per landing; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `landing`; needs xarray."""
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def peak_force(self) -> _Array:
        """Highest force on the body, N, (n,)."""
    @property
    def peak_bodyweights(self) -> _Array:
        """Highest force on the body in weights of the body (without the bike), (n,)."""
    @property
    def peak_time(self) -> _Array:
        """Time to the highest force on the body, s, (n,)."""
    @property
    def mean_bodyweights(self) -> _Array:
        """The force, in weights, that would have stopped the body over the same way had it been constant,
        (n,). NaN where it is not stopped.
        """
    @property
    def stopping_distance(self) -> _Array:
        """How far the body came down after the touch, m, (n,)."""
    @property
    def impulse(self) -> _Array:
        """Impulse that the ground gave over the record, N s, (n,)."""
    @property
    def ground_force(self) -> _Array:
        """Highest force of the ground on tyres or feet, N, (n,)."""
    @property
    def suspension_force(self) -> _Array:
        """Highest force in the suspension, N, (n,); NaN where there is none."""
    @property
    def suspension_used(self) -> _Array:
        """How far the suspension was pressed together at most, m, (n,); NaN where there is none."""
    @property
    def legs_used(self) -> _Array:
        """How far legs and arms were pressed together at most, m, (n,)."""
    @property
    def duration(self) -> _Array:
        """How long the record runs, s, (n,)."""
    @property
    def suspension_bottomed(self) -> NDArray[np.bool_]:
        """Whether the suspension came to its stop, (n,) of bool."""
    @property
    def legs_bottomed(self) -> NDArray[np.bool_]:
        """Whether legs and arms came to theirs, (n,) of bool."""
    @property
    def status(self) -> NDArray[np.uint8]:
        """How each came out, a place in `statuses`, (n,) of uint8."""
    @property
    def outcome(self) -> _Words:
        """How each came out, (n,) of str: "stopped"; "not_stopped" (still going down when the record ends),
        "bad_input" (a number that is not finite or out of its range) or "failed" (a motion that does not
        resolve).
        """


def loads(
    normal_speed: ArrayLike,
    rider: Rider,
    slope_deg: ArrayLike = 0.0,
    *,
    gravity: float | None = None,
    chain: Literal["bike", "legs"] = "bike",
    ground_stiffness: float | None = None,
    crush_force: float | None = None,
    threads: int | None = None,
    out: BatchLoads | None = None,
    progress: _Progress | None = None,
) -> BatchLoads:
    """What bike and body take in many landings at once: as `rider.loads(normal_speed=..., ...)` row by row,
    to the last bit, in parallel.

    The same numbers on any number of threads. A row with a number that is not finite or out of its
    range gives NaN and the status "bad_input", and the other rows as ever.

    Args:
        normal_speed: speed into the surface, m/s, at least 0, (n,): as `flights(...)` and `passes(...)`
            give it.
        rider: who lands.
        slope_deg: of the surface, degrees, 0 to 90, (n,) or one number.
        gravity: m/s^2; None is standard gravity.
        chain: "bike", or "legs" for the body alone, landing on its feet.
        ground_stiffness: of the ground, N/m, above 0; None is rigid.
        crush_force: at which the ground is crushed and does not come back, N; None never.
        threads: how many; None takes as many as the machine has.
        out: BatchLoads of the same n whose arrays are written over and given back.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: arrays whose shapes do not fit, a number outside its range, or a rider no heavier
            than the bike.
        Cancelled: stopped by the progress function.

    >>> import loamline as ll
    >>> many = ll.loads([1.0, 3.0, 5.0], ll.Rider())
    >>> many.peak_bodyweights.round(2).tolist()
    [2.02, 3.2, 8.64]
    """


@final
class BatchPasses:
    """Many passes over one takeoff: entry, edge, launch and the same fields as a touchdown's as arrays; a row per pass.

    Made by `passes(...)`. A number that a pass does not have is NaN, and its `status` says why.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    statuses: ClassVar[tuple[str, ...]]
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per pass; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `pass`; needs xarray."""
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def entry_speed(self) -> _Array:
        """The tyres' speed at the takeoff's start, m/s, (n,)."""
    @property
    def exit_speed(self) -> _Array:
        """The tyres' speed at the edge, m/s, (n,)."""
    @property
    def time(self) -> _Array:
        """Time from the launch to the touch, s, (n,)."""
    @property
    def normal_speed(self) -> _Array:
        """Speed into the surface, m/s, (n,)."""
    @property
    def fall_height(self) -> _Array:
        """Equivalent fall height, m, (n,)."""
    @property
    def angle_deg(self) -> _Array:
        """Angle between path and surface, degrees, (n,)."""
    @property
    def distance(self) -> _Array:
        """Level distance from the tyres' point at the launch to the mark, m, (n,)."""
    @property
    def drop(self) -> _Array:
        """How far the mark is below that point, m, (n,)."""
    @property
    def along_speed(self) -> _Array:
        """Speed over the surface, forward, m/s, (n,)."""
    @property
    def sideways_speed(self) -> _Array:
        """Speed over the surface to the left of forward, m/s, (n,)."""
    @property
    def grip_demand(self) -> _Array:
        """Grip that stopping the sideways speed would take, (n,)."""
    @property
    def lean_owed_deg(self) -> _Array:
        """Lean still owed at the touch, degrees, (n,)."""
    @property
    def residual(self) -> _Array:
        """Distance to the ground less reach, m, (n,)."""
    @property
    def launch_position(self) -> _Array:
        """The centre of mass at the launch, m, (n, 3)."""
    @property
    def launch_velocity(self) -> _Array:
        """Its velocity there, m/s, (n, 3)."""
    @property
    def mark(self) -> _Array:
        """The tyres' mark, m, (n, 3)."""
    @property
    def velocity(self) -> _Array:
        """Velocity of the centre of mass at the touch, m/s, (n, 3)."""
    @property
    def normal(self) -> _Array:
        """Unit vector from the touched place to the centre of mass, (n, 3)."""
    @property
    def status(self) -> NDArray[np.uint8]:
        """How each came out, a place in `statuses`, (n,) of uint8."""
    @property
    def outcome(self) -> _Words:
        """How each came out, (n,) of str: "landed"; on a landing "caught", "short", "long" or "wide";
        else "rolled_off", "off_survey", "no_touchdown"; who does not leave the edge "slid", "stalled",
        "did_not_start", "left_surface", "unbalanced" or "hung_up"; "bad_input" (a number that is not
        finite or out of its range) or "failed" (what numbers do not hold).
        """


def passes(
    takeoff: Wall | Lip | Drop,
    speed: ArrayLike,
    leave: ArrayLike,
    ground: Ground,
    rider: Rider,
    air: Air,
    enter: float = 0.0,
    pop: ArrayLike = 0.0,
    lean: Literal["deck", "balanced", "settled"] = "deck",
    threads: int | None = None,
    out: BatchPasses | None = None,
    progress: _Progress | None = None,
) -> BatchPasses:
    """Many passes over one takeoff at once: as the takeoff's line to each `leave`, its ride, launch,
    flight and touchdown row by row, in parallel.

    Onto a plane places are within 1e-8 m of that, onto all other grounds within 1e-6 m; speeds over
    the surface are within 1e-6 m/s. Square to the takeoff in calm air ("deck") a pass that holds takes
    less than a microsecond onto a plane and some five onto a grid, once the takeoff's lines are known
    (some tens of milliseconds); in wind and with the other leans each is ridden by itself. The same numbers to the last bit on any number of threads of
    one machine, and whatever the other rows. A row with a number that is not finite or out of its
    range gives NaN and the status "bad_input".

    A forecast is judged by the hardest of three leans (`Site.passes`): "deck" alone is soft on slow
    riders. Numbers guide; they certify nothing.

    Args:
        takeoff: Wall, Lip or Drop.
        speed: the tyres' at the takeoff's start, m/s, 0 to 100, (n,).
        leave: where on the edge they leave, m, (n,): up a wall's panel, to the left of the middle of a
            lip or a drop.
        ground, rider, air: onto what, who, through what.
        enter: how far up a wall's panel they come onto it, m.
        pop: the push off the edge, m/s, -5 to 5, (n,) or one number.
        lean: "deck", "balanced" or "settled".
        threads: how many; None takes as many as the machine has.
        out: BatchPasses of the same n whose arrays are written over and given back.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: arrays whose shapes do not fit, or an `enter` off the panel.
        Cancelled: stopped by the progress function.

    >>> import loamline as ll
    >>> wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
    >>> scene = (ll.Ground.plane(), ll.Rider(grip=0.9), ll.Air())
    >>> many = ll.passes(wall, [8.0, 9.0], [1.2, 1.6], *scene, enter=0.25)
    >>> print(*many.outcome)
    landed landed
    """

@final
class Landing:
    """An earth landing: a straight face under a crest line, over the ground.

    The crest line is where face and back meet before the crest is rounded, the foot where the
    face ends; around them the earth stands at the batter. Arcs and cones are built as facets at
    most 4 degrees apart.

    Args:
        crest: (x, y), m, of the crest line's middle.
        heading_deg: in which the face falls, counter-clockwise from +x, degrees.
        slope_deg: of the face below level, degrees, from 0 to below the batter.
        length: level distance from crest line to foot, m, above 0 and at most 200.
        width: of the face, m, above 0 and at most 200.
        crest_height: z of the crest line, m; None lets the face meet the ground at the foot.
        crest_radius: between back and face, m; 0 is a sharp crest.
        foot_radius: between face and ground, m; 0 is a sharp foot.
        batter_deg: at which the earth around the face stands, degrees (34: 1 in 1.5).

    Raises:
        InputError: a number outside its range.

    >>> import loamline as ll
    >>> landing = ll.Landing(crest=(4, 0), heading_deg=0, slope_deg=20, length=4, width=3)
    >>> built = ll.Ground.plane().with_landing(landing)
    >>> round(built.landing.crest_height, 3)
    1.456
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        crest: ArrayLike,
        heading_deg: float,
        slope_deg: float,
        length: float,
        width: float,
        crest_height: float | None = None,
        crest_radius: float = 1.0,
        foot_radius: float = 0.0,
        batter_deg: float = 34.0,
    ) -> Landing: ...
    def on(self, ground: Ground) -> BuiltLanding:
        """The landing as built on a ground.

        Raises:
            InputError: no ground under it, a crest in the ground, or a batter that meets none.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def crest(self) -> _Array:
        """Middle of the crest line, m, an array of two."""
    @property
    def heading_deg(self) -> float:
        """Heading in which the face falls, degrees."""
    @property
    def slope_deg(self) -> float:
        """Slope of the face below level, degrees."""
    @property
    def length(self) -> float:
        """Level distance from crest line to foot, m."""
    @property
    def width(self) -> float:
        """Width of the face, m."""
    @property
    def crest_height(self) -> float | None:
        """Height of the crest line, m; None where the ground at the foot sets it."""
    @property
    def crest_radius(self) -> float:
        """Radius between back and face, m."""
    @property
    def foot_radius(self) -> float:
        """Radius between face and ground, m."""
    @property
    def batter_deg(self) -> float:
        """Steepest angle at which the earth around the face stands, degrees."""


@final
class BuiltLanding:
    """A landing on its ground: heights settled, and what to stake out.

    Made by `landing.on(ground)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def landing(self) -> Landing:
        """The landing as asked for."""
    @property
    def ground(self) -> Ground:
        """The ground with the landing on it."""
    @property
    def crest_height(self) -> float:
        """Height of the crest line, where face and back meet unrounded, m."""
    @property
    def crest_top(self) -> float:
        """Height of the highest earth, which rounding leaves under the crest line, m."""
    @property
    def volume(self) -> float:
        """Earth above the ground, m^3.

        Raises:
            InputError: no volume between the two.
        """
    @property
    def outline(self) -> _Array:
        """Outline of the face and crest, counter-clockwise from its back right corner, m, (4, 3)."""
    @property
    def crest_line(self) -> _Array:
        """Ends of the crest line on the earth as built, left and right, m, (2, 3)."""
    @property
    def foot_line(self) -> _Array:
        """Ends of the foot line on the earth as built, left and right, m, (2, 3)."""
    @property
    def toe(self) -> _Array:
        """Where the earth meets the ground, counter-clockwise, m, (n, 3)."""


@final
class Soil:
    """A soil: how it swells when dug, shrinks when placed, settles, weighs, and how steep it stands.

    Where only a name is given, its numbers are those of handbooks; each number that is given instead
    is one value, or `(value, low, high)`. Sources differ by a factor of up to three: weigh a barrow
    and count the first ten.

    Args:
        name: "loam", "sand", "gravel", "clay", or with `like` a name of its own.
        like: the soil whose numbers stand where none is given; None takes `name`.
        swell: growth from the bank to loose, of the bank's volume, from 0 to 2.
        shrinkage: loss from the bank to placed and tamped, of the bank's volume, from -1 to below 1.
        settlement: loss of the placed earth's height with time, from 0 to below 1.
        unit_weight: of the placed earth, N/m^3.
        saturated_weight: of the placed earth with its pores full of water, N/m^3.
        loose_density: of the loose earth in a barrow, kg/m^3.
        friction_deg: angle of internal friction, degrees, above 0 and below 90.
        stand_up_deg: the steepest a batter of it should be built, degrees, above 0 and below 90.
        digging: "light", "medium" or "heavy".
        grain: "granular" or "cohesive".

    Raises:
        InputError: a soil that is not known, a number outside its range.

    >>> import loamline as ll
    >>> ll.Soil("loam").swell
    (0.25, 0.1, 0.3)
    >>> ll.Soil("pit sand", like="sand", swell=0.15).swell
    (0.15, 0.15, 0.15)
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls,
        name: str = "loam",
        *,
        like: str | None = None,
        swell: float | _Span | None = None,
        shrinkage: float | _Span | None = None,
        settlement: float | _Span | None = None,
        unit_weight: float | _Span | None = None,
        saturated_weight: float | _Span | None = None,
        loose_density: float | _Span | None = None,
        friction_deg: float | _Span | None = None,
        stand_up_deg: float | _Span | None = None,
        digging: str | None = None,
        grain: str | None = None,
    ) -> Soil: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    def weighed(self, bank: float, loose: float, placed: float) -> Soil:
        """This soil with swell and shrinkage as three weighed buckets give them.

        Args:
            bank: density as cut from the ground, kg/m^3.
            loose: density in the barrow, kg/m^3.
            placed: density when tamped, kg/m^3; all three at the same moisture.

        Raises:
            InputError: a density that is not above 0, or a bank lighter than the loose earth.

        >>> import loamline as ll
        >>> weighed = ll.Soil("loam").weighed(bank=1750.0, loose=1400.0, placed=2000.0)
        >>> round(weighed.swell[0], 6), weighed.shrinkage[0]
        (0.25, 0.125)
        """
    @property
    def name(self) -> str:
        """What it is called."""
    @property
    def swell(self) -> _Span:
        """Growth from the bank to loose, of the bank's volume: value, low, high."""
    @property
    def shrinkage(self) -> _Span:
        """Loss from the bank to placed and tamped, of the bank's volume: value, low, high."""
    @property
    def settlement(self) -> _Span:
        """Loss of the placed earth's height with time: value, low, high."""
    @property
    def unit_weight(self) -> _Span:
        """Weight of the placed earth, N/m^3: value, low, high."""
    @property
    def saturated_weight(self) -> _Span:
        """Weight of the placed earth with its pores full of water, N/m^3: value, low, high."""
    @property
    def loose_density(self) -> _Span:
        """Mass of the loose earth in a barrow, kg/m^3: value, low, high."""
    @property
    def friction_deg(self) -> _Span:
        """Angle of internal friction, degrees: value, low, high."""
    @property
    def stand_up_deg(self) -> _Span:
        """The steepest a batter of it should be built, degrees: value, low, high (hard, dry and clean)."""
    @property
    def digging(self) -> str:
        """How hard it is to dig: "light", "medium" or "heavy"."""
    @property
    def grain(self) -> str:
        """Whether its grains stick together: "granular" or "cohesive"."""
    def built_height(self, height: float) -> float:
        """The height to build so that `height` is left when the earth has settled, m."""


@final
class Earthwork:
    """Earth between two grounds by state, in mass, barrows, trailers, lifts and hours.

    Made by `earthwork(...)`. Volumes between the grounds are exact; all that depends on the soil
    is an estimate: weigh a barrow and count the first ten.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def fill(self) -> float:
        """Earth where the ground after is the higher, m^3."""
    @property
    def cut(self) -> float:
        """Earth where the ground after is the lower, m^3."""
    @property
    def fill_area(self) -> float:
        """Plan area of the fill, m^2."""
    @property
    def cut_area(self) -> float:
        """Plan area of the cut, m^2."""
    @property
    def placed(self) -> float:
        """The fill as built, m^3."""
    @property
    def settled(self) -> float:
        """What is left of it when it has settled, m^3."""
    @property
    def bank(self) -> float:
        """What has to be dug out of the ground for it, m^3."""
    @property
    def loose(self) -> float:
        """What has to be carried, m^3."""
    @property
    def barrows(self) -> float:
        """Barrows full; round up."""
    @property
    def mass(self) -> float:
        """Mass carried, kg."""
    @property
    def barrow_mass(self) -> float:
        """Mass of one full barrow, kg."""
    @property
    def trailers(self) -> float:
        """Trailers full, by volume or by mass; round up."""
    @property
    def hours(self) -> _Span:
        """Person-hours for all of it, dug, carried and tamped: value, low, high."""
    @property
    def hours_by_job(self) -> dict[str, _Span]:
        """Person-hours by job, "dig", "load", "haul" and "place": value, low, high of each."""
    @property
    def lifts(self) -> int:
        """How many layers the fill is tamped in at its deepest."""
    @property
    def lift_loose(self) -> float:
        """How thick each layer is thrown on, loose, m."""
    @property
    def haul(self) -> float:
        """How far the earth is carried, m one way."""
    @property
    def deepest_fill(self) -> float:
        """The deepest fill, m."""
    @property
    def deepest_cut(self) -> float:
        """The deepest cut, m."""
    @property
    def steepest_fill_deg(self) -> float:
        """The steepest face that is filled, degrees from level."""
    @property
    def settlement(self) -> float:
        """Share of its height that the placed earth loses with time."""
    @property
    def swell(self) -> float:
        """Growth from the bank to loose, as a share of the bank's volume."""
    @property
    def shrinkage(self) -> float:
        """Loss from the bank to placed and tamped, as a share of the bank's volume."""
    @property
    def soil(self) -> str:
        """What the soil is called."""
    @property
    def warnings(self) -> list[str]:
        """What to beware of, in words."""
    def balance(self, places: Sequence[Borrow]) -> Balance:
        """Where the earth of the fill comes from: its own cut first, then these places, nearest first.

        Args:
            places: a list of `Borrow`.

        >>> import loamline as ll
        >>> level = ll.Ground.plane()
        >>> landing = ll.Landing(crest=(4, 0), heading_deg=0, slope_deg=20, length=4, width=3)
        >>> earth = ll.earthwork(level, level.with_landing(landing))
        >>> round(earth.balance([ll.Borrow("old ditch", available=20.0, distance=15.0)]).short, 1)
        3.3
        """
    def explain(self, ) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""


def base_course(
    length: float,
    width: float,
    *,
    depth: float = 0.25,
    stone: str | Soil = "gravel",
    roll_width: float = 4.0,
) -> dict[str, float]:
    """The stone and the fabric of a base course over soft ground.

    Stone on a fabric that keeps it from sinking in; the fabric is turned up at both sides by the
    depth, its strips overlap by 0.3 m (USDA Forest Service, Geosynthetics for Trails in Wet Areas,
    2008). How deep is common practice: 0.25 m, or until a heel leaves no print.

    Args:
        length, width: of the soft ground, m, above 0.
        depth: of the stone when tamped, m, at least 0.
        stone: "gravel" or another soil's name, or a `Soil`; silt and clay are no base.
        roll_width: of the fabric, m, above 0.3.

    Returns:
        A dict: `placed` and `loose` stone, m^3; `mass`, kg; `barrows`; `strips` of fabric, how
        many, `strip_length`, m, and `fabric_area`, m^2, as cut off the roll.

    Raises:
        InputError: a number outside its range, a soil that is not known.

    >>> import loamline as ll
    >>> course = ll.base_course(length=5.0, width=3.0)
    >>> round(course.get("placed"), 2), course.get("strips")
    (3.75, 1)
    """


def membrane(length: float, height: float, *, roll_width: float = 2.0) -> dict[str, float]:
    """The membrane between earth and the timber that holds it.

    On a face of logs, up over its top and down past its foot by 0.15 m (common practice). It keeps
    the logs dry enough to last; they still have to be treated for ground contact, and the fill drained.

    Args:
        length, height: of the timber's face, m, above 0.
        roll_width: of the membrane, m, above the overlap of 0.3.

    Returns:
        A dict: `strips`, how many, `strip_length`, m, and `area`, m^2, as cut off the roll.

    Raises:
        InputError: a number outside its range.

    >>> import loamline as ll
    >>> ll.membrane(length=5.0, height=1.1)
    {'strips': 1, 'strip_length': 5.0, 'area': 10.0}
    """


def earthwork(
    before: Ground,
    after: Ground,
    soil: str | Soil = "loam",
    barrow: float | None = None,
    *,
    trailer_volume: float = 0.5,
    trailer_payload: float = 500.0,
    haul: float = 20.0,
    tamping: str = "hand",
) -> Earthwork:
    """The earth between a ground before and one after.

    Args:
        before, after: the grounds, such as `site.ground` and the same with a landing.
        soil: "loam", "sand", "gravel" or "clay", or a `Soil`.
        barrow: loose earth in a barrow, m^3; None takes 0.08, a builder's barrow filled level
            (common practice).
        trailer_volume: loose earth in a trailer, m^3.
        trailer_payload: what the trailer may carry, kg; it is full by volume or by mass. By default
            a small one without brakes (from memory).
        haul: how far the earth is carried, m one way; past 50 m the tables of labour end.
        tamping: "hand" or "rammer".

    Raises:
        InputError: a soil that is not known, grounds that do not overlap or have no end.

    >>> import loamline as ll
    >>> level = ll.Ground.plane()
    >>> landing = ll.Landing(crest=(4, 0), heading_deg=0, slope_deg=20, length=4, width=3)
    >>> earth = ll.earthwork(level, level.with_landing(landing), soil="loam")
    >>> round(earth.fill, 1)
    21.0
    """


@final
class Borrow:
    """A named place where earth may be dug.

    Args:
        name: what it is called.
        available: earth there, measured in the ground before it is dug, m^3, at least 0.
        distance: how far it is, m one way, at least 0.

    Raises:
        InputError: a number outside its range.

    >>> import loamline as ll
    >>> ll.Borrow("old ditch", available=8.0, distance=25.0)
    Borrow("old ditch", available=8.0, distance=25.0)
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(cls, name: str, available: float, distance: float) -> Borrow: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def name(self) -> str:
        """What it is called."""
    @property
    def available(self) -> float:
        """Earth there, in the bank, m^3."""
    @property
    def distance(self) -> float:
        """How far it is, m one way."""


@final
class Balance:
    """Where the earth of a fill comes from, and whether it is enough.

    Made by `earthwork.balance(...)`. Volumes are measured in the ground before it is dug, m^3.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def needed(self) -> float:
        """What the fill takes, m^3 in the bank."""
    @property
    def short(self) -> float:
        """What is missing, m^3 in the bank."""
    @property
    def spare(self) -> float:
        """What is cut and not needed, m^3 in the bank."""
    @property
    def mean_distance(self) -> float | None:
        """How far earth is carried on average, m one way; None where none is taken."""
    @property
    def draws(self) -> list[dict[str, Any]]:
        """What is taken where, in that order, as dictionaries: "place" (the fill's own cut is "cut"), "bank" and
        "loose" in m^3, "barrows", "distance" in m, and "hours" to dig, load and carry it (value, low, high).
        """


@final
class Retaining:
    """How a metre of log or crib back holds the earth behind it: an indication, not a design.

    Made by `retaining(...)`. Ratios are (value, low, high) over the spans of the soil's friction and
    weight; codes ask for 1.5 against sliding, textbooks for 2 against overturning.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def thrust(self) -> float:
        """Level thrust on a metre of it, N/m."""
    @property
    def thrust_height(self) -> float:
        """How high above the foot the thrust acts, m."""
    @property
    def coefficient(self) -> float:
        """Sideways pressure of the earth over its upright pressure."""
    @property
    def weight(self) -> float:
        """The weight of a metre of it, N/m."""
    @property
    def sliding(self) -> _Span:
        """What holds it from sliding over what pushes it: value, low, high."""
    @property
    def overturning(self) -> _Span:
        """What holds it from tipping about its foot over what tips it: value, low, high."""
    @property
    def toe_pressure(self) -> float | None:
        """Pressure on the ground under its toe, Pa; None where it tips."""
    @property
    def heel_pressure(self) -> float | None:
        """Pressure on the ground under its heel, Pa, 0 where that lifts; None where it tips."""
    @property
    def allowed_pressure(self) -> float:
        """What the ground bears by the code, Pa."""
    @property
    def warnings(self) -> list[str]:
        """What to beware of, in words."""
    def explain(self, ) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""


def retaining(
    height: float,
    width: float,
    soil: str | Soil = "loam",
    *,
    slope_deg: float = 0.0,
    surcharge: float = 4310.0,
    water: float = 0.0,
    lean_deg: float = 0.0,
    weight: float = 13000.0,
    footing: str = "sand",
    theory: str = "rankine",
    wall_friction_deg: float | None = None,
) -> Retaining:
    """How a back of logs or cribs, a block that holds by its weight, holds the earth behind it.

    Args:
        height: from the bottom of its footing to its top, m.
        width: front to back, m.
        soil: of the earth behind it: "loam", "sand", "gravel", "clay", or a `Soil`.
        slope_deg: how the earth rises behind its top, degrees.
        surcharge: load on that earth, Pa; by default people and riders close together, 90 lb/ft^2
            (AASHTO, LRFD Guide Specifications for the Design of Pedestrian Bridges, 2009).
        water: how high water stands behind it above its foot, m.
        lean_deg: how far it leans back into the earth, degrees from upright, up to 30.
        weight: of the whole block, N/m^3; by default logs filled with earth (an assumption).
        footing: what it stands on, "sand" (or loam), "gravel" or "clay".
        theory: "rankine", "coulomb" or "at rest".
        wall_friction_deg: between earth and back, for Coulomb; None takes half of the soil's friction
            (common practice).

    Raises:
        InputError: a number outside its range, or earth that rises more steeply than it stands.

    >>> import loamline as ll
    >>> held = ll.retaining(height=0.8, width=0.9, soil="gravel", surcharge=0.0, footing="gravel")
    >>> round(held.thrust / 1000.0, 2)
    1.72
    """


@final
class Ponding:
    """Where a ground holds water, and where it is too flat to shed it.

    Made by `ponding(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def ponds(self) -> list[Pond]:
        """The ponds, deepest first."""
    @property
    def volume(self) -> float:
        """The water in all ponds, m^3."""
    @property
    def depth(self) -> float:
        """The depth of the deepest pond, m; 0 where no water stands."""
    @property
    def flats(self) -> _Array:
        """Places outside the ponds with less than the outslope, largest first, (n, 4): x and y of the middle in m, area in
        m^2, slope as rise over run.
        """
    @property
    def warnings(self) -> list[str]:
        """What to beware of, in words: each pond, and what would drain it."""
    def explain(self, ) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""


@final
class Pond:
    """Water that cannot run off: how deep, how much, where it spills, and what to shave.

    Made by `ponding(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def level(self) -> float:
        """The height of its surface, m."""
    @property
    def depth(self) -> float:
        """How deep it is, m."""
    @property
    def volume(self) -> float:
        """Its water, m^3; and the earth that would fill it."""
    @property
    def area(self) -> float:
        """Its surface, m^2."""
    @property
    def deepest(self) -> _Array:
        """The ground at its deepest place, m, an array of three."""
    @property
    def spill(self) -> _Array:
        """The ground where it spills, m, an array of three."""
    @property
    def drain(self) -> _Array | None:
        """The bottom of the trench that lets it out, from the deepest place, m, (n, 3); None where no ground beyond is low
        enough: then fill it.
        """
    @property
    def drain_cut(self) -> float | None:
        """How deep the trench is cut at most, m; None where there is none."""
    @property
    def drain_volume(self) -> float | None:
        """Earth to shave for the trench, m^3; None where there is none."""


def ponding(
    ground: Ground,
    *,
    spacing: float = 0.25,
    area: tuple[float, float, float, float] | None = None,
    shallowest: float = 0.005,
    outslope: float = 0.05,
    fall: float = 0.02,
    trench_width: float = 0.3,
) -> Ponding:
    """Where a ground holds water, how deep and how much, and what to shave to let it out.

    Each point's water stands as high as the lowest way out to the border makes it (priority-flood).
    A lone survey is taken as its own triangles, exactly; any other ground at its own points and at a
    lattice, which overlooks what is smaller. Water leaves over the border.

    Args:
        ground: the finished ground.
        spacing: of the lattice, m, above 0.
        area: (x0, y0, x1, y1), m, what to look at; None takes all of the ground.
        shallowest: ponds less deep than this are left out, m.
        outslope: slope that sheds water, rise over run; 5 % is the least for a full bench (USDA Forest
            Service, Trail Construction and Maintenance Notebook).
        fall: how a drain falls, rise over run; 2 % is the least for a crown (the same).
        trench_width: m; a spade's.

    Raises:
        InputError: a number outside its range, or a ground without end and no area.

    >>> import loamline as ll
    >>> pit = [(0, 0, -0.4), (2, 0, 0), (0, 2, 0), (-2, 0, 0), (0, -2, 0)]
    >>> round(ll.ponding(ll.Ground.survey(pit)).volume, 3)
    1.067
    """


@final
class RiderClass:
    """A class of riders: who they are and how they come down the hill.

    Made by `site.classes`. A number that spreads is a dict: `fixed`; or `low` and `high`
    (anything between alike); with `mode` (triangular); or `mean` and `sd`, with `low` and `high`
    where it is cut off (normal).
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def name(self) -> str:
        """What the class is called."""
    @property
    def weight(self) -> float:
        """Share of all riders."""
    @property
    def start(self) -> dict[str, float]:
        """Where they start: level distance up the hill from the run-in's end, m."""
    @property
    def leave(self) -> dict[str, float]:
        """Where they leave the edge at the middle rider's entry speed, m: up a wall's panel, or to the
        left of the middle of a lip or a drop.
        """
    @property
    def leave_per_speed(self) -> float:
        """How much farther up, or to the left, they leave for each m/s of entry speed above that, m per
        m/s.
        """
    @property
    def pop(self) -> dict[str, float]:
        """Push off at the edge, m/s; negative soaks it up."""
    @property
    def mass(self) -> dict[str, float]:
        """Mass of rider and bike, kg."""
    @property
    def cda(self) -> dict[str, float]:
        """Drag area, m^2."""
    @property
    def brake(self) -> dict[str, float]:
        """Brake held all the way down the run-in, m/s^2."""
    @property
    def rider(self) -> Rider:
        """The class's middle rider: mass and drag area at their medians.

        Raises:
            InputError: a class that has none.
        """


@final
class Site:
    """A site, values only: the place, its takeoff, who rides there, and what a landing may be.

    Made by `Site.load(path)` and `Site.demo()`. The site frame is right-handed with z up, metres.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    @staticmethod
    def load(path: _Path) -> Site:
        """The site that a file tells, with the tables it names.

        Args:
            path: the site file (TOML).

        Raises:
            FileError: names the file, the line, the key, the value and what may stand there.
        """
    @staticmethod
    def demo() -> Site:
        """The demo site: an invented heath with a right-hand wall that steepens, before a gully.

        >>> import loamline as ll
        >>> ll.Site.demo().invented
        True
        """
    def save(self, path: _Path) -> None:
        """Write the site to a file, with its tables beside it; whole or not at all.

        Args:
            path: the site file (TOML).

        Raises:
            FileError: a file that cannot be written.
        """
    def run_in(self, start: float) -> Line:
        """The tyres' line down the run-in from a start mark.

        Args:
            start: level distance up the hill from the run-in's end, m.

        Raises:
            InputError: a start mark off the run-in.
        """
    def ride(
        self, start: float, leave: float, who: str, lean: Literal["deck", "balanced", "settled"] = "deck"
    ) -> Ride:
        """How the middle rider of a class rides the takeoff, from rest at a start mark.

        Args:
            start: level distance up the hill from the run-in's end, m.
            leave: where he leaves the edge, m: up a wall's panel; or to the left of the middle of a
                lip or a drop.
            who: the class's name.
            lean: how he leans on the takeoff: "deck", "balanced" or "settled", as in `line.ride`.

        Returns:
            Ride: on the takeoff, or down the run-in where he does not come farther.

        Raises:
            InputError: a class, start, place or lean that there is not.
        """
    def descend(
        self, start: float, leave: float, who: str, lean: Literal["deck", "balanced", "settled"] = "deck"
    ) -> tuple[Ride, Ride | None]:
        """Both rides of `ride`: down the run-in, and on the takeoff (None where he does not come there).

        Args:
            start: level distance up the hill from the run-in's end, m.
            leave: where he leaves the edge, m, as in `ride`.
            who: the class's name.
            lean: how he leans on the takeoff, as in `ride`.

        Raises:
            InputError: a class, start, place or lean that there is not.
        """
    def passes(
        self,
        n: int = 4096,
        seed: int = 1,
        doubt: Doubt | None = None,
        threads: int | None = None,
        progress: _Progress | None = None,
    ) -> Passes:
        """Everyone who comes down the hill: rides, flights and touchdowns on the site's ground.

        The same numbers to the last bit for the same site, `n` and `seed` on any number of threads.

        Args:
            n: how many, 1 to 1048576.
            seed: of the scrambled low-discrepancy sequence they are drawn by.
            doubt: what nobody knows, drawn again in scenarios; None rides as the site says.
            threads: how many; None takes as many as the machine has.
            progress: True for a line on standard error, or a function of (done, total) that may
                return False to stop.

        Raises:
            InputError: a number outside its range, a site that is none.
            PassesError: nobody leaves the edge, and why.
            Cancelled: stopped by the progress function.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def name(self) -> str:
        """What the site is called."""
    @property
    def note(self) -> str:
        """What is to be known about it, in words."""
    @property
    def invented(self) -> bool:
        """Whether the site is invented: an example, not a place."""
    @property
    def air(self) -> Air:
        """Density, wind and gravity, in the middle of a wind that differs from pass to pass.

        Raises:
            InputError: air that cannot be.
        """
    @property
    def marks(self) -> dict[str, _Array]:
        """Marks to tape from: a dict of name and (x, y, z), m, an array of three."""
    @property
    def run_in_length(self) -> float:
        """Level length of the run-in, m: the farthest start mark up the hill."""
    @property
    def survey(self) -> _Array:
        """Points of the ground as surveyed, m, (n, 3)."""
    @property
    def ground(self) -> Ground:
        """The ground as surveyed: triangles between the points, nothing beyond their hull.

        Raises:
            InputError: points that make no surface.
        """
    @property
    def profile(self) -> Profile:
        """The run-in's profile, as given; only differences count: its end lies where the tyres come
        onto the takeoff.

        Raises:
            InputError: points that make no profile.
        """
    @property
    def takeoff(self) -> Wall | Lip | Drop:
        """What is ridden and left: a `Wall`, `Lip` or `Drop`."""
    @property
    def wall(self) -> Wall | None:
        """The wall that is ridden and left; None where the takeoff is another."""
    @property
    def enter(self) -> float:
        """How far up the panel from its foot the tyres come onto a wall, m; 0 on a lip or a drop."""
    @property
    def leave_at_most(self) -> float | None:
        """How far up a wall's panel riders leave it at most, m; None where nothing holds them to it."""
    @property
    def speed_check(self) -> float | None:
        """Speed above which nobody comes onto the takeoff, m/s; None where there is no speed check."""
    @property
    def classes(self) -> list[RiderClass]:
        """Who rides here."""
    @property
    def soil(self) -> str:
        """What the soil is called."""
    @property
    def earth(self) -> Soil:
        """The soil with its numbers."""
    @property
    def barrow_volume(self) -> float:
        """Loose earth in a barrow, m^3."""
    @property
    def barrow_count(self) -> int:
        """How many barrows there are."""
    @property
    def barrow_in_place(self) -> float:
        """Placed earth that one barrow makes in the site's soil, before it settles, m^3.

        Raises:
            InputError: a soil that holds none.
        """
    @property
    def fall_limit(self) -> float:
        """Equivalent fall height up to which a touchdown counts as soft, m."""
    @property
    def edge_clearance(self) -> float:
        """How far in plan a landing must stay from the edge that is left, m."""
    @property
    def area(self) -> _Array:
        """Corners in plan, in order, of the area that a landing's deck, and all earth of a free landing,
        must lie in, m, (n, 2); no rows where it may lie anywhere.
        """
    @property
    def keep_outs(self) -> list[tuple[str | None, _Array]]:
        """Where no earth may lie at all: rows of name (None where it has none) and corners in plan, in
        order, m, (n, 2).
        """
    @property
    def obstacles(self) -> list[tuple[str, tuple[float, float, float], float]]:
        """What stays where it is: rows of name, (x, y, z) in m with z of the ground there (NaN off
        the survey), and radius in m.

        Raises:
            InputError: points that make no ground.
        """


@final
class Passes:
    """Everyone who comes down the hill: who, how they rode, flew and came down; a row per pass.

    Made by `site.passes(...)`. A number that a pass does not have is NaN: who does not come to the
    wall has no entry speed, who does not leave the edge no launch, who does not touch no mark.
    A pickle keeps site, size, seed and ground, and rides again: the same numbers.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def flight(self, i: int) -> Flight:
        """The flight of one pass.

        Args:
            i: which, from 0.

        Raises:
            InputError: no such pass, or one that does not leave the edge.
        """
    def path(self, i: int, n: int = 60) -> _Array:
        """`n` places of the centre of mass of one pass in the air, m, (n, 3).

        Args:
            i: which pass, from 0.
            n: how many places, evenly spaced in time from launch to end.

        Raises:
            InputError: no such pass, or one that does not leave the edge.
        """
    def on(self, ground: Ground, threads: int | None = None) -> Passes:
        """The same rides and paths through the air onto another ground, such as one with a
        landing: only the touch is looked for again.

        Args:
            ground: onto what.
            threads: how many; None takes as many as the machine has.

        Raises:
            PassesError: a touch that cannot be computed.
        """
    def with_lean(self, lean: str) -> Passes:
        """The same passes judged by one lean alone: who does not come over the edge with it does not leave.

        Args:
            lean: one of `leans`.

        Raises:
            InputError: a lean that they were not ridden with.
        """
    def weighted(self, factors: dict[str, float]) -> Passes:
        """The same passes with the weight of each named class multiplied by a factor, all weights together 1
        again: to have first-timers count three times, say.

        Args:
            factors: a dict of class name and factor, at least 0.

        Raises:
            InputError: a name that is no class, a factor below 0, nobody left with a weight.
        """
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per pass; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `pass`; needs xarray."""
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def who(self) -> NDArray[np.uint64]:
        """Class of the rider, a place in `class_names`, (n,)."""
    @property
    def weight(self) -> _Array:
        """Share of all passes that each stands for, (n,); they add up to 1."""
    @property
    def start(self) -> _Array:
        """Level distance of the start up the hill from the run-in's end, m, (n,)."""
    @property
    def leave(self) -> _Array:
        """How far up the panel the rider leaves or would have left, m, (n,)."""
    @property
    def pop(self) -> _Array:
        """Push off the edge, m/s, (n,)."""
    @property
    def mass(self) -> _Array:
        """Mass of rider and bike, kg, (n,)."""
    @property
    def cda(self) -> _Array:
        """Drag area, m^2, (n,)."""
    @property
    def brake(self) -> _Array:
        """Brake held down the run-in, m/s^2, (n,)."""
    @property
    def wind(self) -> _Array:
        """The air's velocity, m/s, (n, 3)."""
    @property
    def scenario(self) -> NDArray[np.uint64]:
        """The scenario each was drawn in, from 0, (n,); 0 all along where nothing was in doubt."""
    @property
    def speed_factor(self) -> _Array:
        """What the speed onto the takeoff was multiplied by, (n,); 1 where nothing was in doubt."""
    @property
    def entry_speed(self) -> _Array:
        """The tyres' speed at the wall's start, m/s, (n,)."""
    @property
    def exit_speed(self) -> _Array:
        """The tyres' speed at the edge, m/s, (n,)."""
    @property
    def ride_grip_demand(self) -> _Array:
        """The most grip asked for on the way, (n,)."""
    @property
    def ride_outcome(self) -> _Words:
        """How each ride ended, (n,) of str: "reached" for who leaves the edge, else "slid",
        "stalled", "did_not_start", "left_surface", "hung_up" or "unbalanced" (no lean was found that
        keeps the balance).
        """
    @property
    def hardest_lean(self) -> _Words:
        """The lean on the takeoff that each is judged by, (n,) of str: the hardest of `leans`; "" for who does not leave."""
    @property
    def outcome(self) -> _Words:
        """How each came down, (n,) of str: "landed", "caught", "short", "long", "wide",
        "rolled_off", "off_survey", "no_touchdown", or "not_launched".
        """
    @property
    def launch_position(self) -> _Array:
        """Centre of mass at the launch, m, (n, 3)."""
    @property
    def launch_velocity(self) -> _Array:
        """Velocity of the centre of mass at the launch, m/s, (n, 3)."""
    @property
    def time(self) -> _Array:
        """Time of flight, s, (n,)."""
    @property
    def mark(self) -> _Array:
        """The tyres' mark, m, (n, 3)."""
    @property
    def velocity(self) -> _Array:
        """Velocity at the touchdown, m/s, (n, 3)."""
    @property
    def normal_speed(self) -> _Array:
        """Speed into the surface, m/s, (n,)."""
    @property
    def sideways_speed(self) -> _Array:
        """Speed over the surface to the left of forward, m/s, (n,)."""
    @property
    def fall_height(self) -> _Array:
        """Equivalent fall height, m, (n,)."""
    @property
    def angle_deg(self) -> _Array:
        """Angle between path and surface, degrees, (n,)."""
    @property
    def distance(self) -> _Array:
        """Level distance from the tyres' point at the launch to the mark, m, (n,)."""
    @property
    def drop(self) -> _Array:
        """How far the mark is below that point, m, (n,)."""
    @property
    def lean_owed_deg(self) -> _Array:
        """Lean still owed at the touchdown, degrees, (n,)."""
    @property
    def leans(self) -> list[str]:
        """The leans on the takeoff that the passes were ridden with, of "deck", "balanced" and "settled".

        Nobody knows beforehand how a rider leans. "balanced" judges who holds; of those who leave each is judged by his
        hardest way down: `with_lean` gives one lean alone.
        """
    @property
    def class_names(self) -> list[str]:
        """Names of the rider classes."""
    @property
    def seed(self) -> int:
        """Seed they were drawn from."""
    @property
    def ground(self) -> Ground:
        """The ground they come down on."""
    @property
    def leaving(self) -> float:
        """Share of all passes that leaves over the edge."""
    @property
    def reasons(self) -> list[str]:
        """Why the others do not, in words, the commonest first."""
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise: who does not leave, who falls high, in words."""


@final
class Doubt:
    """How far the guesses behind an ensemble may be off for all riders alike: standard deviations, in scenarios.

    The spreads of a site's classes say how riders differ. What they cannot say is that the whole run-in
    may roll faster than was thought, that everybody pushes off more, or that the wind is another: each
    scenario draws such an error once and gives it to everybody. The defaults are assumptions.

    Args:
        speed: of the speed with which riders come onto the takeoff, a share of it, 0 to 0.3.
        pop: of the push off the edge, m/s, at least 0.
        wind: of the wind along x and along y, m/s, at least 0.
        scenarios: how many are drawn, 2 to 64.

    Raises:
        InputError: a number outside its range.

    >>> import loamline as ll
    >>> ll.Doubt(speed=0.1).scenarios
    8
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(
        cls, speed: float = 0.05, pop: float = 0.15, wind: float = 1.0, scenarios: int = 8
    ) -> Doubt: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def speed(self) -> float:
        """Of the speed onto the takeoff, a share of it."""
    @property
    def pop(self) -> float:
        """Of the push off the edge, m/s."""
    @property
    def wind(self) -> float:
        """Of the wind along x and along y, m/s."""
    @property
    def scenarios(self) -> int:
        """How many are drawn."""


@final
class Bargain:
    """Takeoffs compared by the earth they ask for; arrays with the takeoff as it is first, then each change.

    Made by `bargain(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    @property
    def words(self) -> list[str]:
        """What each takeoff is, in words, (n,): "as it is" first."""
    @property
    def needed(self) -> _Array:
        """Least placed earth found that catches as many as all of it does off the takeoff as it is, m^3, (n,);
        NaN where not even all does.
        """
    @property
    def saved(self) -> _Array:
        """Earth saved against the takeoff as it is, m^3, (n,); below 0 where it asks for more, NaN where not even
        all the earth catches as many.
        """
    @property
    def caught(self) -> _Array:
        """Share caught softly by the best landing for all the earth, (n,)."""
    @property
    def p95_fall_height(self) -> _Array:
        """Its 95th percentile of the equivalent fall height, m, (n,)."""
    @property
    def leaving(self) -> _Array:
        """Share of all riders who leave the edge, (n,)."""
    @property
    def fits(self) -> list[Fit]:
        """The best landing for all the earth of each takeoff."""
    @property
    def changes(self) -> list[dict[str, float] | None]:
        """The changes as dicts of one number each, None for the takeoff as it is."""
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per takeoff; needs pandas."""
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...


def bargain(
    site: Site,
    volume: float,
    changes: Sequence[dict[str, float]] | None = None,
    n: int = 1024,
    fall_limit: float | None = None,
    seed: int = 1,
    threads: int | None = None,
    progress: _Progress | None = None,
) -> Bargain:
    """What each small change of a site's takeoff saves in earth.

    For each takeoff the least volume is looked for whose best landing catches as many softly as all the
    earth does off the takeoff as it is; to about 4 %. The timber's own cost and strength are not weighed.

    Args:
        site: the site.
        volume: placed earth at hand, m^3, above 0.
        changes: a list of dicts of one number each, or None for some worth a look: `end_bank_deg` (a wall
            whose bank ends so much steeper), `length` (a wall so much longer, m), `leave_at_most` (a rail
            or a line that nobody leaves above, m up the panel), `lip_angle_deg` (a lip so much steeper at
            its edge), `speed_check` (nobody comes onto the takeoff faster, m/s).
        n: how many riders.
        fall_limit: fall height up to which a touchdown counts as soft, m; None takes the site's.
        seed: of riders and searches.
        threads: how many; None takes as many as the machine has.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: a number outside its range, a change that is none or that the takeoff cannot have.
        FitError: no landing for one of the takeoffs.
        PassesError: nobody leaves the edge.
        Cancelled: stopped by the progress function.
    """


@final
class Fit:
    """A landing fitted to riders, what it takes, and how it takes them.

    Made by `fit_landing(...)`. Shares but `leaving` are of those who leave the edge.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def landing(self) -> Landing:
        """The landing, its crest height settled; of two faces the first."""
    @property
    def landings(self) -> list[Landing]:
        """All its faces, in the order built: one, or two side by side."""
    @property
    def judged(self) -> float:
        """Share caught by which it was judged: `caught`, or for passes in doubt the mean over the worse half of
        the scenarios.
        """
    @property
    def caught_by_scenario(self) -> _Array:
        """Share caught softly in each scenario, (scenarios,); empty where nothing was in doubt."""
    @property
    def volume(self) -> float:
        """Earth of the landing as placed, m^3, exactly; at most the budget."""
    @property
    def caught(self) -> float:
        """Share that comes down softly: on the face at or below the fall limit, or rolls off so."""
    @property
    def p95_fall_height(self) -> float:
        """95th percentile of the equivalent fall height, m; infinite where more than 5 % come down
        where no ground is known.
        """
    @property
    def on_face(self) -> float:
        """Share that comes down on the face, softly or not."""
    @property
    def short(self) -> float:
        """Share that comes down before the crest."""
    @property
    def long(self) -> float:
        """Share that comes down past the foot."""
    @property
    def wide(self) -> float:
        """Share that comes down off a side."""
    @property
    def rolled_off(self) -> float:
        """Share that rolls off the edge."""
    @property
    def off(self) -> float:
        """Share that leaves the known ground or finds none."""
    @property
    def leaving(self) -> float:
        """Share of all riders that leaves the edge at all."""
    @property
    def fall_limit(self) -> float:
        """Fall height up to which a touchdown counted as soft, m."""
    @property
    def ground(self) -> Ground:
        """The ground with the landing on it.

        Raises:
            InputError: a landing that cannot be built.
        """
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise, in words, and a caution."""


def fit_landing(
    passes: Passes,
    site: Site,
    volume: float,
    fall_limit: float | None = None,
    seed: int = 1,
    faces: int = 1,
    foot_radius: tuple[float, float] | None = None,
    threads: int | None = None,
    progress: _Progress | None = None,
) -> Fit:
    """The landing that takes most riders softly, for a budget of earth and within the site's bounds.

    Better is a landing that takes more of those who leave the edge softly, and among equals the
    one with the lower 95th percentile of fall height. The same passes, site, budget and seed give
    the same landing on any number of threads; a search of this kind proves no optimum.

    Args:
        passes: who comes down, on the site's ground without a landing.
        site: the bounds, the soil.
        volume: placed earth at hand, m^3, above 0.
        fall_limit: fall height up to which a touchdown counts as soft, m; None takes the site's.
        seed: of the search.
        faces: 1 for one face, 2 for two side by side: a line for the slow and one for the fast.
        foot_radius: from and to which radius the foot of one face is rounded, m, 0 to 60; None leaves it sharp.
        threads: how many; None takes as many as the machine has.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: a number outside its range, a site that is none.
        FitError: no landing within the bounds, too little earth, nobody who comes down.
        Cancelled: stopped by the progress function.
    """


@final
class Tradeoff:
    """The best landing for each of several volumes of earth; arrays in the order asked for.

    Made by `tradeoff(...)`. Shares but `leaving` are of those who leave the edge.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per budget; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `budget`; needs xarray."""
    def __len__(self) -> int: ...
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def fits(self) -> list[Fit]:
        """The fit of each budget."""
    @property
    def landings(self) -> list[Landing]:
        """The landing of each budget."""
    @property
    def on_front(self) -> NDArray[np.bool_]:
        """Whether each is on the front, (n,), bool: no other takes as little earth and is as good in share caught and
        95th percentile of fall height.
        """
    @property
    def knee(self) -> int | None:
        """The place of the budget from which on more earth gives clearly less than before; None where there is no
        such knee.
        """
    @property
    def reasons(self) -> list[str]:
        """What the trade-off comes to, in sentences: the knee and why, and what is not worth its earth."""
    @property
    def volumes(self) -> _Array:
        """Budgets asked for, m^3, (n,)."""
    @property
    def placed(self) -> _Array:
        """Earth that each landing takes as placed, m^3, (n,)."""
    @property
    def caught(self) -> _Array:
        """Share that comes down softly, (n,)."""
    @property
    def p95_fall_height(self) -> _Array:
        """95th percentile of the equivalent fall height, m, (n,)."""
    @property
    def on_face(self) -> _Array:
        """Share that comes down on the face, softly or not, (n,)."""
    @property
    def short(self) -> _Array:
        """Share that comes down before the crest, (n,)."""
    @property
    def long(self) -> _Array:
        """Share that comes down past the foot, (n,)."""
    @property
    def wide(self) -> _Array:
        """Share that comes down off a side, (n,)."""
    @property
    def rolled_off(self) -> _Array:
        """Share that rolls off the edge, (n,)."""
    @property
    def off(self) -> _Array:
        """Share that leaves the known ground or finds none, (n,)."""
    @property
    def leaving(self) -> _Array:
        """Share of all riders that leaves the edge at all, (n,)."""


@final
class Terrain:
    """What two wheels ride over, seen from the side: profiles one after the other.

    Each profile keeps its own level distances and heights; its placement in the site is left aside.
    Where one begins at the distance at which the one before ends, a difference in height is a
    vertical face; where it begins farther on there is a gap without bottom. The ground is rigid.

    Args:
        profiles: in the order in which they are ridden, at least one.
        heading_deg: along which they are ridden, counter-clockwise from +x, degrees: wind is seen
            from there.

    Raises:
        InputError: no profile, or one that begins before the one before it ends.

    >>> import loamline as ll
    >>> deck = ll.Profile([0, 10], [1.0, 1.0], radius=1.0)
    >>> ground = ll.Profile([10, 30], [0.0, -2.0], radius=1.0)
    >>> ll.Terrain([deck, ground]).span
    (0.0, 30.0)
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __new__(cls, profiles: Sequence[Profile], heading_deg: float = 0.0) -> Terrain: ...
    @staticmethod
    def polyline(distance: ArrayLike, height: ArrayLike, heading_deg: float = 0.0) -> Terrain:
        """Straights between points, corners left sharp.

        Args:
            distance: level distances, m, (n,), rising.
            height: m, (n,).
            heading_deg: along which it is ridden, degrees.

        Raises:
            InputError: points that do not rise or are not finite.

        >>> import loamline as ll
        >>> ll.Terrain.polyline([0, 5, 9], [0.0, 0.0, 1.0]).height_at(7.0)
        0.5
        """
    @staticmethod
    def over(ground: Ground, start: Sequence[float] | _Array, heading_deg: float, length: float) -> Terrain:
        """A section of a ground along a heading, distances counted from where it begins.

        Heights are taken every 0.05 m, those within 1 mm of a straight left out, and corners
        rounded over at most 0.1 m to either side.

        Args:
            ground: what is cut, a built landing's too.
            start: (x, y), m, where the section begins.
            heading_deg: counter-clockwise from +x, degrees.
            length: level, m, from 0.05 to 10000.

        Raises:
            InputError: a section that leaves the ground; says where.

        >>> import loamline as ll
        >>> hill = ll.Ground.plane(slope_deg=45.0)
        >>> round(ll.Terrain.over(hill, (0, 0), 0.0, 20.0).height_at(8.0), 9)
        -8.0
        """
    def height_at(self, distance: float) -> float | None:
        """Height at a level distance, m; None off the terrain and in a gap."""
    def grade_at(self, distance: float) -> float | None:
        """Rise over run at a level distance, positive uphill; None off the terrain and in a gap."""
    def outline(self, spacing: float = 0.05) -> _Array:
        """The surface for drawing: level distances and heights, m, (n, 2); NaN in a gap.

        Args:
            spacing: the farthest that points lie apart, level metres, at least 0.001.
        """
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def span(self) -> tuple[float, float]:
        """First and last level distance, m."""
    @property
    def heading_deg(self) -> float:
        """Heading along which it is ridden, degrees."""


@final
class TwoWheelRide:
    """A ride on two wheels: moment by moment, how it ended, its longest hop, and its energy.

    Made by `rider.two_wheel_ride(...)`. Level distances and heights are the terrain's; pitch is
    from level, positive nose down. Every event has a moment of its own.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def explain(self) -> str:
        """The model, what went in, its sources and its limits, in words."""
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` with a row per moment; needs pandas."""
    def to_xarray(self) -> Any:
        """An `xarray.Dataset` along `sample`; needs xarray."""
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def time(self) -> _Array:
        """Time from the start, s, (n,)."""
    @property
    def centre(self) -> _Array:
        """Centre of the sprung mass, level distance and height, m, (n, 2)."""
    @property
    def velocity(self) -> _Array:
        """Velocity of that centre, m/s, (n, 2)."""
    @property
    def pitch_deg(self) -> _Array:
        """Pitch from level, degrees, nose down positive, (n,)."""
    @property
    def pitch_rate_deg(self) -> _Array:
        """Pitch rate, degrees/s, (n,)."""
    @property
    def rear_hub(self) -> _Array:
        """Rear hub, level distance and height, m, (n, 2)."""
    @property
    def front_hub(self) -> _Array:
        """Front hub, level distance and height, m, (n, 2)."""
    @property
    def rear_load(self) -> _Array:
        """The ground's force on the rear tyre, N, (n,)."""
    @property
    def front_load(self) -> _Array:
        """The ground's force on the front tyre, N, (n,)."""
    @property
    def rear_suspension(self) -> _Array:
        """Force of the rear suspension, N, (n,)."""
    @property
    def front_suspension(self) -> _Array:
        """Force of the front suspension, N, (n,)."""
    @property
    def rear_travel(self) -> _Array:
        """Compression of the rear suspension from full extension, m, (n,)."""
    @property
    def front_travel(self) -> _Array:
        """Compression of the front suspension from full extension, m, (n,)."""
    @property
    def rear_touching(self) -> NDArray[np.bool_]:
        """Whether the rear tyre touches, (n,)."""
    @property
    def front_touching(self) -> NDArray[np.bool_]:
        """Whether the front tyre touches, (n,)."""
    @property
    def outcome(self) -> str:
        """How it ended: "rode_out", "pitched_over", "looped_out", "rear_caught", "stalled",
        "hung_up", "off_terrain", "crushed" or "time_up".
        """
    @property
    def reason(self) -> str:
        """How it ended, in words and numbers."""
    @property
    def airtime(self) -> float | None:
        """Longest time in the air with both wheels off, s; None where a wheel was always down."""
    @property
    def left(self) -> dict[str, Any] | None:
        """Where each wheel left before that time: a dict of `rear` and `front`, each a dict of `time`
        (s), `distance`, `height` (m), `normal_speed` (m/s, into the ground) and `pitch_deg`, or
        None; None without a time in the air.
        """
    @property
    def touchdown(self) -> dict[str, Any] | None:
        """Where each wheel came down after it, as `left`."""
    @property
    def first_down(self) -> str | None:
        """Which wheel came down first, "rear", "front" or "together"; None where not both came down."""
    @property
    def first_by(self) -> float | None:
        """How long before the other it came down, s."""
    @property
    def peaks(self) -> dict[str, tuple[float, float]]:
        """Hardest moments, a dict of pairs (value, time): `rear_load`, `front_load` (N),
        `rear_travel`, `front_travel`, `rear_tyre`, `front_tyre` (m) and `body` (body weights).
        """
    @property
    def energy(self) -> dict[str, Any]:
        """Where the energy went, J/kg: a dict of `start` and `end` (each of `kinetic`, `height`,
        `springs`, `tyres`), `dampers`, `rolling`, `drag`, `brake` and `residual`.
        """
    @property
    def momentum(self) -> dict[str, _Array]:
        """Where the momentum went, per mass of rider and bike, m/s: a dict of `start`, `gravity`, `drag`,
        `rear` and `front` (the ground on the tyres, square to it), `rolling`, `brake`, `end` and
        `residual`, each level and up, (2,), with end = start + all between + residual.
        """
    @property
    def terrain(self) -> Terrain:
        """What was ridden."""
    @property
    def rider(self) -> Rider:
        """Who rode."""
    @property
    def warnings(self) -> list[str]:
        """What the rider should know, in words."""


def tradeoff(
    passes: Passes,
    site: Site,
    volumes: ArrayLike,
    fall_limit: float | None = None,
    seed: int = 1,
    faces: int = 1,
    foot_radius: tuple[float, float] | None = None,
    threads: int | None = None,
    progress: _Progress | None = None,
) -> Tradeoff:
    """The best landing for each of several volumes of earth.

    A larger budget is never worse than a smaller one: less earth than there is fits both.

    Args:
        passes: who comes down, on the site's ground without a landing.
        site: the bounds, the soil.
        volumes: placed earth at hand, m^3, (n,), each above 0.
        fall_limit: fall height up to which a touchdown counts as soft, m; None takes the site's.
        seed: of the search.
        faces: 1 for one face, 2 for two side by side.
        foot_radius: from and to which radius the foot of one face is rounded, m, 0 to 60; None leaves it sharp.
        threads: how many; None takes as many as the machine has.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: a number outside its range, no volumes, a site that is none.
        FitError: no landing within the bounds, too little earth, nobody who comes down.
        Cancelled: stopped by the progress function.
    """


@final
class EvenLanding:
    """Earth on which every flight of one launch, slow or fast, lands with the same fall height.

    Made by `even_landing(...)`. Distances are level, m, from the centre of mass at the launch along
    the landing's heading; heights count from there too. With a cross slope the profile is the cut
    by the vertical plane through the launch along the heading; the earth goes on straight to both
    sides.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    def height(self, x: float | ArrayLike) -> Any:
        """Height of the earth a distance out, m.

        Args:
            x: m, within `reach`; a number, or an array (n,).

        Returns:
            A float, or an array (n,).

        Raises:
            InputError: a distance beyond its reach.
        """
    def slope_deg(self, x: float | ArrayLike) -> Any:
        """Slope of the earth along the heading a distance out, positive downhill, degrees.

        Args:
            x: m, within `reach`; a number, or an array (n,).

        Returns:
            A float, or an array (n,).

        Raises:
            InputError: a distance beyond its reach.
        """
    def launch_speed(self, x: float | ArrayLike) -> Any:
        """Launch speed of the flight that lands a distance out, m/s.

        Args:
            x: m, within `reach`; a number, or an array (n,).

        Returns:
            A float, or an array (n,).

        Raises:
            InputError: a distance beyond its reach.
        """
    def profile(self) -> dict[str, _Array]:
        """Its places, near end first, as arrays (n,) by name, at most 0.1 m apart.

        `distance`, `height`, `slope_deg` and `curvature` (1/m, positive over a crest) of the earth;
        `com_distance`, `com_height` of the centre of mass that touches there; `launch_speed` and
        `time` of its flight.
        """
    def paths(self, count: int = 8, points: int = 60) -> _Array:
        """Paths of the centre of mass of some flights that land on it, out and up, m,
        (count, points, 2), spread evenly from the near end to the far one.
        """
    def to_pandas(self) -> Any:
        """A `pandas.DataFrame` of the profile; needs pandas."""
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    @property
    def reach(self) -> tuple[float, float]:
        """From where to where it reaches, along all its lines, near end first, m out."""
    @property
    def stopped_by(self) -> str:
        """What ended it on its way inwards: "near_end"; "too_steep", steeper than earth is let
        stand; "no_flight", no flight gets there; "too_slow", who gets there is slower than the
        fall height asks for; "too_tight", it bends down more tightly than the rider's height
        over the tyres; "flights_cross", a place does not tell the flight.
        """
    @property
    def launch_speeds(self) -> tuple[float, float]:
        """Launch speeds of the flights that land on it, slowest and fastest, m/s."""
    @property
    def fall_height(self) -> float:
        """Equivalent fall height of every landing, m."""
    @property
    def launch_angle_deg(self) -> float:
        """Angle above the level at which flights leave, degrees."""
    @property
    def sideways_deg(self) -> float:
        """Heading of the flights, from the landing's to the left, degrees."""
    @property
    def cross_slope_deg(self) -> float:
        """How the earth, at its far end, rises to the left, degrees."""
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise about it, in words."""


def even_landing(
    launch_angle_deg: float,
    fall_height: float,
    far: Sequence[float] | _Array,
    near: float,
    rider: Rider,
    air: Air,
    sideways_deg: float = 0.0,
    cross_slope_deg: float = 0.0,
    steepest_deg: float = 45.0,
    form: str = "distance",
) -> EvenLanding:
    """The earth on which every flight of one launch, slow or fast, lands with the same fall height.

    Flights leave from one place at one angle and differ in speed. The surface's slope obeys an
    equation of first order, so there is one such landing for every far end; it is followed from
    there inwards, as that way errors shrink. All places are the earth's, `x` level and `z` up, m,
    from the centre of mass at the launch; the rider comes upright, `rider.com_height_landing` over
    the tyres. It is even only for this launch: who pops or leaves elsewhere lands harder or softer.

    Args:
        launch_angle_deg: above the level, between -90 and 90.
        fall_height: equivalent fall height of every landing, m, at least 0.
        far: (x, z) of the far end; x above 0.
        near: x at which it should begin, from 0 to below the far end's.
        rider, air: who flies, through what; the wind's x blows along the landing, its y to the left.
        sideways_deg: heading of the flights, from the landing's to the left, between -90 and 90.
        cross_slope_deg: how the earth rises to the left, between -90 and 90.
        steepest_deg: steepest that earth is let stand, between 0 and 90. 45 is for hard, dry and
            clean earth (Newman 1890); wet earth stands at less than half.
        form: "distance", "launch_speed" or "root": three forms of the one equation that check one
            another; heights agree to 1e-8 m.

    Raises:
        InputError: a number outside its range; a far end where no flight gets, where flights are too
            slow, or where the earth would be too steep or bend too tightly.

    >>> import loamline as ll
    >>> even = ll.even_landing(launch_angle_deg=20.0, fall_height=0.5, far=(9.0, -2.0), near=3.0,
    ...                        rider=ll.Rider(), air=ll.Air())
    >>> even.reach, even.stopped_by
    ((3.0, 9.0), 'near_end')
    >>> [round(even.slope_deg(x)) for x in (3.0, 6.0, 9.0)]
    [-1, 7, 15]
    """


@final
class EvenSurface:
    """Earth on which the flights of several lines, slow or fast, all land with the same fall height.

    Made by `even_surface(...)`. Places are m along the landing's heading (`x`), to its left (`y`) and
    up, from the centre of mass at the first line's launch.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    def height(self, x: float | ArrayLike, y: float | ArrayLike) -> _Array:
        """Height of the earth at places, m; beside the outer lines it goes on straight.

        Args:
            x, y: m along and to the left, x within `reach`; numbers, or arrays (n,).

        Returns:
            An array (n,); (1,) for numbers.

        Raises:
            InputError: a place beyond its reach.
        """
    def gradient(self, x: float | ArrayLike, y: float | ArrayLike) -> _Array:
        """Rise of the earth along and to the left at places, (n, 2), m a metre.

        Args:
            x, y: m along and to the left, x within `reach`; numbers, or arrays (n,).

        Raises:
            InputError: a place beyond its reach.
        """
    def width(self, x: float) -> tuple[float, float]:
        """From where to where the lines lie across a distance out, right end first, m.

        Raises:
            InputError: a distance beyond its reach.
        """
    def points(self, spacing: float = 0.25, beside: float = 0.5) -> _Array:
        """Points of the earth in the site's frame, m, (n, 3): a survey to set out and build.

        Args:
            spacing: m between points at most, above 0.
            beside: how far past the outer lines on both sides, m, at least 0.

        Raises:
            InputError: a number outside its range, more than 200 000 points.
        """
    def ground(self, spacing: float = 0.1, beside: float = 0.5) -> Ground:
        """The earth as a `Ground`, triangulated between `points`; `site.ground.higher(...)` sets it on a site.

        Args:
            spacing, beside: as in `points`; half the spacing times the curvature is what the facets'
                angle is off.

        Raises:
            InputError: a number outside its range, more than 200 000 points.
        """
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    @property
    def reach(self) -> tuple[float, float]:
        """From where to where it reaches, along all its lines, near end first, m out."""
    @property
    def stopped_by(self) -> str:
        """What ended it on its way inwards: "near_end"; "too_steep", steeper than earth is let
        stand; "no_flight", no flight gets there; "too_slow", who gets there is slower than the
        fall height asks for; "too_tight", it bends down more tightly than the rider's height
        over the tyres; "flights_cross", a place does not tell the flight.
        """
    @property
    def launch_speeds(self) -> _Array:
        """Launch speeds of each line's flights that land on it, slowest and fastest, m/s, (lines, 2)."""
    @property
    def fall_height(self) -> float:
        """Equivalent fall height of every landing, m."""
    @property
    def heading_deg(self) -> float:
        """The landing's heading, degrees."""
    @property
    def cross_slope_deg(self) -> float:
        """How the earth, at its far end, rises to the left, degrees."""
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise about it, in words."""


def even_surface(
    launches: Sequence[Launch],
    fall_height: float,
    far: Sequence[float] | _Array,
    near: float,
    rider: Rider,
    air: Air,
    heading_deg: float | None = None,
    cross_slope_deg: float = 0.0,
    steepest_deg: float = 45.0,
) -> EvenSurface:
    """The earth on which flights of several lines, slow or fast, all land with the same fall height.

    A line is all launches from one place in one direction, at any speed: off a wall, each height of
    leaving has its own. Along every line the earth obeys the equation of `even_landing`, with the
    cross slope that the other lines give it there; across, one polynomial goes through all lines, and
    beside them the earth goes on straight. What is free to choose is its far end: straight, at
    `cross_slope_deg`. From there all lines are followed inwards together. Flights of the lines land as
    evenly as asked, those between nearly so, the better the more lines.

    Args:
        launches: 2 to 8 `Launch`es in their order across, a line each; their speeds do not count.
        fall_height: equivalent fall height of every landing, m, at least 0.
        far: (x, z) of the far end, m from the centre of mass at the first launch: along the landing,
            above 0, and up at y = 0.
        near: x at which it should begin, from 0 to below the far end's.
        rider, air: who flies, through what; the rider comes upright.
        heading_deg: of the landing; None takes the mean of the launches'.
        cross_slope_deg: how its far end rises to the left, between -90 and 90.
        steepest_deg: steepest that earth is let stand, between 0 and 90. 45 is for hard, dry and
            clean earth (Newman 1890); wet earth stands at less than half.

    Raises:
        InputError: a number outside its range; a line that turns back from the landing; a far end where
            no flight gets, where flights are too slow, or where the earth would be too steep or bend
            too tightly, or lines that cross there.
    """


def write_ascii_grid(
    path: _Path,
    ground: Ground,
    *,
    spacing: float = 0.1,
    area: tuple[float, float, float, float] | None = None,
) -> None:
    """Write the heights of a ground as an Esri ASCII grid, m; -9999 where the ground is not known.

    Args:
        path: the file; written whole or not at all.
        ground: the ground.
        spacing: how far apart heights are taken, m, above 0.
        area: (x0, y0, x1, y1), m; None takes all of the ground.

    Raises:
        FileError: a number out of its range, or a file that cannot be written.
        InputError: a ground without end and no area.
    """


@final
class RunOut:
    """How a rider rides out of a touchdown: speed kept, load in the foot's curve, room to stop, drift.

    Made by `run_out(...)`. Stations are m along the tyres' line from the mark on.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    @property
    def touch_speed(self) -> float:
        """Speed at the touch, m/s."""
    @property
    def speed_kept(self) -> float:
        """What is left of it over the surface, m/s."""
    @property
    def heading_deg(self) -> float:
        """Where the rider goes, straight on, degrees counter-clockwise from +x."""
    @property
    def ride(self) -> Ride:
        """The ride, station by station."""
    @property
    def braking_from(self) -> float | None:
        """Station where the brake begins, m; None where the ride ends before."""
    @property
    def stop_station(self) -> float | None:
        """Station where the rider stops, m; None where not on known ground."""
    @property
    def stop_time(self) -> float | None:
        """Time from the touch to the stop, s; None where there is none on known ground."""
    @property
    def stop_place(self) -> _Array | None:
        """Where the tyres stop, m, an array of three; None where not on known ground."""
    @property
    def peak_load(self) -> float:
        """Highest load on the surface after the touch, g's: what the foot's curve gives."""
    @property
    def peak_load_station(self) -> float:
        """Station of the highest load, m."""
    @property
    def drift(self) -> float | None:
        """How far to the left of the landing's middle line the ride ends, m; None without a landing."""
    @property
    def leaves_side_at(self) -> float | None:
        """Station where the ride leaves the landing's face over a side, m; None where it does not."""
    @property
    def clearance(self) -> float | None:
        """Least level distance of the course from the obstacle's rim, m, negative where it runs into
        it; None without an obstacle.
        """
    @property
    def room(self) -> float | None:
        """What is left between the stop and the obstacle, m, negative where the rider would have had to
        stop earlier; None where the course passes clear or there is no stop on known ground.
        """
    @property
    def obstacle_speed(self) -> float | None:
        """Speed at which the rider gets to the obstacle, m/s; None where he does not."""
    @property
    def touched(self) -> str:
        """Where on the landing the tyres touched: "caught", "long", "wide", "short", or "landed" without one."""
    @property
    def touch_slope_deg(self) -> float:
        """How steep the ground is where the tyres touch, degrees."""
    @property
    def end_slope_deg(self) -> float | None:
        """How steep the ground is where the ride ends, degrees; None where it is not known."""
    @property
    def turn_deg(self) -> float | None:
        """How far the rider has to turn to rejoin the trail, degrees, to the left positive; None
        without a trail.
        """
    @property
    def turn_station(self) -> float | None:
        """Station where the straight course meets the trail's line, m; None where it does not ahead."""
    @property
    def turn_radius(self) -> float | None:
        """The widest arc onto the trail from where the rider can begin to turn, after the reaction
        time, m; None where there is none.
        """
    @property
    def turn_grip_demand(self) -> float | None:
        """Grip that this arc asks for on the level at the speed at which it begins; None without one."""
    def speed_at(self, station: float) -> float | None:
        """Speed at a station, m/s; None where the ride does not come there."""
    def ride_on(self, line: Line, rider: Rider, air: Air) -> Ride:
        """The ride along the next feature's line, entered with what this run-out has left there.

        Args:
            line: of the next feature.
            rider, air: who rides, through what.

        Raises:
            RideError: a line that begins more than half a metre aside of the course, or where the
                run-out does not come; a ride that cannot be.
        """
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise, in words."""


def run_out(
    flight: Flight,
    rider: Rider,
    air: Air,
    brake: float = 2.0,
    reaction: float = 1.0,
    length: float = 40.0,
    obstacle: _Triple | None = None,
    trail: _Triple | None = None,
) -> RunOut:
    """How a rider rides out of a flight's touchdown, straight on over its ground.

    The speed into the surface is lost, the speed over it stays. The tyres' line is the ground under
    the straight course, its heights averaged over a wheelbase twice. The rider rolls for the reaction time
    and then brakes steadily, as far as grip lets him. How legs and suspension soften the touch and
    the foot's curve is not in it; nor is falling.

    Args:
        flight: the flight, with the ground it comes down on.
        rider, air: who rides, through what.
        brake: deceleration by the brake, m/s^2, at least 0; 2 is what a mountain bicycle has to reach
            in the wet (ISO 4210-2, from memory).
        reaction: time from the touch to the brake, s, at least 0; 1 is an assumption.
        length: level length that is looked at, m, from 1 to 500.
        obstacle: (x, y, radius) of something in the way, m; or None.
        trail: (x, y, heading in degrees) where the trail goes on straight; or None.

    Raises:
        InputError: a number outside its range.
        RideError: no touch, nothing left to ride with, no ground ahead, or a hollow tighter than twice
            the height of the centre of mass.

    >>> import loamline as ll
    >>> rider = ll.Rider(cda=0.0, crr=0.0)
    >>> flight = ll.Launch((0, 0, 2), (6, 0, 0)).flight(ll.Ground.plane(), rider, ll.Air())
    >>> round(ll.run_out(flight, rider, ll.Air(), brake=3.0, reaction=0.5).stop_station, 3)
    9.0
    """


@final
class BarrowMap:
    """How much one barrow of earth helps, by where its middle is put.

    Made by `barrow_map(...)`. To first order: for the present ground and the present touchdowns.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def x(self) -> _Array:
        """Places along x, m, (nx,)."""
    @property
    def y(self) -> _Array:
        """Places along y, m, (ny,)."""
    @property
    def gain(self) -> _Array:
        """By how much a barrow at each place lowers the severity, (ny, nx); negative makes it worse."""
    @property
    def free(self) -> NDArray[np.bool_]:
        """Whether a barrow may be put at each place, (ny, nx), bool: within the allowed area, off
        keep-outs, clear of obstacles and of the edge.
        """
    @property
    def severity(self) -> float:
        """The severity as it is."""
    @property
    def share_told(self) -> float:
        """Share of touchdowns whose answer to a change of the ground is told; the others touch edges
        of the ground, or before they are upright.
        """
    @property
    def best(self) -> tuple[float, float]:
        """Where a barrow helps most of where it may be put, (x, y), m."""
    def explain(self) -> str:
        """The model behind the map, what went in, its sources and its limits, in paragraphs."""


def barrow_map(
    passes: Passes,
    fall_limit: float,
    volume: float,
    radius: float = 1.2,
    spacing: float = 0.25,
) -> BarrowMap:
    """The map of the next barrow: how much a mound of earth lowers the severity, by where it is put.

    Severity is the weighted mean of `(fall height / fall_limit)**2` over all who touch the ground: 1
    where everybody comes down at the limit. Each touchdown answers to the height and the slope of
    the mound under it. The mound is round and runs out smoothly. It may lie only within the site's
    allowed area, off its keep-outs, clear of obstacles and of the edge.

    Args:
        passes: who comes down, on the ground as it is.
        fall_limit: fall height up to which a touchdown counts as soft, m, above 0.
        volume: placed earth of one barrow, m^3, above 0; no more than makes a mound as high as `radius`.
        radius: of the mound, m, above 0; about a wheelbase.
        spacing: between the places of the map, m, above 0.

    Raises:
        InputError: a number outside its range, a map too fine.
        PassesError: nobody who comes down where a change of the ground can be told, no room for a
            barrow near the touchdowns.
    """


def next_barrows(
    passes: Passes,
    fall_limit: float,
    volume: float,
    count: int,
    radius: float = 1.2,
    threads: int | None = None,
    progress: _Progress | None = None,
) -> dict[str, _Array]:
    """Where the next barrows go, one after the other, each where it helps most.

    Greedy: for each barrow the map's best places are tried, all riders landed again on the ground
    with it. The list ends early where no barrow helps any more. No barrow comes onto a keep-out or
    over the allowed area's sides.

    Args:
        passes: who comes down, on the ground as it is.
        fall_limit: fall height up to which a touchdown counts as soft, m, above 0.
        volume: placed earth of one barrow, m^3, above 0; no more than makes a mound as high as `radius`.
        count: how many barrows at most.
        radius: of each mound, m, above 0; about a wheelbase.
        threads: how many; None takes as many as the machine has.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Returns:
        A dict of arrays: `place` (n, 2), m; `expected` (n,), by how much each should lower the
        severity; `severity` (n,), with it.

    Raises:
        InputError: a number outside its range.
        PassesError: nobody who comes down where a change of the ground can be told, no room for a
            barrow near the touchdowns.
        Cancelled: stopped by the progress function.
    """


@final
class FreeLanding:
    """The landing, of any shape that earth stands at, on which touchdowns are softest for a volume.

    Made by `free_landing(...)`. A grid of depths of earth on the present ground, bilinear between.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def built(self) -> Ground:
        """The ground with the earth on it."""
    @property
    def x(self) -> _Array:
        """Nodes along x, m, (nx,)."""
    @property
    def y(self) -> _Array:
        """Nodes along y, m, (ny,)."""
    @property
    def earth(self) -> _Array:
        """Depth of the earth on the present ground at each node, m, (ny, nx)."""
    @property
    def height(self) -> _Array:
        """Height of the finished ground at each node, m, (ny, nx)."""
    @property
    def volume(self) -> float:
        """Earth in place, m^3."""
    @property
    def severities(self) -> _Array:
        """Severity at the start and after each step, all riders landed again."""
    @property
    def severity_before(self) -> float:
        """Severity of the present ground."""
    @property
    def severity(self) -> float:
        """Severity with the earth."""
    @property
    def promised(self) -> float:
        """How much lower the severity might still be, were every touchdown's answer the same 0.2 m away: an
        estimate of how far the shape is from the best near by.
        """
    @property
    def share_told(self) -> float:
        """Share of touchdowns that the shape was led by; the others touch before they are upright or
        off the grid.
        """
    @property
    def stopped_by(self) -> str:
        """Why the search ended: "no better", "no progress" or "steps"."""
    @property
    def steepest_deg(self) -> float:
        """The steepest slope that was allowed, degrees."""
    def explain(self) -> str:
        """The model behind the shape, what went in, its sources and its limits, in paragraphs."""


def free_landing(
    passes: Passes,
    fall_limit: float,
    volume: float,
    spacing: float = 0.3,
    radius: float = 2.5,
    steepest_deg: float | None = None,
    margin: float = 1.5,
    steps: int = 40,
    threads: int | None = None,
    progress: _Progress | None = None,
) -> FreeLanding:
    """The shape of earth on the passes' ground that makes their touchdowns softest.

    Least is the severity: the weighted mean of `(fall height / fall_limit)**2` over all who touch the
    ground. Starts from the ground as it is, also a half-built one; earth is only added, within the
    site's allowed area, off its keep-outs, clear of obstacles and of the edge. After each step all
    riders are landed again.

    Args:
        passes: who comes down, on the ground as it is.
        fall_limit: fall height up to which a touchdown counts as soft, m, above 0.
        volume: at most so much earth in place, m^3, above 0.
        spacing: between the nodes, m, above 0; much narrower ones get the search stuck on facets.
        radius: bent no tighter than this, m, above 0, along the grid's axes; the default is an
            assumption: a wheelbase of 1.2 m spans a dip of 7 cm.
        steepest_deg: no steeper than this, from 0.6 degrees to what the site's soil stands at hard and
            dry; None takes what that soil is built at.
        margin: earth lies up to so far from a touchdown, m, above 0.
        steps: at most so many, 1 to 1000.
        threads: how many; None takes as many as the machine has.
        progress: True for a line on standard error, or a function of (done, total) that may
            return False to stop.

    Raises:
        InputError: a number outside its range, a grid too fine.
        PassesError: nobody who comes down upright, no known ground around the touchdowns, none of
            it free for earth.
        Cancelled: stopped by the progress function.
    """


@final
class EntranceCheck:
    """What an entrance asks of bike and rider, and what it is built of.

    Made by `check_entrance(...)`. Stations are m along the entrance's curve.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def clearance(self) -> float:
        """Least distance of the chainring from the ground, m; below 0 it hits."""
    @property
    def level_clearance(self) -> float:
        """The chainring's distance from level ground, m."""
    @property
    def clearance_station(self) -> float:
        """Station of the rear wheel where the chainring comes nearest, m."""
    @property
    def wheel_room(self) -> float:
        """How much wider the hollow's radius is than the wheels', m."""
    @property
    def speed(self) -> float:
        """Speed on the trail before it, m/s."""
    @property
    def deck_speed(self) -> float | None:
        """Speed on the deck, m/s; None where the rider does not come there on his tyres."""
    @property
    def loads(self) -> tuple[float, float] | None:
        """Least and highest normal load on the way, g's; None where it could not be ridden."""
    @property
    def volume(self) -> float:
        """Earth in place with the side batters, m^3."""
    @property
    def back_height(self) -> float:
        """Height of the deck's start over the ground, m: what stands upright at the back."""
    @property
    def start_gap(self) -> float:
        """Height of the entrance's start over the ground, m."""
    @property
    def crib_width(self) -> float | None:
        """Width of the crib at its back front to back, m; None where the back is no higher than a log."""
    @property
    def crib_sliding(self) -> _Span | None:
        """Safety of that crib against sliding (value, low, high), an indication; None without one."""
    @property
    def crib_overturning(self) -> _Span | None:
        """Safety of that crib against overturning (value, low, high), an indication; None without one."""
    @property
    def warnings(self) -> list[str]:
        """What is not wrong but unwise, the crib's cautions too."""
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""


def check_entrance(
    entrance: Entrance,
    ground: Ground,
    rider: Rider,
    air: Air,
    speed: float,
    soil: Soil | str = "loam",
    batter_deg: float | None = None,
    chainring: tuple[float, float, float] = (0.335, 0.07, 0.44),
) -> EntranceCheck:
    """What an entrance asks of bike and rider, and what it is built of.

    Does the chainring hit the crest, do the wheels fit into the hollow, what speed does it cost, how
    much earth is in it with its side batters, and does a crib of logs hold its back under the deck?

    Args:
        entrance: the ramp.
        ground: what it stands on.
        rider, air: who rides, through what; no pedalling.
        speed: on the trail before it, m/s, above 0.
        soil: "loam", "sand", "gravel", "clay", or a `Soil`.
        batter_deg: of its sides, 6 to 85 degrees; None takes what the soil stands at when in doubt.
        chainring: height of its middle over level ground, radius with the chain on it, and how far
            it is ahead of the rear axle, m; the default is 32 teeth (common practice).

    Raises:
        InputError: a number outside its range, ground that is not known under it.
        RideError: a hollow tighter than the wheels, a ride that cannot be.

    >>> import loamline as ll
    >>> ramp = ll.Entrance(height=0.8, width=1.5, ramp_grade=0.3, sag_radius=4.0, crest_radius=3.0)
    >>> check = ll.check_entrance(ramp, ll.Ground.plane(), ll.Rider(), ll.Air(), speed=6.0)
    >>> round(check.back_height, 3), check.clearance > 0.15
    (0.8, True)
    """


@final
class Flag:
    """One test ride and what was seen of it: the tyres' mark, times, speeds, each with how sure it is.

    Args:
        start: start mark, level m up the hill from the run-in's end, above 0.
        who: name of the rider's class.
        mark: (x, y) in the site frame, m; or (mark, mark, along, left): by tape from one named mark of
            the site towards another, m along it and m to the left of it; None where it was not measured.
        name: what the flag is called; None takes the start.
        mark_sd: standard deviation of the mark in each level direction, m, above 0. The default is an
            assumption: reading and taping 0.1 m, and rides from one mark that differ by 0.2 m.
        leave: where the rider was seen to leave the edge, m (up a wall's panel, or to the left of the
            middle); None where it was not seen.
        brake: share of the rider's habitual brake that was used, from 0 to 1.
        start_sd: standard deviation of the start mark, m, at least 0: taped 0.05; paced 2 % of the way.
        tyre: what left the mark: "middle" (between both tyres' marks), "rear" or "front".
        timings: list of (from, to, seconds, sd); places are level m up the hill, "edge" or "touch".
        speeds: list of (place, m/s, sd), the tyres' speed before the flight.
        ground: the ground as it was then; None takes the site's.

    Raises:
        InputError: a number outside its range, a timing that runs backwards.

    >>> import loamline as ll
    >>> ll.Flag(start=14.0, who="regulars", mark=(5.2, 1.1), leave=1.2).start
    14.0
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    def __new__(
        cls,
        start: float,
        who: str,
        mark: tuple[float, float] | tuple[str, str, float, float] | None = None,
        *,
        name: str | None = None,
        mark_sd: float = 0.25,
        leave: float | None = None,
        brake: float = 1.0,
        start_sd: float = 0.05,
        tyre: str = "middle",
        timings: Sequence[tuple[float | str, float | str, float, float]] | None = None,
        speeds: Sequence[tuple[float | str, float, float]] | None = None,
        ground: Ground | None = None,
    ) -> Flag:
        ...
    @property
    def name(self) -> str:
        """What the flag is called."""
    @property
    def who(self) -> str:
        """Class of the rider."""
    @property
    def start(self) -> float:
        """Start mark, level m up the hill from the run-in's end."""
    @property
    def leave(self) -> float | None:
        """Where the rider was seen to leave, m; None where it was not seen."""
    @property
    def brake(self) -> float:
        """Share of the habitual brake that was used."""
    @property
    def mark_sd(self) -> float:
        """Standard deviation of the mark in each level direction, m."""
    def seen(self, site: Site, values: Mapping[str, float], lean: str = "balanced") -> dict[str, Any]:
        """What the model has this flag see of its ride by a rider with given values, whatever was measured.

        Args:
            site: the site.
            values: a dict of `crr`, `cda`, `brake`, `pop`, `leave`, `speed`; what is missing is taken as believed.
            lean: "deck", "balanced" or "settled".

        Returns:
            A dict: `numbers` (the mark's x and y where it has one, then timings, then speeds), `answers` (an array,
            (n, 7): the derivatives of each by the six unknowns and by the start), `mark` (x, y, z),
            `fall_height`, `exit_speed`.

        Raises:
            InputError: a number outside its range.
            RideError: a ride that leaves no mark.
        """
    def on(self, ground: Ground) -> Flag:
        """The same flag, ridden onto this ground: as it was then.

        Args:
            ground: the ground.
        """
    def mark(self, site: Site) -> tuple[float, float] | None:
        """The mark's (x, y) on a site, m; None where it was not measured.

        Args:
            site: the site, for its marks to tape from.

        Raises:
            InputError: a mark that the site does not have.
        """


@final
class Found:
    """What flags tell of a rider: unknowns with their spread, leans with their weight, how each flag fits.

    Made by `fit_flags(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    @property
    def who(self) -> str:
        """Class of the rider."""
    @property
    def estimates(self) -> dict[str, Any]:
        """What is known of each unknown: a dict by name of dicts with `median`, `low` and `high` (5 % lie
        below and above), the same of what was believed before (`prior_...`), and `learnt`, from 0 to 1.
        """
    @property
    def leans(self) -> dict[str, Any]:
        """The leans with their weights, the likeliest first: a dict."""
    @property
    def checks(self) -> list[dict[str, Any]]:
        """How each flag fits: a list of dicts with `flag`, `missed` (m along x and y; None without a mark),
        `say` (1 good, near 0 bad), `tail` (share of what the others forecast that lies farther out),
        `is_outside` (of the 90 % region that the others forecast) and `is_bad`.
        """
    @property
    def confused(self) -> list[tuple[str, str, float]]:
        """Unknowns that these flags cannot tell apart: a list of (one, other, correlation), worst first."""
    @property
    def held(self) -> list[str]:
        """Unknowns that were left as believed before, for there were fewer numbers than unknowns."""
    @property
    def warnings(self) -> list[str]:
        """What is to be known about it, in words."""
    @property
    def flags(self) -> list[Flag]:
        """The flags it was fitted to."""
    @property
    def site(self) -> Site:
        """The site."""
    @property
    def ground(self) -> Ground:
        """The ground as it is now."""
    def on(self, ground: Ground) -> Found:
        """The same on the ground as it is now: a new survey, or a landing that was built.

        Args:
            ground: the ground.
        """
    def forecast(
        self,
        start: float,
        leave: float | None = None,
        brake: float = 1.0,
        draws: int = 128,
        seed: int = 1,
        threads: int | None = None,
    ) -> FlagForecast:
        """The forecast of a ride not yet tried, on the ground as it is now.

        Args:
            start: start mark, level m up the hill from the run-in's end, above 0.
            leave: where the rider is to leave, m; None where he leaves as he does at his speed.
            brake: share of the habitual brake, from 0 to 1.
            draws: how many rides a lean, from 16 to 65536.
            seed: of the draws.
            threads: how many; None takes as many as the machine has.

        Raises:
            InputError: a number outside its range.
        """
    def pocket_card(
        self,
        starts: Sequence[float],
        fall_limit: float = 1.0,
        chance: float = 0.05,
        leave: float | None = None,
        threads: int | None = None,
    ) -> PocketCard:
        """The pocket card: from a flag's distance to exit speed, fall height and the next start mark.

        Args:
            starts: start marks, m up the hill, 1 to 40 of them: one row each.
            fall_limit: fall height allowed, m, above 0.
            chance: of a bad end that is allowed, above 0 and at most 0.5.
            leave: where the rides are to leave, m; None where riders leave as they do.
            threads: how many; None takes as many as the machine has.

        Raises:
            InputError: a number outside its range.
        """
    def what_next(
        self,
        starts: Sequence[float],
        target: float,
        leave: float | None = None,
    ) -> list[dict[str, Any]]:
        """What each way of measuring a next ride would tell of where a ride comes down, the best first.

        Args:
            starts: start marks of the rides that might be measured, m up the hill.
            target: start mark of the ride that is to be known, m up the hill.
            leave: where they leave, m; None where riders leave as they do.

        Returns:
            A list of dicts: `start`, `method` ("tape", "stopwatch", "video", "speed_gate"), `gain` (nats:
            the logarithm of how many times smaller the region of the target's marks becomes), `tells`
            (the unknown it tells most of) and `left` (the share of its standard deviation left).

        Raises:
            InputError: a number outside its range.
        """
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def _repr_html_(self) -> str: ...


def fit_flags(
    site: Site,
    flags: Sequence[Flag],
    free: Sequence[str] | None = None,
    lean: str | None = None,
    who: str | None = None,
    bad_share: float = 0.05,
    accuracy: float = 1e-4,
    threads: int | None = None,
) -> Found:
    """What flags tell of the rider who planted them: the likeliest values, their spread, the leans' weights.

    Unknowns: `crr`, `cda`, `brake` (held down the run-in), `pop`, `leave` (how much farther up he leaves
    than told, or than his class does) and `speed` (how much faster he comes to the takeoff than the
    run-in's model has it). A bad flag loses its say and is named.

    Args:
        site: the site.
        flags: list of `Flag`, in the order ridden.
        free: names of the unknowns to be fitted; None takes all.
        lean: "deck", "balanced" or "settled"; None weighs all three.
        who: class whose flags are taken; None where all flags are of one.
        bad_share: how often a flag is bad, from 0 to 0.5.
        accuracy: how close the fit comes to its place, in prior standard deviations.
        threads: how many; None takes as many as the machine has.

    Raises:
        InputError: a flag that cannot be, with its name and what is wrong.
        RideError: a ride that comes down with no lean.

    >>> import loamline as ll
    >>> site = ll.Site.demo()
    >>> flag = ll.Flag(start=18.0, who="regulars", mark=(2.6, 0.6), leave=0.9)
    >>> found = ll.fit_flags(site, [flag], free="speed pop".split())
    >>> len(found.estimates)
    6
    """


@final
class FlagForecast:
    """Where a ride not yet tried comes down, and how hard: drawn from what the flags left open.

    Made by `found.forecast(...)`; rows of its arrays are drawn rides.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    @property
    def start(self) -> float:
        """Start mark, level m up the hill."""
    @property
    def distance(self) -> dict[str, Any] | None:
        """Level distance from the edge to the mark, m: `p5`, `p25`, `median`, `p75`, `p95`; None where no ride
        leaves a mark.
        """
    @property
    def fall_height(self) -> dict[str, Any] | None:
        """Equivalent fall height, m, likewise."""
    @property
    def exit_speed(self) -> dict[str, Any] | None:
        """The tyres' speed at the edge, m/s, likewise."""
    @property
    def share_marked(self) -> float:
        """Share of the drawn rides that leaves a mark."""
    @property
    def weight(self) -> _Array:
        """Weight of each drawn ride; together 1."""
    @property
    def mark(self) -> _Array:
        """Marks, m, (n, 3); NaN for who leaves none."""
    @property
    def lean(self) -> list[str]:
        """How each drawn ride leans."""
    @property
    def outcome(self) -> list[str]:
        """How each comes down, in one word, or "not_leaving"."""
    def risk(self, fall_limit: float = 1.0, by: str = "hardest") -> dict[str, float]:
        """Chances of bad ends by the lean that makes them likeliest: a dict of `total`, `not_leaving`, `short`,
        `long`, `wide`, `off_survey`, `hard`.

        Args:
            fall_limit: fall height above which a touch counts as hard, m.
            by: "hardest" lean, or "weight" of all leans together.

        Raises:
            InputError: another word.
        """
    def density(self, places: ArrayLike, flag: bool = False) -> _Array:
        """How thickly marks lie at places, 1/m^2: an array of n.

        Args:
            places: x and y, m, (n, 2).
            flag: whether the scatter of flags is in it.

        Raises:
            InputError: another shape.
        """
    def levels(self, flag: bool = False) -> tuple[float, float] | None:
        """Densities on the rims of the regions that hold half and nine tenths of all marks; None where fewer
        than half of the rides leave one.

        Args:
            flag: whether the scatter of flags is in it.
        """
    def holds(self, x: float, y: float, flag: bool = False) -> tuple[bool, bool]:
        """Whether a place lies in the region that holds half, and in the one that holds nine tenths of all marks.

        Args:
            x, y: the place, m.
            flag: whether the scatter of flags is in it.
        """
    def to_pandas(self) -> Any:
        """The drawn rides as a `pandas.DataFrame`.

        Raises:
            ImportError: pandas is not installed.
        """
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def _repr_html_(self) -> str: ...


@final
class NextStep:
    """What may be tried next, or why nothing may.

    Made by `next_step(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    @property
    def start(self) -> float | None:
        """Start mark of the next ride, level m up the hill; None where it is refused."""
    @property
    def leave(self) -> float | None:
        """Where it leaves, m; None where the rider leaves as he does, or where it is refused."""
    @property
    def from_start(self) -> float | None:
        """Start mark of the farthest ride that a good flag stands for; None before the first."""
    @property
    def forecast(self) -> FlagForecast | None:
        """Its forecast; None where it is refused."""
    @property
    def risk(self) -> dict[str, Any] | None:
        """Chances of bad ends by the lean that makes them likeliest: a dict; None where it is refused."""
    @property
    def limit(self) -> str | None:
        """What ended the step there, in words; None where it is refused."""
    @property
    def refusal(self) -> str | None:
        """Why there is no (first) step, in words; None where there is one."""
    @property
    def then(self) -> dict[str, Any] | None:
        """What landing the step after that (or the refused one) would need: a dict of `start`, `brake`,
        `chance_now`, `landing`, `volume` (m^3), `barrows`, `chance_built`, `is_enough`; or None.
        """
    caution: ClassVar[str]
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def _repr_html_(self) -> str: ...


@final
class Ladder:
    """The whole ladder, rung by rung, to the ride without a brake.

    Made by `ladder(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    @property
    def rungs(self) -> list[dict[str, Any]]:
        """Its rungs, from the slowest on: a list of dicts with `start`, `brake` (share of the habitual one),
        `exit_speed`, `fall_height`, `distance`, `chance` (of a bad end now), `barrows`, `volume`, `landing`,
        `chance_built`, `is_enough` and `limit`.
        """
    @property
    def goal(self) -> float:
        """Start mark of the ride without a brake that it leads to, m."""
    @property
    def is_whole(self) -> bool:
        """Whether it gets there."""
    @property
    def barrows(self) -> float:
        """The most barrows that any one rung needs."""
    @property
    def refusal(self) -> str | None:
        """Why there is no (first) step, in words; None where there is one."""
    def explain(self) -> str:
        """The model behind the numbers, what went in, its sources and its limits, in paragraphs."""
    def _repr_html_(self) -> str: ...


@final
class PocketCard:
    """From a flag's distance to exit speed, fall height and the next start mark: one row a start.

    Made by `found.pocket_card(...)`.
    """
    __hash__: ClassVar[None]  # type: ignore[assignment]
    def __eq__(self, other: object, /) -> bool: ...
    def __reduce__(self) -> Any: ...
    def _repr_html_(self) -> str: ...
    @property
    def rows(self) -> list[dict[str, Any]]:
        """Its rows, from the lowest start on: a list of dicts with `start`, `distance` (level, from the edge, m),
        `nearest` and `farthest` (a flag outside is a surprise), `exit_speed`, `speed_per_metre`,
        `fall_height`, `next_start` (None where no step is allowed) and `why`.
        """
    @property
    def who(self) -> str:
        """Class of the rider."""


def next_step(
    found: Found,
    fall_limit: float = 1.0,
    chance: float = 0.05,
    leave: float | None = None,
    planned: Landing | None = None,
    draws: int = 128,
    seed: int = 1,
    threads: int | None = None,
) -> NextStep:
    """What may be tried next, from what the flags say and the ground as it is now.

    The farthest start mark up the hill for which, by the lean that makes it hardest, the chance of a bad end
    (not over the edge; short, long, wide, off the survey; harder than the limit) stays under `chance`. No
    step raises the median fall height by more than 0.25 m or the median exit speed by more than 10 %; the
    first is the slowest ride that holds with a quarter of the grip to spare. There is none while the last
    flag lies outside its 90 % region, or where planned ground in between is not built.

    Args:
        found: what the flags tell; `found.on(ground)` for the ground as it is now.
        fall_limit: fall height allowed, m, above 0.
        chance: of a bad end, at least 0.001 and at most 0.5.
        leave: where the next ride is to leave, m; None where the rider leaves as he does.
        planned: the landing that is being built; what of it is missing bars the way.
        draws: how many rides a lean, from 16 to 65536.
        seed: of the draws.
        threads: how many; None takes as many as the machine has.

    Raises:
        InputError: a number outside its range.
    """


def ladder(
    found: Found,
    fall_limit: float = 1.0,
    chance: float = 0.05,
    goal: float | None = None,
    leave: float | None = None,
    planned: Landing | None = None,
    draws: int = 128,
    seed: int = 1,
    threads: int | None = None,
) -> Ladder:
    """The whole ladder from the farthest good flag to the ride without a brake, with the barrows beside each step.

    Args:
        found: what the flags tell; `found.on(ground)` for the ground as it is now.
        fall_limit: fall height allowed, m, above 0.
        chance: of a bad end, at least 0.001 and at most 0.5.
        goal: start mark of the ride without a brake, m up the hill; None takes the class's middle one.
        leave: where the rides are to leave, m; None where the rider leaves as he does.
        planned: a landing towards which barrows are counted; None draws one for each rung.
        draws: how many rides a lean, from 16 to 65536.
        seed: of the draws.
        threads: how many; None takes as many as the machine has.

    Raises:
        InputError: a number outside its range.
    """


def write_obj(path: _Path, ground: Ground) -> None:
    """Write the earth of the landing on a ground as Wavefront OBJ, m, z up.

    Args:
        path: the file; written whole or not at all.
        ground: a ground with a landing.

    Raises:
        FileError: no landing on the ground, or a file that cannot be written.
    """
def write_ply(path: _Path, ground: Ground) -> None:
    """Write the earth of the landing on a ground as ASCII PLY, m, z up.

    Args:
        path: the file; written whole or not at all.
        ground: a ground with a landing.

    Raises:
        FileError: no landing on the ground, or a file that cannot be written.
    """
def site_schema() -> str:
    """The JSON Schema of a site file, as text."""

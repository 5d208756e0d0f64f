"""The reference of the Python face, a page a group; a name that stands in no group comes onto the last page."""

import inspect
from pathlib import Path

import loamline as ll
from sphinx.application import Sphinx

# Title, lead, and names in the order in which they are shown.
GROUPS = {
    "riders": (
        "Riders and air",
        "Who rides, on what, through what.",
        "Rider Absorber Air RiderClass",
    ),
    "takeoffs": (
        "Takeoffs and lines",
        "What is ridden, and the line that the tyres follow on it.",
        "Profile Wall Lip Drop Entrance Line HoldSpeeds check_entrance EntranceCheck",
    ),
    "rides": (
        "Rides and launches",
        "Motion along a line, and leaving its end.",
        "Ride Launch",
    ),
    "flights": (
        "Ground, flights and touchdowns",
        "What is flown onto, the way there, and the moment of landing.",
        "Ground Flight RigidFlight Touchdown flights Flights flight_paths rigid_flights RigidFlights",
    ),
    "loads": (
        "Loads",
        "What bike and body take in a landing.",
        "Loads loads BatchLoads",
    ),
    "two-wheels": (
        "Two wheels",
        "The whole act in the plane of travel.",
        "Terrain TwoWheelRide",
    ),
    "sites": (
        "Sites and passes",
        "A place with its riders, and everyone who comes.",
        "Site Passes passes BatchPasses site_schema",
    ),
    "landings": (
        "Landings",
        "Which landing to build, and what more earth would give.",
        (
            "Landing BuiltLanding fit_landing Fit tradeoff Tradeoff barrow_map BarrowMap next_barrows "
            "free_landing FreeLanding even_landing EvenLanding even_surface EvenSurface run_out RunOut"
        ),
    ),
    "earth": (
        "Earth",
        "Volumes, soils, loads, hours, backs that hold earth, and water.",
        (
            "earthwork Earthwork Soil Borrow Balance retaining Retaining ponding Ponding Pond base_course "
            "membrane"
        ),
    ),
    "flags": (
        "Flags",
        "What the marks of test rides tell, and what may be tried next.",
        (
            "Flag load_flags save_flags track_speeds fit_flags Found FlagForecast next_step NextStep ladder "
            "Ladder PocketCard Journal"
        ),
    ),
    "errors": (
        "Errors",
        "One tree: `except ll.LoamlineError` catches all that the package raises by itself.",
        "LoamlineError InputError FileError RideError FlightError PassesError FitError Cancelled",
    ),
}
_HEAD = "{title}\n{rule}\n\n{lead}\n\n.. currentmodule:: loamline\n\n"


def pages() -> dict[str, str]:
    """Returns the pages' texts by their names; the last takes what stands in no group."""
    grouped = {name for *_, names in GROUPS.values() for name in names.split()}
    rest = [name for name in ll.__all__ if name not in grouped and name != "__version__"]
    more = ("Files and the rest", "Exports for other programs, and whatever has no page of its own.", " ".join(rest))
    return {page: _page(*group) for page, group in {**GROUPS, "more": more}.items()}


def _page(title: str, lead: str, names: str) -> str:
    head = _HEAD.format(title=title, rule="=" * len(title), lead=lead.replace("`", "``"))
    return head + "\n".join(_entry(name) for name in names.split() if hasattr(ll, name))


def _entry(name: str) -> str:
    kind = "class" if inspect.isclass(getattr(ll, name)) else "function"
    if inspect.isclass(getattr(ll, name)) and issubclass(getattr(ll, name), Exception):
        return f".. autoexception:: {name}\n   :show-inheritance:\n   :no-members:\n"
    return f".. auto{kind}:: {name}\n"


def _write(app: Sphinx) -> None:
    folder = Path(app.srcdir) / "reference" / "python"
    folder.mkdir(parents=True, exist_ok=True)
    for page, text in pages().items():
        file = folder / f"{page}.rst"
        # Written only where it changed, so that a second build has little to do.
        if not file.exists() or file.read_text("utf-8") != text:
            file.write_text(text, "utf-8")


def setup(app: Sphinx) -> dict[str, bool]:
    """Writes the pages before they are read."""
    app.connect("builder-inited", _write)
    return {"parallel_read_safe": True}

"""Cards that notebooks show: the numbers with their units, what to beware of, and a caution."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

CAUTION = (
    "Numbers guide a first build and the next test; they certify nothing. Start slow, wear "
    "protection, never test alone; local codes, the land manager and a licensed engineer decide."
)
STYLE = "border:1px solid #bbb;border-radius:4px;padding:.6em .9em;max-width:34em"

# For each class: label, attribute, unit, digits.
Row = tuple[str, str, str, int]
ROWS: dict[str, tuple[Row, ...]] = {
    "Ride": (
        ("outcome", "reason", "", 0),
        ("exit speed", "exit_speed", "m/s", 2),
        ("highest grip demand", "peak_grip_demand", "", 2),
    ),
    "TwoWheelRide": (
        ("outcome", "reason", "", 0),
        ("time in the air", "airtime", "s", 2),
        ("first wheel down", "first_down", "", 0),
        ("before the other", "first_by", "s", 3),
    ),
    "Flight": (("time", "time", "s", 3), ("lean at the launch", "lean_deg", "degrees", 1)),
    "RigidFlight": (("time", "time", "s", 3), ("wheels' spin momentum", "wheel_spin", "kg m²/s", 2)),
    "Touchdown": (
        ("outcome", "outcome", "", 0),
        ("fall height", "fall_height", "m", 2),
        ("distance", "distance", "m", 2),
        ("drop", "drop", "m", 2),
        ("speed into the surface", "normal_speed", "m/s", 2),
        ("angle to the surface", "angle_deg", "degrees", 1),
        ("time of flight", "time", "s", 3),
    ),
    "Loads": (
        ("fall height", "fall_height", "m", 2),
        ("peak on the body", "peak_bodyweights", "body weights", 2),
        ("peak on the body", "peak_force", "N", 0),
        ("after", "peak_time", "s", 3),
        ("way used", "travel_used", "m", 3),
        ("came to its stop", "bottomed", "", 0),
        ("least peak by leg stroke in m (data on bikes are few)", "band", "body weights", 1),
        ("impulse", "impulse", "N s", 0),
    ),
    "Landing": (
        ("slope", "slope_deg", "degrees", 1),
        ("heading", "heading_deg", "degrees", 1),
        ("length", "length", "m", 2),
        ("width", "width", "m", 2),
        ("crest height", "crest_height", "m", 2),
        ("batter", "batter_deg", "degrees", 1),
    ),
    "Site": (
        ("soil", "soil", "", 0),
        ("barrows", "barrow_count", "", 0),
        ("fall limit", "fall_limit", "m", 2),
        ("note", "note", "", 0),
    ),
    "Passes": (("share that leaves the edge", "leaving", "", 3), ("seed", "seed", "", 0)),
    "Fit": (
        ("caught softly", "caught", "", 3),
        ("95th percentile of fall height", "p95_fall_height", "m", 2),
        ("earth placed", "volume", "m³", 2),
        ("share that leaves the edge", "leaving", "", 3),
    ),
    "EvenLanding": (
        ("fall height of every landing", "fall_height", "m", 2),
        ("launch angle", "launch_angle_deg", "degrees", 1),
        ("reach, near and far", "reach", "m", 2),
        ("launch speeds, slowest and fastest", "launch_speeds", "m/s", 2),
        ("stopped by", "stopped_by", "", 0),
    ),
    "EntranceCheck": (
        ("least room under the chainring", "clearance", "m", 3),
        ("on the level", "level_clearance", "m", 3),
        ("speed on the trail", "speed", "m/s", 2),
        ("speed on the deck", "deck_speed", "m/s", 2),
        ("earth with its sides", "volume", "m³", 2),
        ("height at its back", "back_height", "m", 2),
        ("width of a crib there", "crib_width", "m", 2),
    ),
    "Found": (
        ("rider's class", "who", "", 0),
        ("leans by weight", "leans", "", 2),
        ("unknowns left as believed", "held", "", 0),
    ),
    "FlagForecast": (
        ("start mark", "start", "m", 2),
        ("distance to the mark", "distance", "m", 2),
        ("fall height", "fall_height", "m", 2),
        ("exit speed", "exit_speed", "m/s", 2),
        ("share that leaves a mark", "share_marked", "", 3),
    ),
    "NextStep": (
        ("next start mark", "start", "m", 2),
        ("chances of bad ends", "risk", "", 3),
        ("what ended it there", "limit", "", 0),
        ("why there is none", "refusal", "", 0),
    ),
    "Ladder": (
        ("start without a brake", "goal", "m", 2),
        ("gets there", "is_whole", "", 0),
        ("most barrows of a rung", "barrows", "", 0),
        ("barred by", "refusal", "", 0),
    ),
    "FreeLanding": (
        ("severity before", "severity_before", "", 3),
        ("severity with the earth", "severity", "", 3),
        ("earth placed", "volume", "m³", 2),
        ("led by this share of touchdowns", "share_told", "", 3),
        ("stopped by", "stopped_by", "", 0),
    ),
    "RunOut": (
        ("speed kept over the surface", "speed_kept", "m/s", 2),
        ("highest load after the touch", "peak_load", "g", 2),
        ("stops after", "stop_station", "m", 1),
        ("room to the obstacle", "room", "m", 1),
        ("drift to the left", "drift", "m", 2),
    ),
    "Earthwork": (
        ("fill", "fill", "m³", 2),
        ("cut", "cut", "m³", 2),
        ("to carry, loose", "loose", "m³", 2),
        ("barrows", "barrows", "", 0),
        ("mass", "mass", "kg", 0),
        ("lifts", "lifts", "", 0),
        ("deepest fill", "deepest_fill", "m", 2),
    ),
    "Retaining": (
        ("level thrust", "thrust", "N/m", 0),
        ("acts above the foot", "thrust_height", "m", 2),
        ("weight", "weight", "N/m", 0),
        ("pressure under the toe", "toe_pressure", "Pa", 0),
        ("the ground bears", "allowed_pressure", "Pa", 0),
    ),
    "Ponding": (("water that stands", "volume", "m³", 3), ("deepest pond", "depth", "m", 2)),
}


def html(thing: Any) -> str:
    """Return the card of a result as HTML."""
    kind = type(thing).__name__
    rows = "".join(_row(label, _cell(thing, name, unit, digits)) for label, name, unit, digits in ROWS[kind])
    parts = [
        f"<div style='{STYLE}'><b>{escape(_title(thing, kind))}</b><table>{rows}</table>",
        _list(getattr(thing, "warnings", ())),
        _details(getattr(thing, "explain", None)),
        f"<small>{escape(CAUTION)}</small></div>",
    ]
    return "".join(parts)


def _title(thing: Any, kind: str) -> str:
    name = getattr(thing, "name", "")
    return f"{kind}: {name}" if name else kind


def _row(label: str, value: str) -> str:
    return f"<tr><td>{escape(label)}</td><td>{escape(value)}</td></tr>"


def _cell(thing: Any, name: str, unit: str, digits: int) -> str:
    value = getattr(thing, name)
    if value is None:
        return "none"
    if isinstance(value, dict):
        text = ", ".join(f"{key}: {_text(part, digits)}" for key, part in value.items())
    else:
        text = _text(value, digits)
    return f"{text} {unit}".rstrip()


def _text(value: Any, digits: int) -> str:
    if isinstance(value, tuple):
        return " to ".join(_text(part, digits) for part in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:.{digits}f}" if isinstance(value, float) else str(value)


def _list(warnings: Iterable[str]) -> str:
    items = "".join(f"<li>{escape(warning)}</li>" for warning in warnings)
    return f"<ul style='color:#a40'>{items}</ul>" if items else ""


def _details(explain: Callable[[], str] | None) -> str:
    if explain is None:
        return ""
    said = f'<div style="white-space: pre-line">{escape(explain())}</div>'
    return f"<details><summary>model and limits</summary>{said}</details>"

"""The whole interview: what is asked when, each reading checked by the core as it comes."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

import loamline as ll

from . import questions as q
from .reading import read_profile, read_survey
from .readings import Unread

if TYPE_CHECKING:
    from .asking import Asker
    from .readings import Question


@dataclass(frozen=True)
class Class:
    """A class of riders: its share of all, and low, usual and high of what spreads."""

    name: str
    weight: float
    start: tuple[float, float, float]
    leave: tuple[float, float, float]
    mass: tuple[float, float, float]


@dataclass(frozen=True)
class Answers:
    """All that was read, in metres, degrees and kilograms; places from the origin."""

    name: str
    elevation: float
    kind: str
    takeoff: dict[str, Any]
    enter: float
    profile: list[tuple[float, float]]
    survey: list[tuple[float, float, float]]
    classes: list[Class]
    soil: str
    barrows: int
    litres: float
    limit: float
    clearance: float
    pegs: list[tuple[str, float, float, float]]
    stones: list[tuple[str, float, float, float]]


def interview(ask: Asker) -> Answers:
    """Asks for everything; returns the answers.

    Raises:
        InputError: from a pipe, an answer that cannot be, or answers that end too early.
    """
    ask.say("One reading at a time. ? says how to measure, back goes back one, Ctrl-C stops: nothing is written.")
    name, elevation, kind = ask(q.NAME), ask(q.ELEVATION), ask(q.KIND)
    ask.heading(f"The {kind}")
    takeoff, enter = {"wall": _wall, "lip": _lip, "drop": _drop}[kind](ask)
    ask.heading("The run-in")
    profile = _profile(ask)
    ask.heading(f"The ground. Origin: {q.ORIGINS[kind]}; ahead is the way the edge is left")
    survey = _survey(ask, _begins(kind, takeoff))
    ask.heading("Who rides here")
    classes = _classes(ask, kind, takeoff, profile)
    ask.heading("Earth, and what a landing may be")
    soil, barrows, litres = ask(q.SOIL), ask(q.BARROWS), ask(q.LITRES)
    limit, clearance = ask(q.LIMIT), ask(q.CLEARANCE)
    pegs = _named(ask.many(q.PEG, 0, _unlike))
    stones = _named(ask.many(q.STONE, 0, _unlike))
    return Answers(
        name, elevation, kind, takeoff, enter, profile, survey, classes, soil, barrows, litres, limit, clearance,
        pegs, stones,
    )


def _wall(ask: Asker) -> tuple[dict[str, Any], float]:
    """Returns a wall whose end's foot is the origin and whose foot there heads along x."""
    turn, radius = ask(q.TURN), ask(q.RADIUS)
    if radius == "chord":
        chord = ask(q.CHORD)
        gap = ask(q.GAP, lambda value: _at_most(value, chord / 2.0, "half the tape"))
        # The radius of a bow by its chord and its height (Euclid III.35).
        radius = chord**2 / (8.0 * gap) + gap / 2.0
    foot = ask(q.FOOT, lambda value: _at_most(value, 2.0 * math.pi * radius, "once around"))
    banks = ask(q.BANK_START), ask(q.BANK_END)
    width = ask(q.PANEL)
    sweep = foot / radius
    side = 1.0 if turn == "left" else -1.0

    def wall(rise: float) -> dict[str, Any]:
        back = [-radius * math.sin(sweep), side * radius * (1.0 - math.cos(sweep)), -rise]
        made = {
            "turn": turn, "radius": radius, "sweep_deg": math.degrees(sweep), "bank_deg": banks, "width": width,
            "grade": rise / foot, "position": tuple(back), "heading_deg": -side * math.degrees(sweep),
        }
        ll.Wall(**made)
        return made

    rise = ask(q.RISE, wall)
    enter = ask(q.ENTER, lambda value: _at_most(value, width, "the panel's width"))
    return wall(rise), enter


def _lip(ask: Asker) -> tuple[dict[str, Any], float]:
    """Returns a lip whose edge's middle is the origin."""
    height, angle = ask(q.LIP_HEIGHT), ask(q.LIP_ANGLE)
    width = ask(q.WIDTH, lambda value: ll.Lip(height=height, end_angle_deg=angle, width=value))
    reach = float(ll.Lip(height=height, end_angle_deg=angle, width=width).edge()[0])
    place = (-reach, 0.0, -height)
    return {"height": height, "end_angle_deg": angle, "width": width, "position": place, "heading_deg": 0.0}, 0.0


def _drop(ask: Asker) -> tuple[dict[str, Any], float]:
    """Returns a drop whose edge's middle is the origin."""
    length = ask(q.DROP_LENGTH)
    rise = ask(q.DROP_RISE, lambda value: _at_most(abs(value), 0.5 * length, "half the deck's length"))
    width = ask(q.WIDTH)
    grade = rise / math.sqrt(length**2 - rise**2)
    made = {"length": length, "width": width, "grade": grade, "heading_deg": 0.0}
    edge = ll.Drop(**made).edge()
    return {**made, "position": tuple(float(-v) for v in edge)}, 0.0


def _at_most(value: float, most: float, what: str) -> None:
    if value > most:
        raise Unread(f"{value:g} m is more than {what}, {most:.2f} m")


def _profile(ask: Asker) -> list[tuple[float, float]]:
    """Returns the run-in from its top down to the takeoff: level distance and height over the takeoff's start."""
    file = ask(q.PROFILE_FILE, _profile_file)
    first = _first_point(q.PROFILE, file)
    if file and not first:
        distance, height = read_profile(file)
        return [(float(d), float(h)) for d, h in zip(distance, height - height[-1])]
    rows = [(0.0, 0.0), *ask.many(q.PROFILE, 2, _rises, begun=first)]
    top = rows[-1][0]
    return [(top - up, height) for up, height in reversed(rows)]


def _rises(rows: list[Any]) -> None:
    ups = [0.0, *(up for up, _ in rows)]
    for before, after in zip(ups, ups[1:]):
        if after == 0.0:
            raise Unread("the takeoff's start, 0 and 0, is there already: the next point up the hill is wanted")
        if after <= before:
            raise Unread(f"the points go up the hill: {after:g} m comes after {before:g} m")
    ll.Profile(ups, [0.0, *(height for _, height in rows)])


def _begins(kind: str, takeoff: dict[str, Any]) -> tuple[float, float]:
    """Returns about where in plan flights begin: below a centre of mass that stands square on the edge."""
    height = ll.Rider().com_height
    if kind == "wall":
        bank = math.radians(takeoff["bank_deg"][1])
        middle = 0.5 * takeoff["width"] * math.cos(bank) - height * math.sin(bank)
        return 0.0, -middle if takeoff["turn"] == "left" else middle
    return -height * math.sin(math.radians(takeoff.get("end_angle_deg", 0.0))), 0.0


def _survey(ask: Asker, begins: tuple[float, float]) -> list[tuple[float, float, float]]:
    def surveyed(name: str) -> None:
        if name and not _first_point(q.SURVEY, name):
            _ground(read_survey(name), begins)

    file = ask(q.SURVEY_FILE, surveyed)
    first = _first_point(q.SURVEY, file)
    if file and not first:
        return [(float(x), float(y), float(z)) for x, y, z in read_survey(file)]
    rows = ask.many(q.SURVEY, 4, whole=lambda rows: _ground(np.array(rows), begins), begun=first)
    return [tuple(row) for row in rows]


def _profile_file(name: str) -> None:
    first = _first_point(q.PROFILE, name)
    if first:
        _rises(first)
    elif name:
        read_profile(name)


def _first_point(question: Question, answer: str) -> list[Any]:
    """Returns the first point, of whoever begins with it where a file is asked for; nothing of a name."""
    return [question.read(answer)] if re.fullmatch(r"[-+\d.,;\s]+(m|cm)?", answer) else []


def _ground(points: Any, begins: tuple[float, float]) -> None:
    """Refuses ground that says nothing of where flights begin, or of where riders come down."""
    ground = ll.Ground.survey(points)
    if not any(ground.contains(ahead, 0.0) for ahead in (2.0, 3.0, 4.0)):
        raise Unread("the points do not lie around the ground 2 to 4 m straight ahead of the edge")
    if not ground.contains(*begins):
        ahead, left = begins
        raise Unread(
            f"no points lie around the place where flights begin (ahead {ahead:.1f}, left {left:.1f}): take some behind "
            "and beside the edge too, 2 m away and more"
        )


def _classes(ask: Asker, kind: str, takeoff: dict[str, Any], profile: list[tuple[float, float]]) -> list[Class]:
    hill = profile[-1][0] - profile[0][0]
    width = takeoff["width"]
    classes: list[Class] = []
    left = 100.0
    while left > 1e-6:
        ask.say(f"  {left:g} of 100 riders are left to tell of")
        name, share = ask(q.CLASS, partial(_share, left, classes))
        start = ask(q.STARTS, lambda value: _in_order(value, 0.0, hill, "the run-in"))
        if kind == "wall":
            leave = ask(q.LEAVES, lambda value: _in_order(value, 0.0, width, "the panel"))
        else:
            leave = ask(q.ACROSS, lambda value: _in_order(value, -width / 2.0, width / 2.0, "the edge"))
        mass = ask(q.MASS, lambda value: _in_order(value, 20.0, 250.0, "what can be"))
        classes.append(Class(name, share / 100.0, start, leave, mass))
        left = round(left - share, 9)
    return classes


def _share(left: float, told: list[Class], answer: Any) -> None:
    name, share = answer
    if share > left + 1e-9:
        raise Unread(f"only {left:g} of 100 riders are left")
    if name in (one.name for one in told):
        raise Unread(f"there is a class called {name} already")


def _in_order(values: Any, low: float, high: float, what: str) -> None:
    least, usual, most = values
    if not low - 1e-9 <= least <= usual <= most <= high + 1e-9:
        raise Unread(f"three readings in order, within {what}: from {low:g} to {high:g}")
    if least == most:
        raise Unread("nobody does the same each time: the first must be less than the last")


def _unlike(rows: list[Any]) -> None:
    names = [row[0] for row in rows]
    if len(set(names)) < len(names):
        raise Unread("two of them have one name")


def _named(rows: list[Any]) -> list[tuple[str, float, float, float]]:
    return [tuple(row) for row in rows]

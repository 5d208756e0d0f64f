"""What is asked of a site, in the trade's words: the same for the command, the sheet to fill in and its help."""

from __future__ import annotations

from .readings import Question, amount, angle, length, one_of, row, whole, within, word

KINDS = ("wall", "lip", "drop")
# The pound is exactly so many kilograms (international yard and pound agreement, 1959).
_mass = amount(kg=1.0, lbs=0.45359237, lb=0.45359237)
_litres = amount(litres=1.0, liters=1.0, l=1.0)
_of_100 = amount(**{"%": 1.0})

NAME = Question("name", "name of the site", "What you call it; it stands on every page.", word)
ELEVATION = Question(
    "elevation", "height above the sea", "To 100 m is enough: it sets the air's density.",
    within(length, -400.0, 5000.0), "m", "0",
)
KIND = Question(
    "kind", "takeoff: wall, lip or drop",
    "A wall is a banked panel ridden along; a lip rises to its edge; a drop does not.",
    one_of(*KINDS),
)

TURN = Question("turn", "the wall turns left or right", "As the rider sees it.", one_of("left", "right"))
RADIUS = Question(
    "radius", "radius of the wall's foot seen from above, or: chord",
    "Answer chord to have it from a straight tape: its length between two places on the foot, and the widest gap "
    "between tape and foot.",
    lambda text: "chord" if text.strip().lower() == "chord" else within(length, 1.0, 200.0)(text), "m",
)
CHORD = Question(
    "chord", "straight tape between two places on the foot", "As long as it goes: both ends on the foot's line.",
    within(length, 0.5, 100.0), "m",
)
GAP = Question(
    "gap", "widest gap between that tape and the foot", "Square to the tape, in its middle.",
    within(length, 0.005, 50.0), "m",
)
FOOT = Question(
    "foot", "length along the foot, start to end", "Lay the tape along the foot, around the bend.",
    within(length, 0.5, 60.0), "m",
)
BANK_START = Question(
    "bank_start", "bank at the start", "Inclinometer on the panel, across the line of travel; 0 is level.",
    within(angle, 0.0, 90.0, "degrees"), "degrees",
)
BANK_END = Question("bank_end", "bank at the end", "The same at the edge that is left.",
                    within(angle, 0.0, 90.0, "degrees"), "degrees")
PANEL = Question("panel", "width of the panel, from its foot up", "Along the boards.", within(length, 0.3, 8.0), "m")
RISE = Question(
    "rise", "foot's end higher than its start by", "Hand level along the foot; a minus where the end is lower.",
    within(length, -20.0, 20.0), "m", "0",
)
ENTER = Question("enter", "tyres come onto the wall this far up the panel", "From its foot, along the boards.",
                 within(length, 0.0, 8.0), "m", "0.3")

LIP_HEIGHT = Question("height", "height of the lip's edge over its start", "By level or string line.",
                      within(length, 0.05, 8.0), "m")
LIP_ANGLE = Question(
    "end_angle", "angle at the edge", "Inclinometer on the last hand's breadth; 0 is level.",
    within(angle, 1.0, 85.0, "degrees"), "degrees",
)
DROP_LENGTH = Question("length", "length of the deck before the edge", "Along its middle.",
                       within(length, 0.3, 40.0), "m")
DROP_RISE = Question("rise", "the edge higher than the deck's start by", "A minus where it is lower.",
                     within(length, -10.0, 10.0), "m", "0")
WIDTH = Question("width", "width of the takeoff", "Across the travel.", within(length, 0.3, 12.0), "m")

PROFILE_FILE = Question(
    "profile_file", "file of the run-in (CSV, GPX), or its first point (empty: point by point)", "A profile that runs down to the takeoff.",
    word, "", "",
)
SURVEY_FILE = Question(
    "survey_file", "file of the survey (CSV), or its first point (empty: point by point)",
    "Columns x, y, z from the origin: ahead, left and up, in metres. `loamline survey` makes one of a map's file.",
    word, "", "",
)
PROFILE = Question(
    "profile", "run-in point: level metres up the hill, height over the takeoff's start",
    "Start at the takeoff and go up: tape held level for the one, hand level for the other.",
    row(within(length, 0.0, 500.0), within(length, -50.0, 200.0)), "m",
)
SURVEY = Question(
    "survey", "ground point: ahead, left, up",
    "From the origin: ahead the way the edge is left (a minus behind it), to the left of that, and up (a minus below). "
    "Take the corners and every break of slope, from 2 m behind the edge to beyond where riders may come down.",
    row(within(length, -200.0, 200.0), within(length, -200.0, 200.0), within(length, -100.0, 100.0)), "m",
)

CLASS = Question(
    "class", "class of riders: name, and how many of 100", "First-timers, regulars: whoever comes down alike.",
    row(word, within(_of_100, 1e-3, 100.0, "of 100")),
)
STARTS = Question(
    "starts", "their start marks: nearest, usual, farthest", "Level metres up the hill from the takeoff.",
    row(*[within(length, 0.1, 500.0)] * 3), "m",
)
LEAVES = Question(
    "leaves", "they leave the edge: lowest, usual, highest up the panel", "From the foot, along the boards. Ask them.",
    row(*[within(length, 0.0, 8.0)] * 3), "m",
)
ACROSS = Question(
    "across", "they leave the edge to the left of its middle: least, usual, most", "A minus is to the right.",
    row(*[within(length, -6.0, 6.0)] * 3), "m", "-0.1, 0, 0.1",
)
MASS = Question(
    "mass", "rider and bike together: lightest, usual, heaviest", "Bathroom scales; clothes and pads on.",
    row(*[within(_mass, 20.0, 250.0, "kg")] * 3), "kg", "60, 88, 118",
)

SOIL = Question(
    "soil", "soil at hand: loam, sand, gravel or clay",
    "Squeeze it damp: sand falls apart, loam holds a ball that breaks, clay rolls into a worm.",
    one_of("loam", "sand", "gravel", "clay"), "", "loam",
)
BARROWS = Question("barrows", "barrows of earth at hand", "Heaped ones.", within(whole, 1, 100000, ""))
LITRES = Question(
    "litres", "a heaped barrow holds", "Fill it by the bucket once, and count.",
    within(_litres, 10.0, 1000.0, "litres"), "litres", "80",
)
LIMIT = Question(
    "limit", "highest fall height that counts as soft",
    "The drop onto level ground that comes down as hard. 1 m is a firm landing (common practice); a person can be hurt "
    "below it.",
    within(length, 0.1, 1.5), "m", "1.0",
)
CLEARANCE = Question("clearance", "the landing keeps this far from the edge", "Level, for a rider who comes up short.",
                     within(length, 0.0, 20.0), "m", "1.5")
PEG = Question(
    "peg", "mark to tape from: name, ahead, left, up", "A peg, a nail, a painted stone that stays; two or more.",
    row(word, *[within(length, -200.0, 200.0)] * 3), "m",
)
STONE = Question(
    "stone", "obstacle that stays: name, ahead, left, radius", "A rock, a trunk, a post.",
    row(word, within(length, -200.0, 200.0), within(length, -200.0, 200.0), within(length, 0.01, 50.0)), "m",
)

# Section, where to stand, and what is read there; lists have as many blank rows on the sheet.
WALL = (TURN, RADIUS, CHORD, GAP, FOOT, BANK_START, BANK_END, PANEL, RISE, ENTER)
LIP = (LIP_HEIGHT, LIP_ANGLE, WIDTH)
DROP = (DROP_LENGTH, DROP_RISE, WIDTH)
ORIGINS = {
    "wall": "the foot of the panel at its end",
    "lip": "the middle of the lip's edge",
    "drop": "the middle of the deck's edge",
}

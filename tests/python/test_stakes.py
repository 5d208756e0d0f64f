"""Pegs and tapes on ground simple enough to reckon by hand."""

from __future__ import annotations

import math
from types import SimpleNamespace

import numpy as np
import pytest
from loamline.stakes import stake_out

LANDING = SimpleNamespace(crest=(10.0, 0.0), heading_deg=0.0, length=4.0, width=2.0)


class Level:
    """Level ground at nothing, with a wedge on it: 1 m at the crest, batters 45 degrees."""

    def __init__(self, landing=None):
        self.landing = landing

    def height(self, x, y):
        x, y = np.asarray(x, dtype=float), np.asarray(y, dtype=float)
        if self.landing is None:
            return np.zeros_like(x)
        along = np.clip(x - 10.0, 0.0, 4.0)
        out = np.hypot(x - 10.0 - along, y - np.clip(y, -1.0, 1.0))
        return np.maximum(0.0, 1.0 - along / 4.0 - out)


class Wall:
    """A wall that starts at the origin and whose edge's foot is 8 m on."""

    def mesh(self, along, up):
        points = np.zeros((along, up, 3))
        points[-1, :, 0] = 8.0
        return points


def site(marks):
    return SimpleNamespace(ground=Level(), takeoff=Wall(), marks=marks)


def pegs(marks):
    out = stake_out(site(marks), Level(LANDING))
    return out, {s.name: s for s in out.stakes}


MARKS = {"oak": (6.0, -6.0, 0.5), "rock": (16.0, -6.0, 0.0)}


def test_crest_face_and_foot_stand_where_they_should():
    _, found = pegs(MARKS)
    assert found["A1"].position == pytest.approx((10.0, 1.0))
    assert found["A3"].position == pytest.approx((10.0, -1.0))
    assert found["C2"].position == pytest.approx((14.0, 0.0))
    assert (found["A2"].fill, found["B2"].fill) == pytest.approx((1.0, 0.5))


def test_toes_lie_a_batter_away():
    _, found = pegs(MARKS)
    # Earth 0.01 m thin is left off: 0.99 m at 45 degrees, found in steps of 0.01 m.
    assert -found["D"].along == pytest.approx(0.99, abs=0.0101)
    assert found["E1"].across == pytest.approx(1.0 + 0.99, abs=0.0101)
    assert found["F2"].across == pytest.approx(-1.0 - 0.49, abs=0.0101)


def test_tapes_cross_at_the_peg_on_the_hand_that_is_told():
    out, found = pegs(MARKS)
    assert set(out.marks) == {"oak", "rock"} and out.base == pytest.approx(10.0)
    (ax, ay, _), (bx, by, _) = out.places
    for peg in found.values():
        first, second = peg.tape
        # The two circles' crossing on the told hand of the line from the first mark to the second.
        toward = (first**2 - second**2 + out.base**2) / (2.0 * out.base)
        aside = math.sqrt(first**2 - toward**2) * (1.0 if out.side == "left" else -1.0)
        ux, uy = (bx - ax) / out.base, (by - ay) / out.base
        there = (ax + toward * ux - aside * uy, ay + toward * uy + aside * ux)
        assert there == pytest.approx(peg.position, abs=1e-9), peg.name


def test_marks_that_cross_badly_are_passed_over():
    out, _ = pegs({**MARKS, "post": (60.0, -1.0, 0.0), "stone": (62.0, -1.0, 0.0)})
    assert set(out.marks) == {"oak", "rock"}


def test_missing_marks_are_made_up_from_the_walls_feet():
    out, _ = pegs({"oak": (6.0, -6.0, 0.5)})
    assert len(set(out.marks)) == 2
    assert set(out.marks) <= {"oak", "edge foot", "wall foot"}

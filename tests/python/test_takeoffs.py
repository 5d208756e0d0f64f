"""What is ridden to leave the ground: walls, lips, drops and entrances as Python has them."""

import numpy as np
import pytest

import loamline as ll

WALLS = [
    ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4),
    ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(10.0, 40.0), width=2.4, hollow_radius=3.5),
]


@pytest.mark.parametrize("wall", WALLS, ids=repr)
def test_a_wall_comes_back_from_its_text_and_its_pickle(wall, round_trip, rebuilt):
    assert rebuilt(wall) == wall
    assert round_trip(wall) == wall
    line = wall.line(enter=0.2, leave=1.5)
    assert rebuilt(line) == line


def test_a_hollow_panel_stands_steeper_the_higher_up():
    flat, hollow = (
        ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=30.0, width=2.4, hollow_radius=r)
        for r in (None, 3.5)
    )
    assert (flat.hollow_radius, hollow.hollow_radius) == (None, 3.5)
    assert hollow != flat
    panel = hollow.mesh(2, 200)[0]
    steps = np.diff(panel, axis=0)
    steepness = np.degrees(np.arctan2(steps[:, 2], np.hypot(steps[:, 0], steps[:, 1])))
    assert steepness[0] == pytest.approx(30.0, abs=0.2)
    assert steepness[-1] == pytest.approx(30.0 + np.degrees(2.4 / 3.5), abs=0.2)
    assert np.linalg.norm(steps, axis=1).sum() == pytest.approx(2.4, rel=1e-5)
    assert hollow.edge(2.4)[2] > flat.edge(2.4)[2]


def test_a_panel_that_hangs_over_is_refused():
    with pytest.raises(ll.InputError, match="hollow_radius = 2 is too small"):
        ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=30.0, width=2.4, hollow_radius=2.0)
    with pytest.raises(ll.InputError) as caught:
        ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=30.0, width=2.4, hollow_radius=-1.0)
    assert (caught.value.field, caught.value.value) == ("hollow_radius", -1.0)

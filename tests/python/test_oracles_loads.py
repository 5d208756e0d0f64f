"""Loads of landings against SciPy and MuJoCo."""

import numpy as np
import pytest

import loamline as ll
from oracle_loads import G, Chain, dropped

CASES = [
    (0.4, 0.0, {}),
    (1.0, 20.0, {"progression": 1.0, "leg_force": 4.0}),
    (1.6, 0.0, {"travel": 0.12, "progression": 1.8, "leg_stroke": 0.3}),
    (2.5, 30.0, {"leg_stroke": 0.2, "leg_damping": 300.0, "compression": 200.0}),
    (0.8, 10.0, {"unsprung_mass": 3.0, "tyre_stiffness": 2.5e5, "leg_stiffness": 3e4}),
]


@pytest.mark.parametrize(("height", "slope", "values"), CASES)
def test_the_whole_chain_against_scipy(height, slope, values):
    rider = ll.Rider(absorber=ll.Absorber(**values))
    loads = rider.loads(fall_height=height, slope_deg=slope)
    chain = Chain(rider, height, np.cos(np.radians(slope)))
    # Up to where the tyres or the legs let go: the oracle does not know how to.
    ours = np.array(list(loads.forces.values()))
    touching = (ours > 1.0).all(axis=0)
    begun = np.argmax(touching)
    ends = np.flatnonzero(~touching[begun:])
    end = loads.time[begun + ends[0] - 1] if len(ends) else 0.3
    kept = loads.time <= min(end, 0.3)
    theirs = chain.until(loads.time[kept][-1], loads.time[kept])
    weight = chain.masses.sum() * G
    np.testing.assert_allclose(ours[:, kept], theirs, atol=3e-7 * weight)
    for row, (stage, peak) in enumerate(loads.peaks.items()):
        at = loads.peak_times[stage]
        if at < end:
            around = np.clip(at + np.linspace(-1e-5, 1e-5, 21), 0.0, end)
            assert chain.until(end, around)[row].max() == pytest.approx(peak, rel=1e-6), stage


def on_legs(stiffness, damping, mass):
    """A rider whose legs are a plain spring and damper that never give way."""
    absorber = ll.Absorber(
        leg_stiffness=stiffness, leg_damping=damping, leg_force=1e4, leg_stroke=5.0
    )
    return ll.Rider(mass=mass + 15.0, absorber=absorber)


def at(loads, stage, time):
    """How far a stage is pressed together at a time of the record."""
    index = int(round(time / loads.time[1]))
    assert loads.time[index] == pytest.approx(time)
    return loads.compression[stage][index]


@pytest.mark.parametrize("damping", [0.0, 300.0, 1500.0])
def test_a_mass_on_a_spring_and_a_damper_against_mujoco(damping):
    loads = on_legs(2e4, damping, 75.0).loads(fall_height=0.5, chain="legs")
    time, ours = 0.08, at(loads, "legs", 0.08)
    speed = np.sqrt(2 * G * 0.5)
    error = [
        abs(dropped([75.0], [2e4], [damping], speed, step, time)[0] - ours)
        for step in (4e-3, 2e-3, 1e-3)
    ]
    # Its own error, of fourth order: halving the step takes it down by 16, to nothing.
    assert error[0] > 8 * error[1] > 64 * error[2]
    assert error[2] < 1e-7


def test_tyres_under_a_rigid_bike_against_mujoco():
    absorber = ll.Absorber.rigid(leg_force=1e4, leg_stroke=5.0)
    loads = ll.Rider(absorber=absorber).loads(fall_height=0.3)
    time = 0.02
    ours = [at(loads, "ground", time), at(loads, "legs", time)]
    setup = ([15.0, 75.0], [absorber.tyre_stiffness, absorber.leg_stiffness], [0.0, absorber.leg_damping])
    speed = np.sqrt(2 * G * 0.3)
    error = [np.abs(dropped(*setup, speed, step, time) - ours).max() for step in (1e-3, 5e-4, 2.5e-4)]
    assert error[0] > 8 * error[1] > 64 * error[2]
    assert error[2] < 1e-8

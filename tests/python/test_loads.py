"""Loads of a landing: what they say, and what is refused."""

import math

import numpy as np
import pytest

import loamline as ll


def landed(slope_deg=25.0):
    ground = ll.Ground.plane(slope_deg=slope_deg)
    launch = ll.Launch(position=(0, 0, 1.5), velocity=(6, 0, 1.5))
    return launch.flight(ground, ll.Rider(), ll.Air()).touchdown


def test_a_touchdown_gives_the_loads_of_its_height_and_slope():
    touchdown = landed()
    rider = ll.Rider()
    loads = rider.loads(touchdown)
    assert loads.fall_height == pytest.approx(touchdown.fall_height, rel=1e-12)
    told = rider.loads(normal_speed=touchdown.normal_speed, slope_deg=25.0)
    assert loads.peak_force == pytest.approx(told.peak_force, rel=1e-9)
    assert rider.loads(touchdown, chain="legs").stages == ["legs"]


def test_every_stage_has_its_arrays():
    loads = ll.Rider().loads(fall_height=1.5)
    assert loads.stages == ["ground", "suspension", "legs"]
    for by in (loads.forces, loads.compression):
        assert all(values.shape == loads.time.shape and values.dtype == np.float64 for values in by.values())
    assert np.array_equal(loads.force, loads.forces["legs"])
    assert np.array_equal(loads.ground_force, loads.forces["ground"])
    assert np.array_equal(loads.suspension_force, loads.forces["suspension"])
    for stage in loads.stages:
        assert loads.peaks[stage] >= loads.forces[stage].max() - 1e-9
        assert loads.travel_used[stage] >= loads.compression[stage].max() - 1e-12
    assert loads.peak_bodyweights == pytest.approx(loads.peaks["legs"] / (75 * 9.80665), rel=1e-12)
    assert loads.mean_bodyweights == pytest.approx(1 + 1.5 / loads.stopping_distance, rel=1e-12)
    assert abs(loads.energy["residual"]) < 1e-8
    assert ll.Rider(absorber=ll.Absorber.rigid()).loads(fall_height=0.5).suspension_force is None


def test_bottoming_is_told_and_the_band_stands_beside_the_peak():
    loads = ll.Rider().loads(fall_height=2.0)
    assert loads.bottomed == {"ground": False, "suspension": True, "legs": True}
    assert any("legs and arms use up" in warning for warning in loads.warnings)
    band = loads.band
    assert list(band) == [0.2, 0.3, 0.4, 0.5]
    assert list(band.values()) == sorted(band.values(), reverse=True)
    assert "data are few" in loads.explain()
    assert 1 < loads.response_index < 100


def test_soft_ground_takes_something_off():
    rider = ll.Rider()
    hard = rider.loads(fall_height=0.5, chain="legs")
    soft = rider.loads(fall_height=0.5, chain="legs", ground_stiffness=3e4)
    assert soft.stages == ["ground", "legs"]
    assert soft.peak_bodyweights <= hard.peak_bodyweights
    crushed = rider.loads(fall_height=1.0, ground_stiffness=3e5, crush_force=2000.0)
    assert crushed.peaks["ground"] == pytest.approx(2000.0)


def test_gravity_counts_for_a_height():
    moon = ll.Rider().loads(fall_height=0.6, gravity=1.62)
    assert moon.fall_height == pytest.approx(0.6)
    assert moon.normal_speed == pytest.approx(math.sqrt(2 * 1.62 * 0.6))


def test_results_pickle_and_show_themselves(round_trip):
    loads = ll.Rider().loads(fall_height=1.0)
    assert round_trip(loads) == loads
    assert repr(loads).startswith("<Loads: fall height 1.000 m, ")
    card = loads._repr_html_()
    assert "data on bikes are few" in card and "certify nothing" in card
    frame = loads.to_pandas()
    assert list(frame.columns)[:3] == ["time", "force_ground", "compression_ground"]
    assert len(frame) == len(loads.time)


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"fall_height": -0.1}, "fall_height"),
        ({"normal_speed": math.nan}, "normal_speed"),
        ({"fall_height": math.inf}, "fall_height"),
        ({"fall_height": 1.0, "slope_deg": 91.0}, "slope_deg"),
        ({"fall_height": 1.0, "gravity": 0.0}, "gravity"),
        ({"fall_height": 1.0, "chain": "wings"}, "chain"),
        ({"fall_height": 1.0, "ground_stiffness": 0.0}, "ground_stiffness"),
        ({"fall_height": 1.0, "crush_force": 500.0}, "crush_force"),
        ({}, "fall_height"),
        ({"fall_height": 1.0, "normal_speed": 3.0}, "normal_speed"),
    ],
)
def test_wrong_input_is_named(told, field):
    with pytest.raises(ll.InputError, match=field):
        ll.Rider().loads(**told)


def test_a_flight_without_a_touch_and_a_rider_of_no_weight_are_refused():
    ground = ll.Ground.grid(origin=(0, 0), spacing=(1, 1), heights=np.zeros((3, 3)))
    away = ll.Launch(position=(1, 1, 1.5), velocity=(9, 0, 1)).flight(ground, ll.Rider(), ll.Air())
    with pytest.raises(ll.InputError, match="off_survey"):
        ll.Rider().loads(away.touchdown)
    with pytest.raises(ll.InputError, match="mass = 12"):
        ll.Rider(mass=12.0).loads(fall_height=1.0)
    with pytest.raises(ll.InputError, match="its own"):
        ll.Rider().loads(landed(), slope_deg=3.0)


def test_heights_huge_and_none_give_an_answer():
    for height in (0.0, 1e-9, 30.0):
        loads = ll.Rider().loads(fall_height=height)
        assert np.isfinite(loads.peak_bodyweights)
        assert abs(loads.energy["residual"]) < 1e-8

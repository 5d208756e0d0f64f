"""Air, rider and absorber: constructors, getters, errors, pickles, texts."""

import math

import numpy as np
import pytest

import loamline as ll

VALUES = [
    ll.Air(),
    ll.Air(elevation=1234.5, temperature_c=7.1, wind=(1, -2, 0.1), density=1.05, gravity=9.81),
    ll.Absorber(),
    ll.Absorber(leg_stroke=0.5, travel=0.12, sag=0.3),
    ll.Absorber.rigid(frame_mass=8.0),
    ll.Rider(),
    ll.Rider(grip=math.inf, com_height_landing=0.9, rear_to_com=0.5),
    ll.Rider(inertia=(11, 14, 6), absorber=ll.Absorber(leg_force=4.0)),
    ll.Rider.typical(body_mass=61.3, body_height=1.62),
]


@pytest.mark.parametrize("value", VALUES, ids=repr)
def test_text_and_pickle_make_the_same_value(value, round_trip, rebuilt):
    assert rebuilt(value) == value
    assert round_trip(value) == value


def test_values_differ_where_a_number_does():
    assert ll.Air(wind=(1, 0, 0)) != ll.Air()
    assert ll.Rider(mass=91) != ll.Rider()
    assert ll.Air() != "air"


def test_air_as_given():
    air = ll.Air(elevation=0.0, temperature_c=None, wind=(0, 0, 0), density=None, gravity=9.80665)
    assert air == ll.Air()
    assert air.density == pytest.approx(1.225, abs=1e-6)
    assert air.wind.dtype == np.float64
    assert air.wind.shape == (3,)
    assert ll.Air(wind=np.array([1, 2, 3])).wind.tolist() == [1.0, 2.0, 3.0]


def test_rider_defaults_and_keywords():
    rider = ll.Rider(
        mass=90.0,
        cda=0.55,
        crr=0.03,
        grip=0.6,
        com_height=1.0,
        com_height_landing=None,
        wheelbase=1.2,
        wheel_radius=0.35,
        wheel_inertia=0.0,
        inertia=(13.0, 18.0, 8.0),
        absorber=ll.Absorber(),
    )
    assert rider == ll.Rider()
    assert rider.com_height_landing == 1.0
    assert ll.Rider(com_height_landing=0.8).com_height_landing == 0.8
    assert rider.inertia.tolist() == [13.0, 18.0, 8.0]


@pytest.mark.parametrize(
    ("make", "field", "value"),
    [
        (lambda: ll.Air(elevation=12_000.0), "elevation", 12_000.0),
        (lambda: ll.Air(density=-1.0), "density", -1.0),
        (lambda: ll.Air(gravity=0.0), "gravity", 0.0),
        (lambda: ll.Air(wind=(0, math.inf, 0)), "wind", math.inf),
        (lambda: ll.Rider(mass=0), "mass", 0.0),
        (lambda: ll.Rider(grip=-0.1), "grip", -0.1),
        (lambda: ll.Rider(rear_to_com=1.3), "rear_to_com", 1.3),
        (lambda: ll.Rider(inertia=(1, 1, 9)), "inertia", 9.0),
        (lambda: ll.Absorber(sag=1.0), "sag", 1.0),
        (lambda: ll.Absorber(travel=0.0), "travel", 0.0),
        (lambda: ll.Absorber(leg_stroke=0.0), "leg_stroke", 0.0),
        (lambda: ll.Rider.typical(body_mass=5.0, body_height=1.7), "body_mass", 5.0),
    ],
)
def test_a_wrong_number_is_named_with_its_value_and_range(make, field, value, round_trip):
    with pytest.raises(ll.InputError) as caught:
        make()
    error = caught.value
    assert isinstance(error, ValueError)
    assert isinstance(error, ll.LoamlineError)
    assert (error.field, error.value) == (field, value)
    assert error.allowed in str(error)
    assert field in str(error)
    assert round_trip(error).__dict__ == error.__dict__


@pytest.mark.parametrize("bad", [(1, 2), (1, 2, 3, 4), "east", 3.0])
def test_a_vector_of_other_than_three_numbers_names_its_field(bad):
    with pytest.raises(ll.InputError, match="wind"):
        ll.Air(wind=bad)


def test_classes_are_frozen():
    with pytest.raises(AttributeError):
        ll.Air().density = 1.0
    assert ll.Air.__module__ == "loamline"

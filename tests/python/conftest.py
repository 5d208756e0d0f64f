"""What the tests of the Python face share."""

import pickle

import pytest

import loamline as ll


@pytest.fixture
def round_trip():
    """Pickle a value and read it back."""

    def back(value):
        return pickle.loads(pickle.dumps(value))

    return back


@pytest.fixture
def rebuilt():
    """Make the value that a value's own text says."""

    def make(value):
        return eval(repr(value), {**vars(ll), "float": float})

    return make

"""What the tests of the Python face share."""

import pickle

import pytest

import loamline as ll
from browsers import opened


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


@pytest.fixture(scope="session")
def browser(tmp_path_factory):
    """Chromium, opened once."""
    chromium = opened(tmp_path_factory.mktemp("chromium"))
    yield chromium
    chromium.quit()

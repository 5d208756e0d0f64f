"""Tables of results: pandas, polars, CSV and Parquet hold the same numbers."""

import csv

import loamline as ll
import numpy as np
import pandas as pd
import polars as pl
import pytest
from things import things

NAMES = ("Passes", "BatchPasses", "Flights", "Ride", "Loads", "Tradeoff", "EvenLanding", "FlagForecast", "TwoWheelRide")


@pytest.mark.parametrize("name", NAMES)
def test_frames_and_files_hold_the_same(name, tmp_path):
    thing = things()[name]
    frame, other = thing.to_pandas(), ll.to_polars(thing)
    assert other.columns[1:] == [str(c) for c in frame.columns] and len(other) == len(frame)
    ll.write_table(thing, tmp_path / "t.csv")
    ll.write_table(thing, tmp_path / "t.parquet")
    with (tmp_path / "t.csv").open(newline="", encoding="utf-8") as lines:
        read = list(csv.DictReader(lines))
    whole, lazy = pd.read_parquet(tmp_path / "t.parquet"), pl.read_parquet(tmp_path / "t.parquet")
    assert lazy.height == len(frame)
    for column in frame.columns:
        values = frame[column].to_numpy()
        if values.dtype.kind == "f":
            written = np.array([float(row[str(column)] or "nan") for row in read])
            for back in (written, whole[column].to_numpy(), other[str(column)].to_numpy()):
                np.testing.assert_array_equal(back, values, err_msg=str(column))
        else:
            assert [str(v) for v in other[str(column)]] == [str(v) for v in whole[column]] == [str(v) for v in values]


def test_what_has_no_rows_and_other_endings_are_told(tmp_path):
    with pytest.raises(ll.InputError, match="Air"):
        ll.to_polars(ll.Air())
    with pytest.raises(ll.FileError, match="parquet"):
        ll.write_table(ll.Rider().loads(fall_height=0.5), tmp_path / "t.xlsx")
    assert list(tmp_path.iterdir()) == []

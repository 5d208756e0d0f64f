"""Results as tables: polars frames, CSV and Parquet, of everything that has a `to_pandas`."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import TYPE_CHECKING, Any

from loamline._native import FileError, InputError

if TYPE_CHECKING:
    from os import PathLike


def to_polars(result: Any) -> Any:
    """The rows of a result as a `polars.DataFrame`, their number in the first column.

    Args:
        result: anything with a `to_pandas`: passes, flights, a ride, loads, a trade-off, an even landing, a forecast.

    Raises:
        InputError: a result that has no rows.
        ImportError: pandas or polars is not installed.

    >>> import loamline as ll
    >>> ll.to_polars(ll.Rider().loads(fall_height=0.5)).columns[:2]
    ['sample', 'time']
    """
    frame = _frame(result)
    polars = _need("polars", "polars")
    columns = {str(name): _plain(frame[name]) for name in frame.columns}
    return polars.DataFrame({str(frame.index.name or "row"): frame.index.to_numpy(), **columns})


def write_table(result: Any, path: str | PathLike[str]) -> None:
    """Write the rows of a result as CSV or Parquet, whole or not at all; numbers come back bit for bit.

    SI units, and degrees in columns that end in `_deg`; a number that there is not is empty.

    Args:
        result: anything with a `to_pandas`.
        path: the file, `.csv` or `.parquet`.

    Raises:
        FileError: another ending, or a file that cannot be written.
        InputError: a result that has no rows.
        ImportError: pandas, or pyarrow for Parquet, is not installed.
    """
    from .exports import _whole

    frame = _frame(result)
    match Path(path).suffix.lower():
        case ".csv":
            _whole(path, lambda to: frame.to_csv(to, lineterminator="\n"))
        case ".parquet":
            _need("pyarrow", "parquet")
            _whole(path, lambda to: frame.to_parquet(to, engine="pyarrow"))
        case other:
            raise FileError(f"{path}: the ending {other or 'of no kind'} is not known: expected .csv or .parquet")


def _frame(result: Any) -> Any:
    if not hasattr(result, "to_pandas"):
        raise InputError(f"{type(result).__name__} has no rows: expected a result with to_pandas")
    return result.to_pandas()


def _plain(column: Any) -> Any:
    """Returns a column's values: numbers as they are, words as a list."""
    values = column.to_numpy()
    return values if values.dtype.kind in "iufb" else [str(value) for value in values]


def _need(name: str, extra: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as missing:
        hint = f"{name} is needed for this: pip install 'loamline[{extra}]'"
        raise ImportError(hint, name=name) from missing

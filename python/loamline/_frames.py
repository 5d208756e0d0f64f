"""Results as data frames and data sets; pandas and xarray are imported only here, only on use."""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike

AXES = ("x", "y", "z")
BIKE = ("forward", "left", "up")
#: Parts of a vector, and of the three axes of a bike, by the dimensions of their columns.
PARTS = {2: AXES, 3: tuple(f"{way}_{axis}" for way in BIKE for axis in AXES)}


def _need(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as missing:
        hint = f"{name} is needed for this: pip install 'loamline[{name}]'"
        raise ImportError(hint, name=name) from missing


def to_pandas(columns: Mapping[str, ArrayLike], index: str) -> Any:
    """Return a `pandas.DataFrame` of `columns`; an `(n, 3)` column becomes three, `_x _y _z`, an axes' nine."""
    pandas = _need("pandas")
    flat: dict[str, np.ndarray[Any, Any]] = {}
    for name, given in columns.items():
        values = np.asarray(given)
        if values.ndim == 1:
            flat[name] = values
        else:
            rows = values.reshape(len(values), -1)
            flat.update({f"{name}_{part}": rows[:, i] for i, part in enumerate(PARTS[values.ndim])})
    frame = pandas.DataFrame(flat)
    frame.index.name = index
    return frame


def to_xarray(columns: Mapping[str, np.ndarray[Any, Any]], dim: str) -> Any:
    """Return an `xarray.Dataset` of `columns` along `dim`; vectors have `axis` too, a bike's axes `way` besides."""
    xarray = _need("xarray")
    dims = {1: (dim,), 2: (dim, "axis"), 3: (dim, "way", "axis")}
    data = {name: (dims[values.ndim], values) for name, values in columns.items()}
    coords = {"axis": list(AXES)}
    if any(values.ndim == len(dims) for values in columns.values()):
        coords["way"] = list(BIKE)
    return xarray.Dataset(data, coords=coords)

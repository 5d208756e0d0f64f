"""Results as data frames and data sets; pandas and xarray are imported only here, only on use."""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike

AXES = ("x", "y", "z")


def _need(name: str) -> Any:
    try:
        return importlib.import_module(name)
    except ImportError as missing:
        hint = f"{name} is needed for this: pip install 'loamline[{name}]'"
        raise ImportError(hint, name=name) from missing


def to_pandas(columns: Mapping[str, ArrayLike], index: str) -> Any:
    """Return a `pandas.DataFrame` of `columns`; an `(n, 3)` column becomes three, `_x _y _z`."""
    pandas = _need("pandas")
    flat: dict[str, np.ndarray[Any, Any]] = {}
    for name, given in columns.items():
        values = np.asarray(given)
        if values.ndim == 1:
            flat[name] = values
        else:
            flat.update({f"{name}_{axis}": values[:, i] for i, axis in enumerate(AXES)})
    frame = pandas.DataFrame(flat)
    frame.index.name = index
    return frame


def to_xarray(columns: Mapping[str, np.ndarray[Any, Any]], dim: str) -> Any:
    """Return an `xarray.Dataset` of `columns` along `dim`; `(n, 3)` columns have `axis` too."""
    xarray = _need("xarray")
    data = {
        name: ((dim,) if values.ndim == 1 else (dim, "axis"), values)
        for name, values in columns.items()
    }
    return xarray.Dataset(data, coords={"axis": list(AXES)})

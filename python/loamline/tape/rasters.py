"""Heights of maps: GeoTIFF rasters and LAS point clouds, as points in the map's own coordinates."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from loamline import FileError

if TYPE_CHECKING:
    from ..frames import Array

# Tags and keys of OGC GeoTIFF 1.1 (19-008r4), and GDAL's own for what is no height.
_SCALE, _TIE, _TRANSFORM, _KEYS, _RASTER_TYPE, _POINT = 33550, 33922, 34264, 34735, 1025, 2
_NO_DATA = 42113
# Class "ground" of ASPRS LAS 1.4.
_GROUND = 2


def raster(file: Path) -> Array:
    """Returns the heights of a GeoTIFF at the middles of its cells, (n, 3); cells without one are left out."""
    try:
        import tifffile
    except ImportError as error:
        raise ImportError("GeoTIFF needs tifffile: pip install 'loamline[geotiff]'") from error
    try:
        with tifffile.TiffFile(file) as tiff:
            page: Any = tiff.pages[0]
            heights = np.asarray(page.asarray(), dtype=float)
            tags = {tag.code: tag.value for tag in page.tags.values()}
        return _cells(file, heights, tags)
    except FileError:
        raise
    except Exception as error:
        raise FileError(f"{file}: cannot be read as GeoTIFF: {error}") from error


def _cells(file: Path, heights: Array, tags: dict[int, Any]) -> Array:
    if heights.ndim != 2:
        raise FileError(f"{file}: one band of heights is needed, not an array of shape {heights.shape}")
    corner = _corner(file, tags)
    # Where the raster's numbers stand for areas, a cell's height is that of its middle.
    half = 0.0 if _stands_for_points(tags) else 0.5
    known = np.isfinite(heights)
    if _NO_DATA in tags:
        known &= heights != float(tags[_NO_DATA])
    row, column = np.nonzero(known)
    cells = np.column_stack([column + half, row + half, np.ones(len(row))])
    return np.column_stack([cells @ corner.T, heights[row, column]])


def _stands_for_points(tags: dict[int, Any]) -> bool:
    """Tells whether the raster type key says point; it is area where nothing is said."""
    keys = np.asarray(tags.get(_KEYS, ()), dtype=int)
    rows = keys[4 : 4 * (keys.size // 4)].reshape(-1, 4)
    return any(key == _RASTER_TYPE and value == _POINT for key, _, _, value in rows)


def _corner(file: Path, tags: dict[int, Any]) -> Array:
    """Returns the map from columns and rows to x and y, (2, 3)."""
    if _TRANSFORM in tags:
        whole = np.asarray(tags[_TRANSFORM], dtype=float).reshape(4, 4)
        return np.asarray(whole[:2][:, [0, 1, 3]])
    scale, tie = tags.get(_SCALE), tags.get(_TIE)
    if scale is None or tie is None:
        raise FileError(f"{file}: the TIFF does not say where it lies: it has no GeoTIFF tags")
    (dx, dy), (i, j, _, x, y, _) = scale[:2], tie[:6]
    return np.array([[dx, 0.0, x - i * dx], [0.0, -dy, y + j * dy]])


def cloud(file: Path) -> Array:
    """Returns the ground points of a LAS or LAZ file, (n, 3); all points where none is classed as ground."""
    try:
        # By name: it has no types to check by.
        laspy = importlib.import_module("laspy")
    except ImportError as error:
        raise ImportError("LAS needs laspy: pip install 'loamline[las]'") from error
    try:
        read = laspy.read(file)
        points = np.column_stack([read.x, read.y, read.z]).astype(float)
        ground = np.asarray(read.classification) == _GROUND
    except Exception as error:
        raise FileError(f"{file}: cannot be read as LAS: {error}") from error
    return points[ground] if ground.any() else points

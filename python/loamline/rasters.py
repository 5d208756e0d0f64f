"""Heights as GeoTIFF and the scene as glTF, for maps and for viewers."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from ._native import FileError
from .exports import _lattice, _whole

if TYPE_CHECKING:
    from .exports import Area, PathLike
    from .frames import Array

# GeoTIFF 1.1 (Open Geospatial Consortium 19-008r4): tags and keys by their numbers.
_PIXEL_SCALE, _TIE_POINT, _KEYS, _NO_DATA = 33550, 33922, 34735, 42113
_MODEL_TYPE, _RASTER_TYPE, _CITATION, _UNITS = 1024, 1025, 1026, 3076
_USER_DEFINED, _POINTS, _METRE, _TEXTS = 32767, 2, 9001, 34737
_MISSING = -9999.0
_CITES = "site frame, metres|"

_EARTH, _GROUND, _TIMBER = (139, 94, 60, 255), (150, 160, 120, 255), (196, 164, 110, 255)


def write_geotiff(path: PathLike, ground: Any, *, spacing: float = 0.1, area: Area | None = None) -> None:
    """Write the heights of a ground as GeoTIFF, m, in the site frame; -9999 where it is not known.

    64-bit heights at points, north row first; the file says that its frame is one of its own, in
    metres, and names no place on the Earth. Needs tifffile (`pip install loamline[geotiff]`).

    Args:
        path: the file, `.tif` or `.tiff`; written whole or not at all.
        ground: the ground, such as a finished one with its landing.
        spacing: how far apart heights are taken at most, m, above 0.
        area: (x0, y0, x1, y1), m; None takes all of the ground.

    Raises:
        InputError: a number out of its range, or a ground without end and no area.
        FileError: an ending that is not known, or a file that cannot be written.
    """
    _ending(path, (".tif", ".tiff"))
    try:
        import tifffile
    except ImportError as error:
        raise ImportError("GeoTIFF needs tifffile: pip install loamline[geotiff]") from error
    x, y, heights = _lattice(ground, spacing, area)
    # Keys: version 1.1.1, three of them, then each with where its value stands and how long it is.
    keys = [1, 1, 1, 4]
    keys += [_MODEL_TYPE, 0, 1, _USER_DEFINED, _RASTER_TYPE, 0, 1, _POINTS]
    keys += [_CITATION, _TEXTS, len(_CITES), 0, _UNITS, 0, 1, _METRE]
    tags: list[Any] = [
        (_PIXEL_SCALE, "d", 3, (x[1] - x[0], y[1] - y[0], 0.0), True),
        (_TIE_POINT, "d", 6, (0.0, 0.0, 0.0, x[0], y[-1], 0.0), True),
        (_KEYS, "H", len(keys), tuple(keys), True),
        (_TEXTS, "s", len(_CITES) + 1, _CITES, True),
        (_NO_DATA, "s", 0, f"{_MISSING:.0f}", True),
    ]
    rows = np.ma.filled(heights, _MISSING)[::-1]
    _whole(path, lambda to: tifffile.imwrite(to, rows, extratags=tags, metadata=None, compression=None))


def write_gltf(
    path: PathLike, site: Any, built: Any = None, *, spacing: float = 0.25, area: Area | None = None
) -> None:
    """Write the scene as binary glTF (`.glb`): ground, takeoff and, where one is given, the landing's earth.

    glTF's axes are x, up, and backwards: a place (x, y, z) of the site is (x, z, -y) there, m. Needs
    trimesh (`pip install loamline[gltf]`).

    Args:
        path: the file, `.glb`; written whole or not at all.
        site: the site; gives ground and takeoff.
        built: a ground with a landing, or a `BuiltLanding`; or None.
        spacing: how far apart heights of the ground are taken at most, m, above 0.
        area: (x0, y0, x1, y1), m, of the ground; None takes all of it.

    Raises:
        InputError: a number out of its range.
        FileError: an ending that is not known, or a file that cannot be written.
    """
    _ending(path, (".glb",))
    try:
        import trimesh
    except ImportError as error:
        raise ImportError("glTF needs trimesh: pip install loamline[gltf]") from error
    x, y, heights = _lattice(site.ground, spacing, area)
    parts = {
        "ground": (*_triangles(x, y, heights), _GROUND),
        "takeoff": (*_sheet(site.takeoff.mesh(40, 8)), _TIMBER),
    }
    mesh = None if built is None else built.mesh
    if mesh is not None:
        parts["landing"] = (mesh[0], mesh[1].astype(int), _EARTH)
    scene = trimesh.Scene()
    for name, (places, faces, colour) in parts.items():
        turned = np.column_stack([places[:, 0], places[:, 2], -places[:, 1]])
        shape = trimesh.Trimesh(turned, faces, process=False, vertex_colors=np.tile(colour, (len(places), 1)))
        scene.add_geometry(shape, node_name=name, geom_name=name)
    # Typed in some of trimesh's versions only.
    export: Any = scene.export
    whole = export(file_type="glb")
    _whole(path, lambda to: to.write_bytes(whole))


def _ending(path: PathLike, known: tuple[str, ...]) -> None:
    if Path(path).suffix.lower() not in known:
        raise FileError(f"{path}: the ending is not known: expected {' or '.join(known)}")


def _sheet(lattice: Any) -> tuple[Array, Array]:
    """Returns places and triangles of a sheet of rows of points."""
    rows, columns = lattice.shape[:2]
    corner = np.arange(rows * columns).reshape(rows, columns)
    a, b, c, d = (corner[i : rows - 1 + i, j : columns - 1 + j].ravel() for i, j in ((0, 0), (1, 0), (1, 1), (0, 1)))
    return lattice.reshape(-1, 3), np.concatenate([np.column_stack([a, b, c]), np.column_stack([a, c, d])])


def _triangles(x: Array, y: Array, heights: Any) -> tuple[Array, Array]:
    """Returns places and triangles of a lattice of heights, upwards, without those not known."""
    across, up = np.meshgrid(x, y)
    known = ~np.ma.getmaskarray(heights)
    places, faces = _sheet(np.dstack([across, up, np.ma.filled(heights, 0.0)]))
    faces = faces[known.ravel()[faces].all(axis=1)][:, ::-1]
    kept = np.unique(faces)
    return places[kept], np.searchsorted(kept, faces)

"""GeoTIFF and glTF, read back by general libraries."""

import sys
from types import SimpleNamespace

import numpy as np
import pygltflib
import pytest
import rasterio

import loamline as ll
from loamline import cli, commands
from loamline.outdir import OutDir


@pytest.fixture(scope="module")
def site():
    return ll.Site.demo()


@pytest.fixture(scope="module")
def built(site):
    landing = ll.Landing(crest=(2.4, 0.6), heading_deg=5.0, slope_deg=22.0, length=2.5, width=2.0)
    return landing.on(site.ground)


def test_geotiff_holds_the_finished_heights(tmp_path, built):
    path = tmp_path / "finished.tif"
    ll.write_geotiff(path, built.ground, spacing=0.4)
    with rasterio.open(path) as read:
        heights, frame = read.read(1), read.transform
        assert (read.count, read.dtypes, read.nodata) == (1, ("float64",), -9999.0)
        # Points, not cells: GDAL's transform is of the corner of the first one.
        assert read.tags()["AREA_OR_POINT"] == "Point"
        assert not (read.crs and read.crs.is_geographic)
    rows, columns = np.indices(heights.shape)
    x, y = frame.c + frame.a * (columns + 0.5), frame.f + frame.e * (rows + 0.5)
    known = built.ground.height(x.ravel(), y.ravel()).reshape(heights.shape)
    there = heights != -9999.0
    assert 0.3 < there.mean() < 1.0
    inside = there & np.isfinite(known)
    assert inside.sum() > 0.98 * there.sum()
    assert np.abs(heights - known)[inside].max() < 1e-8
    assert (np.diff(y[:, 0]) < 0.0).all(), "north first"


def read_part(read, name):
    """Places in the site's axes and triangles of a named mesh."""
    node = next(node for node in read.nodes if node.name == name)
    [part] = read.meshes[node.mesh].primitives
    kinds = {5126: np.float32, 5125: np.uint32, 5123: np.uint16}

    def rows(number, width):
        accessor = read.accessors[number]
        view = read.bufferViews[accessor.bufferView]
        start = (view.byteOffset or 0) + (accessor.byteOffset or 0)
        blob, kind = read.binary_blob(), kinds[accessor.componentType]
        return np.frombuffer(blob, kind, accessor.count * (width if width > 1 else 1), start).reshape(-1, width)

    places = rows(part.attributes.POSITION, 3)
    return np.column_stack([places[:, 0], -places[:, 2], places[:, 1]]), rows(part.indices, 1).reshape(-1, 3)


def test_gltf_holds_ground_takeoff_and_landing(tmp_path, site, built):
    path = tmp_path / "scene.glb"
    ll.write_gltf(path, site, built.ground, spacing=0.5)
    read = pygltflib.GLTF2().load(path)
    places, faces = read_part(read, "landing")
    vertices, triangles = built.ground.mesh
    assert places == pytest.approx(vertices, abs=1e-5)
    assert np.array_equal(faces, triangles)
    places, faces = read_part(read, "ground")
    assert places[:, 2] == pytest.approx(site.ground.height(places[:, 0], places[:, 1]), abs=1e-4)
    a, b, c = (places[faces[:, i]] for i in range(3))
    up = np.cross(b - a, c - a)[:, 2]
    assert (up > 0.0).all(), "seen from above"
    places, _ = read_part(read, "takeoff")
    assert len(places) == 320
    ll.write_gltf(path, site)
    assert {node.name for node in pygltflib.GLTF2().load(path).nodes if node.mesh is not None} == {"ground", "takeoff"}


def test_wrong_wishes_say_what_is_wrong_and_write_nothing(tmp_path, site):
    with pytest.raises(ll.FileError, match=r"expected \.tif or \.tiff"):
        ll.write_geotiff(tmp_path / "x.asc", site.ground)
    with pytest.raises(ll.FileError, match=r"expected \.glb"):
        ll.write_gltf(tmp_path / "x.gltf", site)
    with pytest.raises(ll.InputError) as error:
        ll.write_geotiff(tmp_path / "x.tif", site.ground, spacing=0.0)
    assert error.value.field == "spacing"
    with pytest.raises(ll.FileError, match="cannot be written"):
        ll.write_gltf(tmp_path / "none" / "x.glb", site, spacing=1.0)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("library", ["tifffile", "trimesh"])
def test_without_the_library_it_says_what_to_install(tmp_path, site, monkeypatch, library):
    monkeypatch.setitem(sys.modules, library, None)
    with pytest.raises(ImportError, match=r"pip install loamline\["):
        if library == "tifffile":
            ll.write_geotiff(tmp_path / "x.tif", site.ground)
        else:
            ll.write_gltf(tmp_path / "x.glb", site)


def test_the_command_line_writes_them_too(tmp_path, site, built):
    planned = SimpleNamespace(site=site, ground=built.ground, landing=built.landing)
    kinds = ["asc", "tif", "glb", "geojson", "dxf", "svg", "tif"]
    with OutDir(tmp_path / "out") as out:
        written = commands._write_also(out, planned, kinds)
    assert written == [
        "finished.asc",
        "finished.tif",
        "scene.glb",
        "contours.geojson",
        "outline.geojson",
        "contours.dxf",
        "outline.dxf",
        "section.svg",
    ]
    assert {path.name for path in (tmp_path / "out").iterdir()} == set(written)
    with rasterio.open(tmp_path / "out" / "finished.tif") as read:
        assert read.read(1).max() == pytest.approx(built.ground.bounds[1, 2], abs=0.1)


def test_the_command_line_says_what_is_not_known_or_lacks(tmp_path, site, built, monkeypatch, capsys):
    with pytest.raises(SystemExit) as ended:
        cli.main(["plan", "demo", "-o", str(tmp_path / "out"), "--also", "pdf"])
    assert ended.value.code == 2
    assert "'pdf'" in capsys.readouterr().err
    monkeypatch.setitem(sys.modules, "trimesh", None)
    planned = SimpleNamespace(site=site, ground=built.ground, landing=built.landing)
    with pytest.raises(commands.Lacking, match=r"pip install loamline\[gltf\]"), OutDir(tmp_path / "out") as out:
        commands._write_also(out, planned, ["glb"])
    assert list(tmp_path.iterdir()) == []

"""Files for other programs, read back by general libraries."""

import json
import math
import sys
import xml.etree.ElementTree as ET

import ezdxf
import numpy as np
import pytest
from shapely.geometry import Polygon, shape

import loamline as ll


def cone(sides=60):
    """A cone of height 1 and radius 3 on a level square."""
    ring = [(3 * math.cos(a), 3 * math.sin(a), 0.0) for a in np.linspace(0, 2 * np.pi, sides, False)]
    square = [(x, y, 0.0) for x in (-4, 4) for y in (-4, 4)]
    return ll.Ground.survey([(0, 0, 1.0), *ring, *square])


def built():
    landing = ll.Landing(crest=(4, 0), heading_deg=20, slope_deg=20, length=4, width=3)
    return landing.on(ll.Ground.plane(slope_deg=3.0))


def test_ascii_grid_reads_back(tmp_path):
    path, ground = tmp_path / "cone.asc", cone()
    ll.write_ascii_grid(path, ground, spacing=0.5)
    head = dict(line.split() for line in path.read_text().splitlines()[:6])
    heights = np.loadtxt(path, skiprows=6)[::-1]
    assert heights.shape == (int(head["nrows"]), int(head["ncols"])) == (17, 17)
    x = float(head["xllcenter"]) + float(head["cellsize"]) * np.arange(17)
    grid_x, grid_y = np.meshgrid(x, x)
    known = ground.height(grid_x.ravel(), grid_y.ravel()).reshape(17, 17)
    assert np.array_equal(heights, np.where(np.isnan(known), -9999.0, known))


def test_contours_of_a_cone_are_circles_in_geojson(tmp_path):
    path = tmp_path / "cone.geojson"
    ll.write_contours(path, cone(), 0.25, spacing=0.05)
    read = json.loads(path.read_text())
    lines = {
        feature["properties"]["height"]: shape(feature["geometry"])
        for feature in read["features"]
        if 0.1 < feature["properties"]["height"] < 0.9
    }
    assert sorted(lines) == [0.25, 0.5, 0.75]
    for height, line in lines.items():
        assert line.is_ring
        assert {z for _, _, z in line.coords} == {height}
        radius = 3 * (1 - height)
        assert Polygon(line).area == pytest.approx(math.pi * radius**2, rel=0.02)


def test_contours_in_dxf_are_the_same(tmp_path):
    ll.write_contours(tmp_path / "cone.dxf", cone(), 0.25, spacing=0.1)
    ll.write_contours(tmp_path / "cone.geojson", cone(), 0.25, spacing=0.1)
    document = ezdxf.readfile(tmp_path / "cone.dxf")
    assert not document.audit().has_errors
    assert document.units == ezdxf.units.M
    drawn = [line for line in document.modelspace() if line.dxf.layer == "contour"]
    features = json.loads((tmp_path / "cone.geojson").read_text())["features"]
    assert len(drawn) == len(features)
    for line, feature in zip(drawn, features, strict=True):
        wanted = np.array(feature["geometry"]["coordinates"])
        points = np.array([tuple(point) for point in line.points()])
        assert np.allclose(points, wanted[: len(points)], atol=1e-9)
        assert line.is_closed == (len(points) == len(wanted) - 1)


@pytest.mark.parametrize("ending", ["geojson", "dxf"])
def test_outline_of_a_landing(tmp_path, ending):
    path, landing = tmp_path / f"landing.{ending}", built()
    ll.write_outline(path, landing)
    if ending == "dxf":
        space = ezdxf.readfile(path).modelspace()
        lines = {line.dxf.layer: [tuple(p) for p in line.points()] for line in space}
    else:
        read = json.loads(path.read_text())["features"]
        lines = {f["properties"]["layer"]: f["geometry"]["coordinates"] for f in read}
    assert set(lines) == {"toe", "face", "crest", "foot"}
    face, toe = Polygon([p[:2] for p in lines["face"]]), Polygon([p[:2] for p in lines["toe"]])
    assert face.area == pytest.approx(4 * 3, rel=0.15)
    assert toe.buffer(1e-6).contains(face)
    assert np.allclose(lines["crest"], landing.crest_line)


def test_section_is_svg_and_the_same_each_time(tmp_path):
    landing = built()
    ground = ll.Ground.plane(slope_deg=3.0)
    for name in ("a.svg", "b.svg"):
        ll.write_section(tmp_path / name, ground, landing.ground, (0, 0), (12, 3))
    root = ET.parse(tmp_path / "a.svg").getroot()
    assert root.tag.endswith("svg")
    assert len(list(root.iter("{http://www.w3.org/2000/svg}path"))) > 8


def test_wrong_wishes_say_what_is_wrong_and_write_nothing(tmp_path):
    path = tmp_path / "x.geojson"
    with pytest.raises(ll.InputError) as error:
        ll.write_contours(path, cone(), 0.0)
    assert error.value.field == "interval"
    with pytest.raises(ll.InputError) as error:
        ll.write_contours(path, ll.Ground.plane(), 0.1)
    assert error.value.field == "area"
    with pytest.raises(ll.InputError) as error:
        ll.write_contours(path, cone(), 0.1, spacing=1e-6)
    assert error.value.field == "spacing"
    with pytest.raises(ll.FileError, match=r"\.dxf"):
        ll.write_contours(tmp_path / "x.shp", cone(), 0.1)
    with pytest.raises(ll.FileError, match="cannot be written"):
        ll.write_contours(tmp_path / "none" / "x.json", cone(), 0.1)
    with pytest.raises(ll.InputError):
        ll.write_section(tmp_path / "x.svg", cone(), cone(), (0, 0), (0, 0))
    with pytest.raises(ll.FileError):
        ll.write_ascii_grid(tmp_path / "x.asc", cone(), spacing=0.0)
    assert list(tmp_path.iterdir()) == []


def test_without_ezdxf_dxf_says_what_to_install(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    with pytest.raises(ImportError, match="pip install"):
        ll.write_contours(tmp_path / "x.dxf", cone(), 0.25)

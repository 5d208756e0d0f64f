"""Profiles and surveys out of files, against what wrote them."""

from __future__ import annotations

import math
import subprocess
import sys

import laspy
import numpy as np
import pytest
import rasterio
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rasterio.transform import Affine

import loamline as ll


def slope(x, y):
    """An invented hill, m."""
    return 40.0 - 0.2 * x + 0.05 * y + 0.3 * np.sin(0.4 * x)


EAST, NORTH = 512_000.0, 5_204_000.0
LEVEL = Affine(0.5, 0.0, EAST, 0.0, -0.5, NORTH)


def geotiff(path, transform, shape=(60, 80), hole=False):
    rows, columns = np.mgrid[: shape[0], : shape[1]]
    a, b, c, d, e, f = tuple(transform)[:6]
    x, y = a * (columns + 0.5) + b * (rows + 0.5) + c, d * (columns + 0.5) + e * (rows + 0.5) + f
    heights = slope(x - EAST, y - NORTH).astype("float32")
    nothing = {"nodata": -9999.0} if hole else {}
    if hole:
        heights[:3, :3] = -9999.0
    size = {"height": shape[0], "width": shape[1], "count": 1, "dtype": "float32"}
    with rasterio.open(path, "w", driver="GTiff", transform=transform, **size, **nothing) as raster:
        raster.write(heights, 1)
    return path


def on_the_hill(points, origin, heading_deg):
    """How far points of the site lie off the hill, m."""
    turn = math.radians(heading_deg)
    x = origin[0] + points[:, 0] * math.cos(turn) - points[:, 1] * math.sin(turn)
    y = origin[1] + points[:, 0] * math.sin(turn) + points[:, 1] * math.cos(turn)
    return np.abs(points[:, 2] + origin[2] - slope(x - EAST, y - NORTH)).max()


ORIGIN = (EAST + 20.0, NORTH - 15.0, 36.0)


@pytest.mark.parametrize("heading", [0.0, 60.0, -135.0])
@pytest.mark.parametrize("hole", [False, True])
def test_a_geotiff_lies_where_another_library_put_it(tmp_path, heading, hole):
    path = geotiff(tmp_path / "hill.tif", LEVEL, hole=hole)
    points = ll.read_survey(path, origin=ORIGIN, heading_deg=heading, reach=12.0, spacing=0.5)
    assert on_the_hill(points, ORIGIN, heading) < 1e-4
    assert np.hypot(*points[:, :2].T).max() <= 12.0
    assert 0.75 * math.pi * 144.0 / 0.25 < len(points) <= math.pi * 13.0**2 / 0.25


def test_a_turned_geotiff_is_read_by_its_own_frame(tmp_path):
    cos, sin = 0.5 * math.cos(0.4), 0.5 * math.sin(0.4)
    turned = Affine(cos, sin, EAST, sin, -cos, NORTH)
    points = ll.read_survey(geotiff(tmp_path / "hill.tiff", turned), origin=(EAST + 20.0, NORTH, 36.0), reach=8.0)
    assert len(points) > 100 and on_the_hill(points, (EAST + 20.0, NORTH, 36.0), 0.0) < 1e-4


def test_our_own_geotiff_comes_back(tmp_path):
    ground = ll.Ground.plane((0, 0, 1.0), slope_deg=8.0, heading_deg=30.0)
    ll.write_geotiff(tmp_path / "plane.tif", ground, spacing=0.5, area=(-5.0, -4.0, 5.0, 4.0))
    points = ll.read_survey(tmp_path / "plane.tif", reach=50.0)
    np.testing.assert_allclose(points[:, 2], ground.height(points[:, 0], points[:, 1]), atol=1e-5)


def cloud(path, classed):
    draw = np.random.default_rng(3)
    x, y = draw.uniform(0.0, 40.0, (2, 4000))
    trees = draw.random(4000) < 0.3
    las = laspy.create(point_format=3, file_version="1.2")
    las.header.scales, las.header.offsets = [0.001] * 3, [EAST, NORTH, 0.0]
    las.x, las.y, las.z = EAST + x, NORTH - y, slope(x, -y) + np.where(trees, draw.uniform(0.5, 12.0, 4000), 0.0)
    if classed:
        las.classification = np.where(trees, 5, 2)
    las.write(path)
    return path


@pytest.mark.parametrize("ending", ["las", "laz"])
def test_of_a_point_cloud_only_the_ground_is_taken(tmp_path, ending):
    points = ll.read_survey(cloud(tmp_path / f"hill.{ending}", True), origin=ORIGIN, heading_deg=40.0, reach=10.0)
    assert len(points) > 200 and on_the_hill(points, ORIGIN, 40.0) < 2e-3


def test_where_nothing_is_classed_the_lowest_counts(tmp_path):
    points = ll.read_survey(cloud(tmp_path / "hill.las", False), origin=ORIGIN, reach=10.0, spacing=2.0)
    off = points[:, 2] + ORIGIN[2] - slope(points[:, 0] + 20.0, points[:, 1] - 15.0)
    assert np.quantile(off, 0.9) < 1e-2


def test_a_table_of_a_survey_takes_other_words(tmp_path):
    path = tmp_path / "s.csv"
    path.write_text("# by tape\nname,Easting,Northing,Height\na,1,2,0.5\nb,9,2,0.1\nc,4,8,0\n", "utf-8")
    points = ll.read_survey(path, origin=(1.0, 2.0, 0.5), heading_deg=90.0)
    np.testing.assert_allclose(points, [[0, 0, 0], [0, -8, -0.4], [6, -3, -0.5]], atol=1e-12)


def test_a_tape_and_an_inclinometer_make_a_profile(tmp_path):
    path = tmp_path / "run-in.csv"
    path.write_text("tape,angle_deg\n5,-30\n4,-10\n2,0\n", "utf-8")
    distance, height = ll.read_profile(path)
    np.testing.assert_allclose(np.diff(distance), [5 * math.cos(math.pi / 6), 4 * math.cos(math.radians(10)), 2])
    np.testing.assert_allclose(np.diff(height), [-2.5, -4 * math.sin(math.radians(10)), 0], atol=1e-12)
    assert (distance[0], height[0]) == (0.0, 0.0)


def test_level_distances_and_heights_make_a_profile(tmp_path):
    path = tmp_path / "run-in.csv"
    path.write_text("distance,height\n3,4.5\n8,3\n20,1\n", "utf-8")
    distance, height = ll.read_profile(path)
    assert distance.tolist() == [0.0, 5.0, 17.0] and height.tolist() == [4.5, 3.0, 1.0]


def test_a_track_makes_a_profile(tmp_path):
    metre = 1.0 / 111_195.0
    points = "".join(
        f'<trkpt lat="{48.0 - d * metre:.9f}" lon="11.0"><ele>{500.0 - 0.2 * d:.3f}</ele></trkpt>'
        for d in (0.0, 0.3, 4.0, 4.2, 9.0, 16.0)
    )
    path = tmp_path / "ride.gpx"
    head = '<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">'
    path.write_text(f"{head}<trk><trkseg>{points}</trkseg></trk></gpx>", "utf-8")
    distance, height = ll.read_profile(path)
    # Points nearer than a metre are passed over.
    np.testing.assert_allclose(distance, [0.0, 4.0, 9.0, 16.0], rtol=2e-3)
    np.testing.assert_allclose(height, [500.0, 499.2, 498.2, 496.8], atol=1e-3)


BAD = {
    "none.csv": None,
    "empty.csv": b"",
    "head.csv": b"distance,height\n",
    "words.csv": b"distance,height\n0,1\n5,high\n",
    "nan.csv": b"distance,height\n0,1\n5,nan\n",
    "short.csv": b"distance,height\n0,1\n5\n",
    "other.csv": b"time,speed\n0,1\n",
    "bytes.csv": bytes(range(256)),
    "broken.gpx": b"<gpx><trk>",
    "bare.gpx": b'<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"></gpx>',
    "photo.tif": b"II*\x00 no",
    "cloud.las": b"LASF no",
    "file.docx": b"",
}


@pytest.mark.parametrize("name", BAD)
def test_files_that_are_none_are_told_and_nothing_else(tmp_path, name):
    if BAD[name] is not None:
        (tmp_path / name).write_bytes(BAD[name])
    read = ll.read_survey if name.endswith(("tif", "las")) else ll.read_profile
    with pytest.raises(ll.FileError, match=name):
        read(tmp_path / name)


def test_a_line_is_named(tmp_path):
    (tmp_path / "run-in.csv").write_text("# taped\ndistance,height\n0,1\n5,high\n", "utf-8")
    with pytest.raises(ll.FileError, match="line 4: 'high'"):
        ll.read_profile(tmp_path / "run-in.csv")


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200), st.sampled_from(["csv", "gpx", "tif", "las"]))
def test_no_bytes_end_in_anything_but_our_errors(tmp_path, data, ending):
    (tmp_path / f"x.{ending}").write_bytes(data)
    for read in (ll.read_profile, ll.read_survey):
        with pytest.raises(ll.LoamlineError):
            read(tmp_path / f"x.{ending}")


def test_far_away_and_wrong_numbers_are_told(tmp_path):
    path = geotiff(tmp_path / "hill.tif", LEVEL)
    with pytest.raises(ll.FileError, match="origin"):
        ll.read_survey(path)
    for wrong in ({"reach": math.nan}, {"spacing": 0.0}, {"origin": (math.inf, 0.0, 0.0)}):
        with pytest.raises(ll.InputError, match=next(iter(wrong))):
            ll.read_survey(path, **wrong)


def test_a_photo_says_that_it_lies_nowhere(tmp_path):
    import tifffile

    tifffile.imwrite(tmp_path / "photo.tif", np.zeros((4, 4), dtype="float32"))
    with pytest.raises(ll.FileError, match="GeoTIFF"):
        ll.read_survey(tmp_path / "photo.tif")


def test_the_commands_write_tables_that_a_site_takes(tmp_path):
    path = geotiff(tmp_path / "hill.tif", LEVEL)
    command = [sys.executable, "-m", "loamline.cli"]
    how = ["--origin", *map(str, ORIGIN), "--heading", "-20", "--reach", "9", "-o", str(tmp_path / "survey.csv")]
    done = subprocess.run([*command, "survey", str(path), *how], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    again = ll.read_survey(tmp_path / "survey.csv")
    whole = ll.read_survey(path, origin=ORIGIN, heading_deg=-20.0, reach=9.0)
    np.testing.assert_allclose(again, whole, atol=1e-4)

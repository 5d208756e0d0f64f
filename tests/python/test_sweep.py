"""Sweeps say what flights say, whatever the blocks, and go on where they stopped."""

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest

import loamline as ll

GROUND = ll.Ground.plane(slope_deg=10.0)
OVER = {
    "wind_x": [-3.0, 0.0, 3.0],
    "riders": {"mass": [60.0, 90.0], "cda": [0.5, 0.6]},
    "speed": np.linspace(4.0, 9.0, 11),
    "pitch_deg": [0.0, 12.0, 25.0],
}


def small(**changes):
    return ll.sweep(OVER, GROUND, z=2.0, **changes)


def test_each_case_is_its_flight():
    data = small()
    assert dict(data.sizes) == {"wind_x": 3, "riders": 2, "speed": 11, "pitch_deg": 3}
    rng = np.random.default_rng(3)
    for _ in range(12):
        at = {name: int(rng.integers(size)) for name, size in data.sizes.items()}
        case = data.isel(at)
        pitch = np.radians(float(case.pitch_deg))
        velocity = (case.speed * np.cos(pitch), 0.0, case.speed * np.sin(pitch))
        rider = ll.Rider(mass=float(case.mass), cda=float(case.cda))
        launch = ll.Launch((0.0, 0.0, 2.0), tuple(float(v) for v in velocity))
        air = ll.Air(wind=(float(case.wind_x), 0.0, 0.0))
        down = launch.flight(GROUND, rider, air).touchdown
        assert float(case.fall_height) == pytest.approx(down.fall_height, abs=1e-8)
        assert [float(case[f"mark_{axis}"]) for axis in "xyz"] == pytest.approx(down.mark, abs=1e-8)
        assert ll.Flights.statuses[int(case.status)] == "landed"


def test_variables_say_their_units_and_go_through_files(tmp_path):
    xarray = pytest.importorskip("xarray")
    data = small()
    units = {name: variable.attrs.get("units") for name, variable in data.variables.items()}
    assert [name for name, unit in units.items() if unit is None] == ["status"]
    assert (units["fall_height"], units["speed"], units["cda"], units["angle_deg"]) == ("m", "m s-1", "m2", "degree")
    meanings = data.status.attrs["flag_meanings"].split()
    assert dict(zip(data.status.attrs["flag_values"], meanings))[0] == "landed" and tuple(meanings) == ll.Flights.statuses
    data.to_netcdf(tmp_path / "sweep.nc")
    back = xarray.load_dataset(tmp_path / "sweep.nc")
    assert back.equals(data) and back.fall_height.attrs == data.fall_height.attrs


@pytest.mark.parametrize("block", [1, 7, 50, 10_000])
def test_blocks_clients_and_threads_do_not_matter(block):
    whole = small(threads=1)
    told = []
    cut = small(block=block, progress=lambda done, total: told.append((done, total)))
    np.testing.assert_allclose(cut.fall_height, whole.fall_height, atol=1e-9)
    assert told[-1] == (198, 198)
    with ThreadPoolExecutor(2) as client:
        shared = small(block=block, client=client)
    assert shared.identical(cut)


def test_a_store_is_gone_on_with_and_is_of_one_sweep(tmp_path):
    pytest.importorskip("zarr")
    store = tmp_path / "sweep.zarr"

    def stop(done, total):
        if done >= 60:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        small(store=store, block=20, progress=stop)
    told = []
    data = small(store=store, block=20, progress=lambda done, _: told.append(done))
    assert told[0] > 60 and told[-1] == 198
    assert np.array_equal(data.fall_height, small(block=20).fall_height)
    assert float(data.mass[1]) == 90.0 and data.fall_height.dims == tuple(OVER)
    again = []
    small(store=store, block=20, progress=lambda *_: again.append(1))
    assert not again
    with pytest.raises(ll.InputError, match="another sweep"):
        ll.sweep({"speed": [5.0]}, GROUND, z=2.0, store=store)


def test_a_store_of_something_else_is_left_as_it_is(tmp_path):
    zarr = pytest.importorskip("zarr")
    other = zarr.open_group(tmp_path / "other.zarr", mode="a")
    other.create_array("time", shape=(3,), dtype="f8")[:] = [1.0, 2.0, 3.0]
    with pytest.raises(ll.InputError, match="something else"):
        small(store=tmp_path / "other.zarr")
    assert list(other["time"][:]) == [1.0, 2.0, 3.0]


def test_wrong_axes_are_named():
    for over, fixed, word in [
        ({"speeds": [5.0]}, {"z": 2.0}, "speeds"),
        ({"speed": [5.0]}, {}, "z"),
        ({"speed": [5.0], "people": {"speed": [4.0]}}, {"z": 2.0}, "speed"),
        ({"speed": [5.0], "people": {"mass": [60.0], "cda": [0.4, 0.5]}}, {"z": 2.0}, "people"),
        ({"speed": 5.0}, {"z": 2.0}, "speed"),
        ({"speed": []}, {"z": 2.0}, "speed"),
        ({"speed": [5.0]}, {"z": 2.0, "mass": 80.0}, "mass"),
        ({"speed": [5.0], "mass": [-1.0]}, {"z": 2.0}, "mass"),
    ]:
        with pytest.raises(ll.InputError, match=word):
            ll.sweep(over, GROUND, **fixed)
    with pytest.raises(ll.InputError, match="block"):
        small(block=0)


def test_what_is_not_finite_spoils_only_its_case():
    data = ll.sweep({"speed": [5.0, np.nan, 6.0]}, GROUND, z=2.0)
    assert np.isnan(data.time).values.tolist() == [False, True, False]

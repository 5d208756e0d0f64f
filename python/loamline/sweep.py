"""Flights over grids of parameters and ensembles, block by block: more than memory holds."""

from __future__ import annotations

import hashlib
import itertools
import math
import pickle
from collections import deque
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

import loamline as ll

from ._frames import _need

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from .frames import Array

Region = tuple[slice, ...]

LAUNCH = ("x", "y", "z", "speed", "pitch_deg", "heading_deg")
RIDER = ("mass", "cda", "com_height_landing")
AIR = ("wind_x", "wind_y", "wind_z", "density")
NAMES = LAUNCH + RIDER + AIR

NUMBERS = ("time", "fall_height", "normal_speed", "angle_deg", "distance", "drop")
PARTS = ("mark_x", "mark_y", "mark_z")

#: Units of parameters and results, as UDUNITS writes them: on the axes of what xarray draws.
UNITS = {
    **dict.fromkeys(("x", "y", "z", "com_height_landing", "fall_height", "distance", "drop", *PARTS), "m"),
    **dict.fromkeys(("speed", "wind_x", "wind_y", "wind_z", "normal_speed"), "m s-1"),
    **dict.fromkeys(("pitch_deg", "heading_deg", "angle_deg"), "degree"),
    **{"mass": "kg", "cda": "m2", "density": "kg m-3", "time": "s"},
}

#: Blocks handed out to a client before the first is waited for.
IN_FLIGHT = 32


def sweep(
    over: Mapping[str, Any],
    ground: Any,
    rider: Any = None,
    air: Any = None,
    *,
    store: str | Path | None = None,
    block: int = 1_000_000,
    threads: int | None = None,
    client: Any = None,
    progress: Callable[[int, int], Any] | None = None,
    **fixed: float,
) -> Any:
    """Flies every combination of launches, riders and airs; returns an `xarray.Dataset`, a dimension an axis.

    The same numbers whatever the blocks, threads or client, within what `flights` promises. A case that cannot be flown
    is NaN, and its `status` says why (a place in `Flights.statuses`). Variables have their `units`. Needs xarray; a
    store needs zarr too.

    Args:
        over: axes by name. An axis is the values of one parameter under its own name, or an ensemble: a mapping of
            parameters to equally many values each, under a name of its own. Parameters are `x`, `y`, `z`, `speed`,
            `pitch_deg`, `heading_deg` of the launch's centre of mass; `mass`, `cda`, `com_height_landing` of the
            rider; `wind_x`, `wind_y`, `wind_z`, `density` of the air.
        ground: what is flown onto.
        rider, air: all that no axis says; None takes `Rider()` and `Air()`.
        store: a directory for a Zarr store. Blocks already in it are not flown again, and the dataset is read from it
            only where it is looked at: memory stays flat. None keeps all in memory.
        block: cases flown at a time, at most.
        threads: of this process; None takes as many as the machine has.
        client: what runs the blocks instead: a Dask client, or anything whose `submit(function, *arguments)` gives a
            future with `result()`. Blocks are written by this process as they come.
        progress: called with cases done and all there are.
        **fixed: launch parameters that no axis has; what is left out is 0, but `speed` and `z` must be given.

    Raises:
        InputError: an axis or parameter that is not known, missing or given twice; a store of another sweep, or of something else.
    """
    _need("xarray")
    plan = _Plan(over, fixed, ground, rider or ll.Rider(), air or ll.Air())
    regions = list(plan.regions(block))
    sink = _Memory(plan) if store is None else _Store(plan, regions, store)
    todo = [number for number in range(len(regions)) if not sink.has(number)]
    sizes = [math.prod(part.stop - part.start for part in region) for region in regions]
    done = sum(sizes) - sum(sizes[number] for number in todo)
    for number, columns in _flown(plan, regions, todo, threads, client):
        sink.write(number, regions[number], columns)
        done += sizes[number]
        if progress is not None:
            progress(done, sum(sizes))
    return _told(sink.dataset())


def _told(data: Any) -> Any:
    """Returns a dataset whose variables say their units, and its status what it means (after the CF conventions)."""
    for name, unit in UNITS.items():
        if name in data.variables:
            data[name].attrs["units"] = unit
    meanings = ll.Flights.statuses
    data["status"].attrs.update(flag_values=list(range(len(meanings))), flag_meanings=" ".join(meanings))
    data.attrs["source"] = f"loamline {ll.__version__}"
    return data


def _flown(
    plan: _Plan, regions: list[Region], todo: list[int], threads: int | None, client: Any
) -> Iterator[tuple[int, dict[str, Array]]]:
    """Yields blocks and their columns, in order; through a client some ahead."""
    if client is None:
        for number in todo:
            yield number, plan.fly(regions[number], threads)
        return
    waiting: deque[tuple[int, Any]] = deque()
    for number in todo:
        waiting.append((number, client.submit(plan.fly, regions[number], 1)))
        if len(waiting) >= IN_FLIGHT:
            first, future = waiting.popleft()
            yield first, future.result()
    for number, future in waiting:
        yield number, future.result()


class _Plan:
    """The axes, and how a block of cases is flown; goes by pickle to where it is flown."""

    def __init__(
        self, over: Mapping[str, Any], fixed: Mapping[str, float], ground: Any, rider: Any, air: Any
    ) -> None:
        self.axes = {name: _axis(name, values) for name, values in over.items()}
        self.fixed = {name: float(value) for name, value in fixed.items()}
        self.ground, self.rider, self.air = ground, rider, air
        given = [*itertools.chain.from_iterable(self.axes.values()), *self.fixed]
        for name in given:
            if name not in NAMES:
                raise ll.InputError(f"{name}: not a parameter; there are {', '.join(NAMES)}")
            if given.count(name) > 1:
                raise ll.InputError(f"{name}: given more than once")
        for name in self.fixed:
            if name not in LAUNCH:
                raise ll.InputError(f"{name}: say it in rider or air, or give it an axis")
        for name in ("speed", "z"):
            if name not in given:
                raise ll.InputError(f"{name}: give it an axis or a value")

    @property
    def shape(self) -> tuple[int, ...]:
        return tuple(len(next(iter(axis.values()))) for axis in self.axes.values())

    def regions(self, block: int) -> Iterator[Region]:
        """Yields parts of the whole of at most so many cases, whole in the last axes."""
        if block < 1:
            raise ll.InputError(f"block = {block} is out of range: at least 1")
        steps = self.steps(block)
        ranges = [range(0, n, step) for n, step in zip(self.shape, steps, strict=True)]
        for corner in itertools.product(*ranges):
            yield tuple(
                slice(start, min(start + step, n))
                for start, step, n in zip(corner, steps, self.shape, strict=True)
            )

    def steps(self, block: int) -> tuple[int, ...]:
        """Returns how long a block is along each axis."""
        steps, left = [], block
        for n in reversed(self.shape):
            steps.append(max(1, min(n, left)))
            left //= max(1, n)
        return tuple(reversed(steps))

    def fly(self, region: Region, threads: int | None) -> dict[str, Array]:
        """Returns the columns of a block, in its shape."""
        values, shape = self._values(region)
        out = {name: np.full(math.prod(shape), np.nan) for name in NUMBERS + PARTS}
        out["status"] = np.zeros(math.prod(shape), np.uint8)
        position = np.stack([values[name] for name in ("x", "y", "z")], axis=1)
        velocity = _velocity(values)
        for rows, rider, air in self._scenes(values):
            flown = ll.flights(
                position[rows], velocity[rows], self.ground, rider, air, threads=threads
            )
            for name in NUMBERS:
                out[name][rows] = getattr(flown, name)
            for i, name in enumerate(PARTS):
                out[name][rows] = flown.mark[:, i]
            out["status"][rows] = flown.status
        return {name: column.reshape(shape) for name, column in out.items()}

    def _values(self, region: Region) -> tuple[dict[str, Array], tuple[int, ...]]:
        """Returns each parameter of each case of a block, and the block's shape."""
        shape = tuple(part.stop - part.start for part in region)
        whole = np.ones(math.prod(shape))
        values = {name: whole * self.fixed.get(name, 0.0) for name in LAUNCH}
        for i, axis in enumerate(self.axes.values()):
            along = [-1 if i == j else 1 for j in range(len(shape))]
            for name, column in axis.items():
                part = column[region[i]].reshape(along)
                values[name] = np.broadcast_to(part, shape).ravel()
        return values, shape

    def _scenes(self, values: dict[str, Array]) -> Iterator[tuple[Any, Any, Any]]:
        """Yields the rows of each rider and air, and those two."""
        names = [name for name in RIDER + AIR if name in values]
        if not names:
            yield slice(None), self.rider, self.air
            return
        table = np.stack([values[name] for name in names], axis=1)
        each, which = np.unique(table, axis=0, return_inverse=True)
        for number, row in enumerate(each):
            said = dict(zip(names, (float(value) for value in row), strict=True))
            yield np.flatnonzero(which.ravel() == number), self._rider(said), self._air(said)

    def _rider(self, said: dict[str, float]) -> Any:
        """Returns the rider with what a case says: as far as a flight asks."""
        own = {name: said.get(name, getattr(self.rider, name)) for name in RIDER}
        return ll.Rider(com_height=self.rider.com_height, **own)

    def _air(self, said: dict[str, float]) -> Any:
        wind = [said.get(f"wind_{axis}", self.air.wind[i]) for i, axis in enumerate("xyz")]
        return ll.Air(
            elevation=self.air.elevation,
            temperature_c=self.air.temperature_c,
            density=said.get("density", self.air.density),
            wind=tuple(float(part) for part in wind),
            gravity=self.air.gravity,
        )

    def coords(self) -> dict[str, Any]:
        """Returns each parameter along its axis."""
        named = {}
        for dim, axis in self.axes.items():
            named.update({name: ((dim,), column) for name, column in axis.items()})
        return named

    def mark(self, block: tuple[int, ...]) -> str:
        """Returns what tells this sweep from any other."""
        axes = [(dim, name, x.tolist()) for dim, axis in self.axes.items() for name, x in axis.items()]
        scene = (self.ground, self.rider, self.air)
        said = pickle.dumps((axes, self.fixed, scene, block), protocol=4)
        return hashlib.sha256(said).hexdigest()


def _axis(name: str, values: Any) -> dict[str, Array]:
    columns = values if isinstance(values, Mapping) else {name: values}
    axis = {key: np.asarray(column, dtype=float) for key, column in columns.items()}
    sizes = {column.shape for column in axis.values()}
    if len(sizes) != 1 or len(next(iter(sizes))) != 1 or not all(next(iter(sizes))):
        raise ll.InputError(f"{name}: one row of numbers each, equally many, at least one, is wanted")
    return axis


def _velocity(values: dict[str, Array]) -> Array:
    pitch, heading = np.radians(values["pitch_deg"]), np.radians(values["heading_deg"])
    level = values["speed"] * np.cos(pitch)
    parts = (level * np.cos(heading), level * np.sin(heading), values["speed"] * np.sin(pitch))
    return np.stack(parts, axis=1)


class _Memory:
    """All cases in memory."""

    def __init__(self, plan: _Plan) -> None:
        self._plan = plan
        self._columns: dict[str, Array] = {n: np.full(plan.shape, np.nan) for n in NUMBERS + PARTS}
        self._columns["status"] = np.zeros(plan.shape, np.uint8)

    def has(self, _: int) -> bool:
        return False

    def write(self, _: int, region: Region, columns: dict[str, Array]) -> None:
        for name, column in columns.items():
            self._columns[name][region] = column

    def dataset(self) -> Any:
        dims = tuple(self._plan.axes)
        data = {name: (dims, column) for name, column in self._columns.items()}
        return _need("xarray").Dataset(data, coords=self._plan.coords())


class _Store:
    """A Zarr store: a chunk a block, and a list of the blocks that are in it."""

    def __init__(self, plan: _Plan, regions: list[Region], path: str | Path) -> None:
        self._plan, self._path = plan, str(path)
        self._group = _need("zarr").open_group(self._path, mode="a")
        along = zip(*regions, strict=True)
        chunk = tuple(max(part.stop - part.start for part in parts) for parts in along)
        mark = plan.mark(chunk)
        if self._group.attrs.get("sweep", mark) != mark:
            raise ll.InputError(f"store: {self._path} holds another sweep, or other blocks")
        if "sweep" not in self._group.attrs:
            if any(True for _ in self._group.keys()):
                raise ll.InputError(f"store: {self._path} holds something else, which is left as it is")
            self._lay_out(chunk, len(regions))
            self._group.attrs["sweep"] = mark
        self._done = self._group["_block_done"]

    def _lay_out(self, chunk: tuple[int, ...], blocks: int) -> None:
        dims = list(self._plan.axes)
        for name in (*NUMBERS, *PARTS, "status"):
            whole = name == "status"
            self._group.create_array(
                name,
                shape=self._plan.shape,
                chunks=chunk,
                dtype="u1" if whole else "f8",
                fill_value=0 if whole else float("nan"),
                dimension_names=dims,
                overwrite=True,
            )
        for name, ((dim,), column) in self._plan.coords().items():
            array = self._group.create_array(
                name, shape=column.shape, dtype="f8", dimension_names=[dim], overwrite=True
            )
            array[:] = column
        self._group.create_array(
            "_block_done",
            shape=(blocks,),
            chunks=(1,),
            dtype="u1",
            fill_value=0,
            dimension_names=["_block"],
            overwrite=True,
        )

    def has(self, number: int) -> bool:
        return bool(self._done[number])

    def write(self, number: int, region: Region, columns: dict[str, Array]) -> None:
        for name, column in columns.items():
            self._group[name][region] = column
        self._done[number] = 1

    def dataset(self) -> Any:
        data = _need("xarray").open_zarr(self._path, consolidated=False, chunks=None)
        named = [name for name in self._plan.coords() if name in data.data_vars]
        return data.drop_vars("_block_done").set_coords(named)

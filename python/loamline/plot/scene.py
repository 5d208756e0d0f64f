"""The site in three dimensions: ground, takeoff, landing and flights that can be touched and read."""

from __future__ import annotations

import importlib
from typing import Any

import numpy as np
from matplotlib.colors import to_hex, to_rgb

from . import style
from .side import spread
from .units import length, scale, units_of

_PATH = 40
_LIGHT = np.array([-0.35, -0.5, 0.79])
# Marks are drawn a little over the ground, or it would hide their lower halves, m.
_OVER = np.array([0.0, 0.0, 0.04])


def scene(
    site: Any,
    passes: Any = None,
    ground: Any = None,
    flights: int = 60,
    fall_limit: float | None = None,
    look: str | None = None,
    units: str | None = None,
) -> Any:
    """Makes a scene to turn and to touch; returns a `plotly.graph_objects.Figure`.

    `plot.save(scene, "scene.html")` writes a page that needs nothing from outside.

    Args:
        site: the site.
        passes: passes of which flights are drawn, on the ground shown; None draws none.
        ground: ground with a landing, or None for the ground as it is.
        flights: how many flights, spread evenly from near to far.
        fall_limit: limit in metres for the colours; the site's where None.
        look: "light" or "dark".
        units: "metres" or "feet", for the axes and what is read.

    Raises:
        ImportError: plotly is not installed.
    """
    try:
        # By name: it has no types to check by.
        go = importlib.import_module("plotly.graph_objects")
    except ImportError as error:
        raise ImportError("the scene needs plotly: pip install 'loamline[scene]'") from error

    limit = site.fall_limit if fall_limit is None else fall_limit
    with style.sheet(look), units_of(units):
        drawn = [*_ground(go, site.ground, passes), _takeoff(go, site.takeoff), _edge(go, site.takeoff)]
        if ground is not None and ground.mesh is not None:
            places, faces = ground.mesh
            drawn.append(_mesh(go, places, faces, style.EARTH, "landing"))
        if passes is not None:
            drawn += _flights(go, passes, flights, limit)
        drawn.append(_named(go, site))
        return go.Figure(drawn, _layout(site, passes))


def _scaled(points: Any) -> Any:
    return np.asarray(points, dtype=float) / length().size


def _xyz(points: Any) -> dict[str, Any]:
    rows = np.round(_scaled(points), 3)
    return dict(zip("xyz", rows.reshape(-1, 3).T))


def _ground(go: Any, ground: Any, passes: Any) -> list[Any]:
    """Returns the ground's triangles; of a ground without end, a patch around the marks."""
    corners = ground.triangles()
    if corners is None:
        corners = _patch(ground, passes)
    points = corners.reshape(-1, 3)
    # One corner shared by many triangles is one point, so that light falls evenly.
    places, index = np.unique(np.round(points, 6), axis=0, return_inverse=True)
    return [_mesh(go, places, index.reshape(-1, 3), style.GROUND, "ground")]


def _patch(ground: Any, passes: Any) -> Any:
    marks = np.zeros((1, 3)) if passes is None else passes.mark[np.isfinite(passes.mark[:, 0])]
    low, high = marks[:, :2].min(axis=0) - 5.0, marks[:, :2].max(axis=0) + 5.0
    (x0, y0), (x1, y1) = low, high
    x, y = np.array([x0, x1, x1, x0]), np.array([y0, y0, y1, y1])
    corners = np.column_stack([x, y, ground.height(x, y)])
    return corners[[0, 1, 2, 0, 2, 3]].reshape(-1, 3, 3)


def _mesh(go: Any, places: Any, faces: Any, colour: str, name: str) -> Any:
    faces = np.asarray(faces)
    # Lit here: the library's own light makes dark stripes on narrow triangles.
    plain = {"ambient": 1.0, "diffuse": 0.0, "specular": 0.0, "fresnel": 0.0}
    look = {"color": colour, "facecolor": _lit(np.asarray(places), faces, colour), "lighting": plain}
    corners = dict(zip("ijk", faces.T))
    return go.Mesh3d(**_xyz(places), **corners, **look, name=name, showlegend=True, hoverinfo="name")


def _lit(places: Any, faces: Any, colour: str) -> list[str]:
    """Returns a colour for each triangle, lighter where it faces a light high up from behind the riders' right."""
    one, two, three = (places[faces[:, k]] for k in range(3))
    normal = np.cross(two - one, three - one)
    normal *= np.sign(normal[:, 2:]) / np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-12)
    bright = 0.55 + 0.5 * np.clip(normal @ _LIGHT, 0.0, 0.9)
    # Few shades: as many colours as a page can keep by name.
    shades = {b: to_hex(np.clip(b * np.array(to_rgb(colour)), 0.0, 1.0)) for b in np.unique(np.round(bright, 2))}
    return [shades[b] for b in np.round(bright, 2)]


def _takeoff(go: Any, takeoff: Any) -> Any:
    mesh = _scaled(takeoff.mesh(40, 8))
    plain = [[0, style.TIMBER], [1, style.TIMBER]]
    x, y, z = np.moveaxis(np.round(mesh, 3), -1, 0)
    name = type(takeoff).__name__.lower()
    return go.Surface(x=x, y=y, z=z, colorscale=plain, showscale=False, showlegend=True, name=name, hoverinfo="name")


def _edge(go: Any, takeoff: Any) -> Any:
    look = {"mode": "lines", "line": {"color": style.INK, "width": 7}}
    return go.Scatter3d(**_xyz(takeoff.mesh(2, 12)[-1]), **look, name="edge", hoverinfo="name")


def _flights(go: Any, passes: Any, count: int, limit: float) -> list[Any]:
    chosen = spread(passes, count)
    norm = style.severity_norm(limit)
    drawn = []
    for i in chosen:
        words = _words(passes, int(i))
        line = {"color": to_hex(style.FALL_HEIGHT(norm(passes.fall_height[i]))), "width": 4}
        shown = {"mode": "lines", "line": line, "text": words, "hoverinfo": "text", "showlegend": False}
        drawn.append(go.Scatter3d(**_xyz(passes.path(int(i), _PATH)), **shown, name="flight"))
    drawn.append(_marks(go, passes, chosen, limit))
    return drawn


def _marks(go: Any, passes: Any, chosen: Any, limit: float) -> Any:
    one = length()
    colours = [[k / 32, to_hex(style.FALL_HEIGHT(k / 32))] for k in range(33)]
    # Below, where a phone has room for it.
    bar = {"title": {"text": f"fall height, {one.name}", "side": "bottom"}, "orientation": "h", "thickness": 12}
    bar |= {"len": 0.8, "y": 0.0, "yanchor": "top", "tickfont": {"size": 11}}
    marker = {
        "size": 4, "color": passes.fall_height[chosen] / one.size, "colorscale": colours, "colorbar": bar,
        "cmin": 0.0, "cmax": 2.0 * limit / one.size,
    }
    words = [_words(passes, int(i)) for i in chosen]
    return go.Scatter3d(
        **_xyz(passes.mark[chosen] + _OVER), mode="markers", marker=marker, text=words, hoverinfo="text", name="marks"
    )


def _words(passes: Any, i: int) -> str:
    """Returns what a flight says when it is touched."""
    one, speed = length(), _speed()
    return "<br>".join(
        (
            f"<b>{passes.class_names[int(passes.who[i])]}</b>: {str(passes.outcome[i]).replace('_', ' ')}",
            f"fall height {passes.fall_height[i] / one.size:.2f} {one.name}",
            f"mark {passes.distance[i] / one.size:.2f} {one.name} out",
            f"start {passes.start[i] / one.size:.1f} {one.name} up the hill",
            f"onto the takeoff at {passes.entry_speed[i] / speed.size:.1f} {speed.name}",
            f"leaves at {passes.leave[i] / one.size:.2f} {one.name}",
            f"{passes.exit_speed[i] / speed.size:.1f} {speed.name} at the edge",
            f"lean: {passes.hardest_lean[i]}",
        )
    )


def _speed() -> Any:
    """Returns the unit of speed that goes with the unit of length."""
    return scale("metres" if length().size == 1.0 else "feet").speed


def _named(go: Any, site: Any) -> Any:
    places = np.array([*site.marks.values(), *(place for _, place, _ in site.obstacles)], dtype=float).reshape(-1, 3)
    names = [*site.marks, *(name for name, _, _ in site.obstacles)]
    known = np.isfinite(places).all(axis=1)
    words = [name for name, there in zip(names, known) if there]
    marker = {"size": 4, "symbol": "cross", "color": style.INK}
    return go.Scatter3d(
        **_xyz(places[known]), mode="markers+text", marker=marker, text=words, textposition="top center",
        name="pegs, stones", hoverinfo="text",
    )


def _camera(site: Any, passes: Any) -> dict[str, Any]:
    """Returns a look from the right of the flights at where they come down, in shares of the scene's longest side."""
    edge = site.takeoff.mesh(2, 3)[-1, 1]
    marks = _ahead(site.takeoff) if passes is None else passes.mark[np.isfinite(passes.mark[:, 0])]
    corners = site.ground.bounds
    low, high = corners if corners is not None else (edge - 8.0, edge + 8.0)
    reach = float(max(high[:2] - low[:2]))
    at = (0.5 * (np.mean(marks, axis=0) + edge) - 0.5 * (low + high)) / reach
    way = np.mean(marks, axis=0)[:2] - edge[:2]
    ahead = way / max(float(np.hypot(*way)), 1e-9)
    right = np.array([ahead[1], -ahead[0]])
    eye = at + np.array([*(0.62 * right + 0.25 * ahead), 0.34])
    return {"center": _point(at), "eye": _point(eye), "up": {"x": 0, "y": 0, "z": 1}}


def _ahead(takeoff: Any) -> Any:
    """Returns a place 3 m out from the edge, where there are no marks to look at."""
    rim, before = takeoff.mesh(40, 3)[[-1, -2], 1]
    return (rim + 3.0 * (rim - before) / float(np.linalg.norm(rim - before)))[None]


def _point(place: Any) -> dict[str, float]:
    return {k: round(float(v), 3) for k, v in zip("xyz", place)}


def _layout(site: Any, passes: Any) -> dict[str, Any]:
    grid = f"rgba({','.join(str(round(255 * v)) for v in to_rgb(style.STONE))},0.35)"
    axis = {"backgroundcolor": "rgba(0,0,0,0)", "gridcolor": grid, "zerolinecolor": grid, "showspikes": False}
    named = {k: {**axis, "title": {"text": f"{k}, {length().name}"}} for k in "xyz"}
    return {
        "title": {"text": f"{site.name}: touch a flight to read it"},
        "paper_bgcolor": style.PAPER,
        "font": {"color": style.INK, "family": "DejaVu Sans, sans-serif"},
        "scene": {
            **{f"{k}axis": named[k] for k in "xyz"},
            "aspectmode": "data",
            "dragmode": "turntable",
            "camera": _camera(site, passes),
        },
        "hoverlabel": {"bgcolor": style.PAPER, "font": {"color": style.INK}},
        "legend": {"orientation": "h", "y": -0.11, "yanchor": "top"},
        # No button that sends the site to somebody's server, by the names of several versions.
        "modebar": {"orientation": "v", "remove": ["sendChartToCloud", "sendDataToCloud", "editInChartStudio"]},
        "margin": {"l": 0, "r": 0, "t": 50, "b": 0},
    }

"""What the pages show: axes and signs, the touch, and what the models say."""

from collections.abc import Callable

import loamline as ll
import numpy as np
from loamline import plot
from loamline.plot.style import BLUE, EARTH, GREEN, GROUND, INK, RED, TIMBER
from matplotlib import pyplot as plt
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Arc, Circle, Rectangle


def _bare(width: float, height: float) -> tuple[Figure, Axes]:
    """Returns a figure without axes' lines, metres to metres."""
    figure, ax = plt.subplots(figsize=(width, height))
    ax.set_axis_off()
    ax.set_aspect("equal")
    return figure, ax


def _arrow(
    ax: Axes, start: tuple[float, float], end: tuple[float, float], colour: str = INK, width: float = 1.4
) -> None:
    look = {"arrowstyle": "-|>", "color": colour, "lw": width, "shrinkA": 0, "shrinkB": 0}
    ax.annotate("", end, start, arrowprops=look)


def _say(ax: Axes, place: tuple[float, float], words: str, colour: str = INK, **look: object) -> None:
    ax.text(*place, words, color=colour, fontsize=9, **{"ha": "left", "va": "center", **look})


def _turn(ax: Axes, middle: tuple[float, float], radius: float, start: float, end: float, colour: str) -> None:
    """Draws an arc with a head at its end, degrees counter-clockwise."""
    angles = np.radians(np.linspace(start, end, 40))
    x, y = middle[0] + radius * np.cos(angles), middle[1] + radius * np.sin(angles)
    ax.plot(x[:-2], y[:-2], "-", color=colour, lw=1.2)
    _arrow(ax, (x[-4], y[-4]), (x[-1], y[-1]), colour, 1.2)


def axes_plan() -> Figure:
    """The site from above: axes, headings, a wall that turns left, a landing and its own directions."""
    figure, ax = _bare(5.2, 3.7)
    _arrow(ax, (0, 0), (2.2, 0))
    _arrow(ax, (0, 0), (0, 2.2))
    _say(ax, (2.3, 0), "x")
    _say(ax, (0, 2.4), "y", ha="center")
    ax.plot([0], [0], "o", ms=9, mfc="none", mec=INK)
    ax.plot([0], [0], "o", ms=3, color=INK)
    _say(ax, (-0.25, -0.3), "z, up to you", ha="right")
    shape = {"radius": 5.0, "sweep_deg": 50.0, "bank_deg": (20.0, 60.0), "width": 1.6}
    wall = ll.Wall(**shape, position=(2.2, 2.2, 0.0), heading_deg=-30.0)
    mesh = wall.mesh(40, 2)
    ax.fill(*np.vstack([mesh[:, 0], mesh[::-1, 1]])[:, :2].T, color=TIMBER, alpha=0.3, lw=0)
    ax.plot(mesh[-1, :, 0], mesh[-1, :, 1], "-", color=TIMBER, lw=3)
    foot = mesh[:, 0]
    ax.plot(foot[:, 0], foot[:, 1], "-", color=TIMBER, lw=1.2)
    _arrow(ax, tuple(foot[0, :2]), tuple(foot[14, :2]), BLUE)
    _say(ax, (2.3, 3.55), "wall, turn left:\nthe panel stands outside", TIMBER, va="bottom")
    ax.annotate("", (3.2, 2.5), (3.2, 3.5), arrowprops={"arrowstyle": "-", "color": TIMBER, "lw": 0.7})
    _landing(ax, np.array([8.4, 4.1]), np.radians(25.0))
    ax.set(xlim=(-2.6, 12.6), ylim=(-0.9, 7.6))
    return figure


def _landing(ax: Axes, crest: np.ndarray, heading: float) -> None:
    """Draws a landing from above with its heading and its own along and across."""
    along, left = np.array([np.cos(heading), np.sin(heading)]), np.array([-np.sin(heading), np.cos(heading)])
    foot = crest + 3.0 * along
    corners = [crest - 1.1 * left, crest + 1.1 * left, foot + 1.1 * left, foot - 1.1 * left]
    ax.fill(*np.array(corners).T, color=EARTH, alpha=0.45, lw=0)
    ax.plot(*np.array(corners[:2]).T, "-", color=EARTH, lw=2.5)
    _arrow(ax, tuple(crest), tuple(crest + 2.2 * along), GREEN)
    _arrow(ax, tuple(crest), tuple(crest + 1.9 * left), GREEN)
    _say(ax, tuple(crest + 0.7 * along + 0.35 * left), "along", GREEN, rotation=25)
    _say(ax, tuple(crest + 2.15 * left), "across, to the left", GREEN, ha="center")
    ax.plot([crest[0], crest[0] + 3.2], [crest[1]] * 2, ":", color=INK, lw=1)
    _turn(ax, tuple(crest), 2.7, 0.0, 24.0, INK)
    _say(ax, tuple(crest + [0.2, -1.45]), "heading: counter-clockwise from +x", va="top", ha="center")


def axes_side() -> Figure:
    """From the side: grade, slope, distance, drop, and the plain drop that comes down as hard."""
    figure, ax = _bare(5.2, 3.2)
    lip = np.array([[-3.2, 0.0], [-1.4, 0.1], [0.0, 0.75]])
    face = np.array([[-1.0, -1.0], [1.9, -0.9], [2.8, -0.2], [6.8, -2.2], [8.6, -2.3]])
    ax.fill_between(face[:, 0], face[:, 1], -3.0, color=GROUND, alpha=0.35, lw=0)
    ax.plot(*face.T, "-", color=GROUND, lw=1.6)
    ax.plot(*lip.T, "-", color=TIMBER, lw=2.5)
    rider, air = ll.Rider(com_height=0.0), ll.Air()
    ground = ll.Ground.survey([(x, y, z) for x, z in face for y in (-1.0, 1.0)])
    flight = ll.Launch((0.0, 0.0, 0.75), (6.0, 0.0, 2.0)).flight(ground, rider, air)
    path, mark = flight.path(60), flight.touchdown.mark
    ax.plot(path[:, 0], path[:, 2], "-", color=BLUE, lw=1.5)
    ax.plot(mark[0], mark[2], "o", color=RED)
    _say(ax, (-3.3, -0.35), "grade: positive uphill")
    _say(ax, (2.2, -2.45), "slope: positive downhill", GROUND)
    ax.plot([0.0, mark[0]], [0.75] * 2, ":", color=INK, lw=1)
    ax.plot([mark[0]] * 2, [0.75, mark[2]], ":", color=INK, lw=1)
    _say(ax, (0.6 * mark[0], 0.86), "distance", ha="center", va="bottom")
    _say(ax, (mark[0] + 0.12, 0.3), "drop, positive down")
    _say(ax, (mark[0] + 0.25, mark[2] + 0.12), "the tyres' mark, where a flag goes", RED)
    _say(ax, (-0.15, 1.0), "edge", TIMBER, ha="right")
    ax.set(xlim=(-3.4, 9.6), ylim=(-3.1, 1.7))
    return figure


def axes_bike() -> Figure:
    """Bike and rider: forward, left and up, and which way each turn counts."""
    figure, ax = _bare(5.2, 3.4)
    for x in (-0.48, 0.72):
        ax.add_patch(Circle((x, 0.35), 0.35, fill=False, color=INK, lw=1.6))
    ax.plot([-0.9, 1.2], [0.0, 0.0], "-", color=GROUND, lw=1.4)
    ax.plot([-0.48, -0.05, 0.5, 0.72], [0.35, 0.4, 0.95, 0.35], "-", color=INK, lw=1.4)
    ax.plot([0.0], [1.0], "o", ms=8, color=RED)
    _arrow(ax, (0.0, 1.0), (0.95, 1.0), BLUE)
    _arrow(ax, (0.0, 1.0), (0.0, 1.75), BLUE)
    _say(ax, (1.0, 1.0), "t, forward", BLUE)
    _say(ax, (0.0, 1.85), "u, up through the bike", BLUE, ha="center")
    _say(ax, (-0.1, 1.0), "centre of mass", RED, ha="right")
    _turn(ax, (0.0, 1.0), 0.5, 75.0, 20.0, GREEN)
    _say(ax, (0.52, 1.36), "pitch, nose down", GREEN)
    ax.plot([0.0, 0.0], [0.0, 0.93], ":", color=INK, lw=1)
    _say(ax, (0.04, 0.6), "h", va="bottom")
    # From behind: which way lean and roll count.
    n = 2.9
    ax.add_patch(Rectangle((n - 0.04, 0.0), 0.08, 0.7, fill=False, color=INK, lw=1.4))
    ax.plot([n - 0.7, n + 0.9], [0.0, 0.0], "-", color=GROUND, lw=1.4)
    ax.plot([n, n], [0.0, 1.75], ":", color=INK, lw=1)
    lean = np.radians(114.0)
    _arrow(ax, (n, 0.0), (n + 1.5 * np.cos(lean), 1.5 * np.sin(lean)), BLUE)
    ax.add_patch(Arc((n, 0.0), 2.3, 2.3, theta1=90.0, theta2=114.0, color=BLUE, lw=1.2))
    _say(ax, (n - 0.66, 1.5), "lean,\nto the left", BLUE, ha="center", va="bottom")
    _turn(ax, (n, 0.55), 0.55, 125.0, 35.0, GREEN)
    _say(ax, (n + 0.5, 0.95), "roll, to\nthe right", GREEN)
    _say(ax, (n, -0.2), "from behind", ha="center", va="top")
    _say(ax, (0.1, -0.2), "from the right", ha="center", va="top")
    _say(ax, (0.1, -0.42), "l, to the left, points into the page", BLUE, ha="center", va="top")
    _say(ax, (0.1, -0.64), "yaw, about u, turns to the left", GREEN, ha="center", va="top")
    ax.set(xlim=(-1.5, 4.2), ylim=(-0.85, 2.1))
    return figure


def touch() -> Figure:
    """The touch: a ball about the centre of mass, the mark, and the two parts of the velocity."""
    figure, ax = _bare(5.2, 3.0)
    slope, com = np.radians(22.0), np.array([0.0, 0.0])
    down, normal = np.array([np.cos(slope), -np.sin(slope)]), np.array([np.sin(slope), np.cos(slope)])
    mark = com - normal
    ends = np.array([mark - 2.6 * down, mark + 3.0 * down])
    ax.fill_between(ends[:, 0], ends[:, 1], -2.6, color=GROUND, alpha=0.35, lw=0)
    ax.plot(*ends.T, "-", color=GROUND, lw=1.6)
    ax.add_patch(Circle(com, 1.0, fill=False, color=BLUE, lw=1.2, ls="--"))
    ax.plot(*com, "o", color=RED, ms=6)
    ax.plot(*mark, "o", color=RED, ms=6)
    ax.plot(*np.array([com, mark]).T, ":", color=INK, lw=1)
    fall = 1.9 * np.array([np.cos(np.radians(48.0)), -np.sin(np.radians(48.0))])
    into = fall @ normal
    _arrow(ax, tuple(com), tuple(com + fall), BLUE)
    _arrow(ax, tuple(com), tuple(com + into * normal), RED)
    _arrow(ax, tuple(com), tuple(com + (fall - into * normal)), GREEN)
    _say(ax, tuple(com + fall + [0.1, 0.0]), "velocity", BLUE)
    _say(ax, tuple(com + 0.55 * into * normal + [0.1, -0.02]), "$v_n$", RED)
    _say(ax, (-2.65, -2.1), "$v_n$, the speed into the surface", RED)
    _say(ax, tuple(com + (fall - into * normal) + [0.1, 0.1]), "along the surface", GREEN)
    _say(ax, tuple(mark + [0.15, -0.25]), "mark", RED, va="top")
    _say(ax, (-1.0, 0.75), "reach $h$", BLUE, ha="right")
    time = np.linspace(-0.42, 0.0, 30)
    v = 4.0 * fall
    ax.plot(v[0] * time, v[1] * time - 4.9 * time**2 * 0.4, "-", color=BLUE, lw=1)
    ax.set(xlim=(-3.4, 3.6), ylim=(-2.4, 2.0))
    return figure


def leans() -> Figure:
    """Fall height over entry speed for the three leans, off one steepening wall onto level ground."""
    wall = ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4)
    line, rider, air, level = wall.line(enter=0.25, leave=1.6), ll.Rider(), ll.Air(), ll.Ground.plane()
    figure, ax = plt.subplots(figsize=(5.2, 3.0))
    speeds = np.linspace(7.4, 9.4, 9)
    for lean in ("deck", "balanced", "settled"):
        rides = (line.ride(rider, air, speed=v, lean=lean) for v in speeds)
        falls = [ride.launch().flight(level, rider, air).touchdown.fall_height for ride in rides]
        ax.plot(speeds, falls, label=lean)
    ax.set(xlabel="entry speed, m/s", ylabel="fall height on level ground, m")
    ax.set_ylim(bottom=0)
    ax.legend()
    return figure


def even() -> Figure:
    """An even landing with some of its flights."""
    figure, ax = plt.subplots(figsize=(5.2, 3.0))
    landing = ll.even_landing(20.0, 0.5, far=(9.0, -2.0), near=3.0, rider=ll.Rider(), air=ll.Air())
    plot.even(landing, ax=ax)
    return figure


def loads() -> Figure:
    """Force on the body against time, from a soft landing and from one that uses up the legs."""
    figure, axes = plt.subplots(2, 1, figsize=(5.2, 4.6), sharex=True)
    for ax, height in zip(axes, (0.6, 1.4), strict=True):
        plot.loads(ll.Rider().loads(fall_height=height), ax=ax)
        ax.set_title(f"fall height {height} m")
    axes[0].set_xlabel("")
    return figure


def demo() -> Figure:
    """The demo from the side: the edge, flights coloured by fall height, and the landing fitted to them."""
    site = ll.Site.demo()
    passes = site.passes(n=256, seed=1)
    fit = ll.fit_landing(passes, site, volume=site.barrow_count * site.barrow_in_place, seed=1)
    built = fit.ground
    figure, ax = plt.subplots(figsize=(5.2, 3.2))
    plot.side(site, passes.on(built), built=built, landing=built.landing, ax=ax)
    plot.severity_bar(ax, site.fall_limit, orientation="horizontal", shrink=0.6)
    return figure


DRAWINGS: dict[str, Callable[[], Figure]] = {
    "axes-plan": axes_plan,
    "axes-side": axes_side,
    "axes-bike": axes_bike,
    "touch": touch,
    "leans": leans,
    "even": even,
    "loads": loads,
    "demo": demo,
}

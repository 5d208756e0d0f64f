"""One of every public class, made from the invented demo as cheaply as it goes, and how it was made."""

import inspect
from functools import cache

import numpy as np

import loamline as ll

RIDER, AIR = ll.Rider(), ll.Air()
PLANE = ll.Ground.plane()
# Arguments with which each public function and class can be called.
LANDING = {"crest": (2.4, 0.7), "heading_deg": 5.0, "slope_deg": 22.0, "length": 2.6, "width": 2.4}
RAMP = {"height": 0.8, "width": 1.5, "ramp_grade": 0.4, "sag_radius": 4.0, "crest_radius": 3.0}
EVEN = {"fall_height": 0.5, "far": (9.0, -2.0), "near": 3.0, "rider": RIDER, "air": AIR}


def launch(share):
    """A launch off an invented wall: the higher up it is left, the steeper and the more to the left."""
    heading, angle = 0.2 + 0.4 * share, 0.1 + 0.2 * share
    way = np.array([np.cos(angle) * np.cos(heading), np.cos(angle) * np.sin(heading), np.sin(angle)])
    return ll.Launch(position=(3.0, 1.0 + 1.2 * share, 2.0 + 0.6 * share), velocity=tuple(way))


@cache
def site():
    return ll.Site.demo()


@cache
def passes():
    return site().passes(n=64, seed=1)


@cache
def found():
    flags = [ll.Flag(start=18.0, who="regulars", mark=(2.6, 0.6), leave=0.9)]
    return ll.fit_flags(site(), flags, free=["speed"], lean="deck")


def calls():
    """Returns for each public name how it is called, in arguments by name."""
    demo, ground = site(), site().ground.with_landing(ll.Landing(**LANDING))
    flight = ll.Launch((0, 0, 2), (6, 0, 0)).flight(PLANE, RIDER, AIR)
    return {
        "Absorber": {}, "Air": {}, "Doubt": {}, "Rider": {}, "Landing": LANDING, "Entrance": RAMP, "Soil": {},
        "Drop": {"length": 3.0, "width": 1.2}, "Lip": {"radius": 4.0, "end_angle_deg": 40.0, "width": 1.5},
        "Wall": {"radius": 7.0, "sweep_deg": 55.0, "bank_deg": (20.0, 68.0), "width": 2.4},
        "Profile": {"distance": [0.0, 10.0, 30.0], "height": [4.0, 2.0, 0.0]},
        "Launch": {"position": (0, 0, 2), "velocity": (6, 0, 0)},
        "Borrow": {"name": "old ditch", "available": 20.0, "distance": 15.0},
        "Flag": {"start": 18.0, "who": "regulars", "mark": (2.6, 0.6), "leave": 0.9},
        "base_course": {"length": 3.0, "width": 1.0}, "membrane": {"length": 3.0, "height": 1.0},
        "check_entrance": {"entrance": ll.Entrance(**RAMP), "ground": PLANE, "rider": RIDER, "air": AIR, "speed": 6.0},
        "earthwork": {"before": demo.ground, "after": ground},
        "even_landing": {"launch_angle_deg": 20.0, **EVEN},
        "even_surface": {"launches": [launch(s) for s in (0.0, 0.5, 1.0)], **EVEN, "far": (7.0, -2.6)},
        "fit_flags": {"site": demo, "flags": found().flags, "free": ["speed"], "lean": "deck"},
        "fit_landing": {"passes": passes(), "site": demo, "volume": 2.5, "fall_limit": 1.0},
        "flights": {"position": np.array([[0.0, 0, 2]]), "velocity": np.array([[6.0, 0, 1]]), "ground": PLANE,
                    "rider": RIDER, "air": AIR},
        "flight_paths": {"position": np.array([[0.0, 0, 2]]), "velocity": np.array([[6.0, 0, 1]]), "time": [0.5],
                         "rider": RIDER, "air": AIR},
        "free_landing": {"passes": passes(), "fall_limit": 1.0, "volume": 0.4, "steps": 2, "spacing": 0.5},
        "bargain": {"site": demo, "volume": 0.3, "changes": [{"length": -0.2}], "n": 32},
        "barrow_map": {"passes": passes(), "fall_limit": 1.0, "volume": 0.06},
        "next_barrows": {"passes": passes(), "fall_limit": 1.0, "volume": 0.06, "count": 1},
        "next_step": {"found": found(), "draws": 16}, "ladder": {"found": found(), "draws": 16, "goal": 19.0},
        "loads": {"normal_speed": [2.0, 4.0], "rider": RIDER},
        "rigid_flights": {"position": np.array([[0.0, 0, 2]]), "velocity": np.array([[6.0, 0, 1]]),
                          "attitude": np.eye(3)[None], "ground": PLANE, "rider": RIDER, "air": AIR},
        "passes": {"takeoff": demo.wall, "speed": [8.0, 2.0], "leave": [1.1, 1.1], "ground": demo.ground,
                   "rider": RIDER, "air": AIR, "enter": demo.enter},
        "ponding": {"ground": ll.Ground.grid((0, 0), (1, 1), [[1.0, 1, 1], [1, 0, 1], [1, 1, 1]])},
        "retaining": {"height": 1.5, "width": 1.2}, "run_out": {"flight": flight, "rider": RIDER, "air": AIR},
        "tradeoff": {"passes": passes(), "site": demo, "volumes": [2.5], "fall_limit": 1.0},
    }  # fmt: skip


# What is made here: known without making it, for the tests' names.
CLASSES = sorted(
    name for name in ll.__all__ if inspect.isclass(getattr(ll, name)) and not issubclass(getattr(ll, name), Exception)
)
MADE = [name for name in CLASSES if name != "Journal"]


@cache
def things():
    """Returns an instance of each public class by its name."""
    line = site().wall.line(enter=site().enter, leave=1.1)
    ride = line.ride(RIDER, site().air, 8.0)
    flight = ride.launch().flight(site().ground, RIDER, AIR)
    turned = ll.Launch((0, 0, 2), (6, 0, 0), attitude=np.eye(3))
    terrain = ll.Terrain.polyline([0, 40], [4.0, 0.0])
    built = ll.Landing(**LANDING).on(site().ground)
    # A bargain of as it is alone: each change asks for many fits.
    wanted = {**calls(), "bargain": {**calls()["bargain"], "changes": []}}
    made = [getattr(ll, name)(**how) for name, how in wanted.items() if name not in ("next_barrows",)]
    made += [
        site(), site().classes[0], passes(), line, ride, flight, flight.touchdown, built, built.ground, terrain,
        line.hold_speeds(RIDER, AIR), RIDER.loads(fall_height=0.6), turned.rigid_flight(PLANE, RIDER, AIR),
        RIDER.two_wheel_ride(terrain, AIR, start=2.0, speed=5.0), found().forecast(18.5, draws=16),
        found().pocket_card([18.0]),
    ]  # fmt: skip
    # What comes as numpy's array is no class of ours: its methods write files where they are told to.
    ours = [one for one in made if type(one).__module__.startswith("loamline")]
    named = {type(one).__name__: one for one in ours}
    named["Balance"] = named["Earthwork"].balance([named["Borrow"]])
    named["Pond"] = named["Ponding"].ponds[0]
    return named

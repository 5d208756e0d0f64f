"""Free lines: against an independent integration, and what Python says of them."""

import numpy as np
import oracle_free as oracle
import pytest
from test_oracles_rides import plan_rows, random_case

import loamline as ll

WALLS = 20
WIDTH = 3.0


def ours(case):
    turn, wall, climb, rider, air, speed = case
    drawn = ll.Wall(
        pieces=plan_rows(wall), bank_deg=tuple(np.degrees(wall.bank)), width=WIDTH,
        grade=wall.grade, turn=turn, position=wall.position, heading_deg=np.degrees(wall.heading),
    )  # fmt: skip
    wheel_inertia = rider.rotating * rider.mass * 0.35**2 / 2
    who = ll.Rider(
        mass=rider.mass, cda=rider.cda, crr=rider.crr, com_height=rider.com_height,
        wheel_radius=0.35, wheel_inertia=wheel_inertia,
    )  # fmt: skip
    weather = ll.Air(density=air.density, wind=air.wind, gravity=air.gravity)
    return drawn.free_line(who, weather, enter=climb.enter, speed=speed, end="any").free_end


@pytest.mark.parametrize("com_height", [0.0, 1.0])
def test_exits_agree_with_newtons_law_in_time(com_height):
    compared, ended, worst = 0, 0, 0.0
    for seed in range(40 * WALLS):
        case = random_case(seed, com_height)
        _, wall, climb, rider, air, speed = case
        try:
            end = ours(case)
        except ll.RideError:
            continue
        theirs = oracle.Free(wall, rider, air).ride(WIDTH, climb.enter, speed)
        if theirs is None:
            assert end["outcome"] != "edge", seed
            ended += 1
            continue
        assert end["outcome"] == "edge", seed
        off = [abs(end[key] - getattr(theirs, key)) for key in ("station", "height", "speed", "time")]
        assert max(off) < 1e-6, (seed, off)
        worst, compared = max(worst, *off), compared + 1
        if compared == WALLS:
            break
    print(f"\n{compared} lines to the edge, {ended} that end before: off {worst:.1e} at most")
    assert compared == WALLS


@pytest.fixture(scope="module")
def wall():
    return ll.Wall(radius=7.0, sweep_deg=55.0, bank_deg=(20.0, 68.0), width=2.4, grade=-0.04)


def test_a_free_line_is_ridden_without_side_load(wall):
    rider, air = ll.Rider(), ll.Air()
    line = wall.free_line(rider, air, enter=0.25, speed=8.0)
    ride = line.ride(rider, air, speed=8.0)
    assert ride.outcome == "reached"
    assert np.max(ride.grip_demand * ride.normal_load) * air.gravity < 1e-8
    end = line.free_end
    assert ride.exit_speed == pytest.approx(end["speed"], abs=1e-9)
    assert ride.time[-1] == pytest.approx(end["time"], abs=1e-9)
    on = line.on_panel(50)
    assert on.shape == (50, 2)
    np.testing.assert_allclose(on[[0, -1]], [[0, 0.25], [end["station"], end["height"]]], atol=1e-9)
    # In wind it is another one.
    assert wall.free_line(rider, ll.Air(wind=(0, 5, 0)), enter=0.25, speed=8.0) != line


def test_faster_riders_leave_higher(wall):
    rider, air = ll.Rider(), ll.Air()
    heights = [
        wall.free_line(rider, air, enter=0.25, speed=v).free_end["height"] for v in (7, 8, 9)
    ]
    assert heights == sorted(heights)


def test_the_speed_that_leaves_at_a_height_is_found(wall):
    rider, air = ll.Rider(), ll.Air()
    speed = wall.free_speed(rider, air, enter=0.25, leave=1.6)
    line = wall.free_line(rider, air, enter=0.25, speed=speed)
    assert line.free_end["height"] == pytest.approx(1.6, abs=1e-6)
    with pytest.raises(ll.InputError) as error:
        wall.free_speed(rider, air, enter=0.25, leave=2.5)
    assert error.value.field == "leave"
    level = ll.Wall(pieces=[{"length": 8.0}], bank_deg=0.0, width=2.0)
    with pytest.raises(ll.RideError, match="no entry speed"):
        level.free_speed(rider, air, enter=0.5, leave=1.0)


def test_lines_that_end_before_the_edge_say_how(wall):
    rider, air = ll.Rider(), ll.Air()
    with pytest.raises(ll.RideError, match="comes down to the foot") as error:
        wall.free_line(rider, air, enter=1.0, speed=3.0)
    assert error.value.outcome == "foot"
    assert 0 < error.value.station < wall.length
    line = wall.free_line(rider, air, enter=1.0, speed=14.0, heading_deg=20, end="any")
    assert line.free_end["outcome"] == "top"
    assert line.on_panel()[-1, 1] == pytest.approx(wall.width, abs=1e-8)
    with pytest.raises(ll.RideError, match="ends where it starts"):
        wall.free_line(rider, air, enter=0.0, speed=3.0, end="any")


def test_wrong_inputs_are_named(wall):
    rider, air = ll.Rider(), ll.Air()
    good = {"enter": 0.3, "speed": 8.0}
    for field, bad in [
        ("enter", 2.5), ("enter", np.nan), ("speed", 0.0), ("speed", 101.0), ("heading_deg", 91.0),
    ]:  # fmt: skip
        with pytest.raises(ll.InputError) as error:
            wall.free_line(rider, air, **(good | {field: bad}))
        assert error.value.field == field
    with pytest.raises(ll.InputError, match="end"):
        wall.free_line(rider, air, **good, end="somewhere")
    with pytest.raises(ll.InputError, match="not on a wall"):
        ll.Profile([0, 10], [1, 0]).line().on_panel()


def test_pickle_and_repr_make_the_same_line_again(wall, round_trip, rebuilt):
    rider, air = ll.Rider(mass=82.5, wheel_inertia=0.1), ll.Air(wind=(1.0, -2.0, 0.0))
    for entry in ({"speed": 8.0}, {"speed": 14.0, "heading_deg": 12.0, "end": "any"}):
        line = wall.free_line(rider, air, enter=0.25, **entry)
        back = round_trip(line)
        assert back == line
        assert back.free_end == line.free_end
        np.testing.assert_allclose(rebuilt(line).on_panel(), line.on_panel(), atol=1e-9)
    assert wall.line(enter=0.25, leave=1.6).free_end is None


def test_the_unrolled_wall_shows_it(wall):
    plot = pytest.importorskip("loamline.plot")
    free = wall.free_line(ll.Rider(), ll.Air(), enter=0.25, speed=8.0)
    ax = plot.wall(wall, [free, wall.line(enter=0.25, leave=1.6), [(0.0, 0.3), (3.0, 1.0)]])
    drawn = [line.get_xydata() for line in ax.lines[:3]]
    np.testing.assert_allclose(drawn[0], free.on_panel())
    assert drawn[1][-1, 1] == pytest.approx(1.6)
    assert len(drawn[2]) == 2

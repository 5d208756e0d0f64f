"""The run-out: does it stop by the book, and does it say what is wrong?"""

import numpy as np
import pytest

import loamline as ll

AIR = ll.Air()
BARE = ll.Rider(cda=0.0, crr=0.0)


def flown(velocity=(7.0, 0.0, 1.0), height=2.0, ground=None, rider=BARE):
    launch = ll.Launch(position=(0, 0, height), velocity=velocity)
    return launch.flight(ground or ll.Ground.plane(), rider, AIR)


def test_on_the_level_it_stops_by_the_book():
    run = ll.run_out(flown(), BARE, AIR, brake=3.0, reaction=0.8)
    assert run.speed_kept == pytest.approx(7.0)
    assert run.braking_from == pytest.approx(5.6)
    assert run.stop_station == pytest.approx(5.6 + 49.0 / 6.0)
    assert run.stop_time == pytest.approx(0.8 + 7.0 / 3.0, abs=1e-4)
    assert run.peak_load == pytest.approx(1.0)
    assert run.drift is None
    assert run.warnings == []


def test_down_a_built_landing():
    landing = ll.Landing(
        crest=(3, 0), heading_deg=0, slope_deg=23, length=5, width=3, foot_radius=7.0
    )
    ground = ll.Ground.plane().with_landing(landing)
    run = ll.run_out(flown((7.0, 0.6, 1.0), 4.2, ground), BARE, AIR, brake=3.0)
    mark = flown((7.0, 0.6, 1.0), 4.2, ground).touchdown.mark
    way = run.stop_place[:2] - mark[:2]
    assert np.degrees(np.arctan2(way[1], way[0])) == pytest.approx(run.heading_deg, abs=1e-6)
    assert run.drift == pytest.approx(run.stop_place[1])
    assert run.peak_load > 1.5
    assert run.peak_load == run.ride.normal_load.max()


def test_an_obstacle_leaves_room_or_is_hit():
    mark = flown().touchdown.mark
    far = ll.run_out(flown(), BARE, AIR, 3.5, 0.0, obstacle=(mark[0] + 10.0, 0.0, 0.3))
    assert (far.room, far.obstacle_speed) == (pytest.approx(2.3, abs=1e-5), None)
    near = ll.run_out(flown(), BARE, AIR, 3.5, 0.0, obstacle=(mark[0] + 5.0, 0.0, 0.3))
    assert near.obstacle_speed == pytest.approx(np.sqrt(49.0 - 7.0 * 4.3), abs=1e-3)
    assert any("obstacle" in warning for warning in near.warnings)


def test_pickle_text_card_and_explanation(round_trip):
    run = ll.run_out(flown(), BARE, AIR)
    assert round_trip(run) == run
    assert repr(run).startswith("<RunOut: keeps 7.00 m/s, up to 1.00 g, stops after ")
    assert "certify nothing" in run._repr_html_()
    assert "speed_kept = 7" in run.explain()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"brake": -1.0}, "brake"),
        ({"reaction": float("nan")}, "reaction"),
        ({"length": 0.5}, "length"),
        ({"obstacle": (1.0, 2.0, 0.0)}, "obstacle.radius"),
        ({"obstacle": (1.0, 2.0)}, "obstacle"),
    ],
)
def test_wrong_input_is_named(changes, field):
    with pytest.raises(ll.InputError) as caught:
        ll.run_out(flown(), BARE, AIR, **changes)
    assert caught.value.field == field


def test_what_cannot_be_ridden_says_why():
    with pytest.raises(ll.RideError, match="riding out"):
        ll.run_out(flown((0.0, 0.0, 2.0)), BARE, AIR)
    table = ll.Ground.grid((-2, -2), (1, 1), np.zeros((5, 6)))
    with pytest.raises(ll.RideError, match="touch down"):
        ll.run_out(flown((9.0, 0.0, 2.0), 2.0, table), BARE, AIR)


def test_the_turn_onto_the_trail():
    mark = flown().touchdown.mark
    run = ll.run_out(flown(), BARE, AIR, 0.0, 0.5, trail=(mark[0] + 12.0, 0.0, 90.0))
    assert run.turn_deg == pytest.approx(90.0)
    assert run.turn_station == pytest.approx(12.0)
    # Tangents of R tan(45 degrees), from where half a second at 7 m/s is gone.
    assert run.turn_radius == pytest.approx(8.5, abs=0.03)
    assert run.turn_grip_demand == pytest.approx(49.0 / (AIR.gravity * run.turn_radius))
    none = ll.run_out(flown(), BARE, AIR)
    assert (none.turn_deg, none.turn_radius) == (None, None)


def test_what_is_left_rides_the_next_feature():
    run = ll.run_out(flown(), BARE, AIR, 0.0, 0.0)
    assert (run.touched, run.touch_slope_deg, run.end_slope_deg) == ("landed", 0.0, 0.0)
    mark = flown().touchdown.mark
    lip = ll.Lip(radius=4.0, end_angle_deg=30.0, width=1.5, position=(mark[0] + 20.0, 0.0, 0.0))
    ride = run.ride_on(lip.line(), BARE, AIR)
    assert ride.speed[0] == pytest.approx(run.speed_at(20.0)) == pytest.approx(7.0)
    assert ride.launch().flight(ll.Ground.plane(), BARE, AIR).touchdown.outcome == "landed"
    aside = ll.Lip(radius=4.0, end_angle_deg=30.0, width=1.5, position=(mark[0] + 20.0, 2.0, 0.0))
    with pytest.raises(ll.RideError, match="left of the course"):
        run.ride_on(aside.line(), BARE, AIR)

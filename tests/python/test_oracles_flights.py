"""Flights onto planes against SciPy: any direction, any steady wind, with and without legs."""

import numpy as np
import pytest

import loamline as ll
from oracle_flight import Path, drag_constant, polished

FLIGHTS = 200


def random_case(seed):
    rng = np.random.default_rng([20, seed])
    slope, heading = np.radians(rng.uniform(-15, 40)), rng.uniform(0, 2 * np.pi)
    down = np.array([np.cos(heading), np.sin(heading), 0.0]) * np.tan(slope)
    normal = (down + [0, 0, 1]) / np.linalg.norm(down + [0, 0, 1])
    point = rng.uniform(-3, 3, 3)
    reach = 0.0 if seed % 3 == 0 else rng.uniform(0.3, 1.3)
    position = point + normal * (reach + rng.uniform(0.2, 4.0)) + rng.uniform(-1, 1) * down
    level, up = rng.uniform(0, 2 * np.pi), np.radians(rng.uniform(-20, 60))
    speed = rng.uniform(1, 16)
    velocity = speed * np.array([np.cos(level) * np.cos(up), np.sin(level) * np.cos(up), np.sin(up)])
    return {
        "slope": slope, "heading": heading, "normal": normal, "point": point, "reach": reach,
        "position": position, "velocity": velocity, "mass": rng.uniform(45, 130),
        "cda": rng.uniform(0.0, 1.2), "density": rng.uniform(0.9, 1.3),
        "wind": np.append(rng.uniform(-10, 10, 2), rng.uniform(-2, 2)),
        "gravity": 9.80665,
    }  # fmt: skip


def flown(case):
    air = ll.Air(wind=tuple(case["wind"]), density=case["density"], gravity=case["gravity"])
    rider = ll.Rider(mass=case["mass"], cda=case["cda"], com_height_landing=case["reach"])
    ground = ll.Ground.plane(
        point=tuple(case["point"]),
        slope_deg=np.degrees(case["slope"]),
        heading_deg=np.degrees(case["heading"]),
    )
    launch = ll.Launch(position=tuple(case["position"]), velocity=tuple(case["velocity"]))
    return launch.flight(ground, rider, air)


def expected(case):
    """Time, mark and velocity at which the oracle's path first comes down to the reach."""
    k = drag_constant(case["density"], case["cda"], case["mass"])
    path = Path(case["position"], case["velocity"], k, case["wind"], case["gravity"], 12.0)

    def gap(state):
        return (state[:3] - case["point"]) @ case["normal"] - case["reach"]

    times = np.linspace(0, 12, 6001)
    below = np.flatnonzero(np.array([gap(state) for state in path.sampled(times)]) < 0)
    assert below.size, "every case comes down within 12 s"
    guess = times[below[0]]
    time, state = polished(path, gap, lambda state: state[3:] @ case["normal"], guess)
    return time, state[:3] - case["reach"] * case["normal"], state[3:]


def test_marks_agree_to_a_hundredth_of_a_micrometre():
    worst = np.zeros(3)
    for seed in range(FLIGHTS):
        case = random_case(seed)
        down = flown(case).touchdown
        time, mark, velocity = expected(case)
        off = [
            abs(down.time - time),
            np.abs(np.subtract(down.mark, mark)).max(),
            np.abs(np.subtract(down.velocity, velocity)).max(),
        ]
        worst = np.maximum(worst, off)
        assert off[1] <= 1e-8, (seed, off)
        assert abs(down.residual) <= 1e-9, (seed, down.residual)
    print(f"\n{FLIGHTS} flights: time {worst[0]:.1e} s, mark {worst[1]:.1e} m, velocity {worst[2]:.1e} m/s")
    assert worst[0] <= 1e-8
    assert worst[2] <= 1e-7


@pytest.mark.parametrize("seed", range(12))
def test_normal_speed_and_fall_height_follow_from_the_oracle(seed):
    case = random_case(seed)
    down = flown(case).touchdown
    _, _, velocity = expected(case)
    normal_speed = max(0.0, -velocity @ case["normal"])
    assert down.normal_speed == pytest.approx(normal_speed, abs=1e-7)
    assert down.fall_height == pytest.approx(normal_speed**2 / (2 * case["gravity"]), abs=1e-7)

"""Rides on random walls against an independent ride: where and how fast the edge is left."""

import numpy as np

import loamline as ll
import oracle_wall as oracle

RIDES = 50


def random_plan(rng):
    """Pieces of one turn: an arc, or a clothoid in, an arc, and at times a straight behind it."""
    radius, kind = rng.uniform(5, 14), rng.integers(3)
    arc = oracle.Piece(rng.uniform(2, 6), 1 / radius, 1 / radius)
    if kind == 0:
        return (arc,)
    entry = oracle.Piece(rng.uniform(1.5, 4), 0.0, 1 / radius)
    if kind == 1:
        return (entry, arc)
    return (entry, arc, oracle.Piece(rng.uniform(0.5, 2), 0.0, 0.0))


def random_case(seed, com_height):
    rng = np.random.default_rng([50, seed])
    turn = rng.choice(["left", "right"])
    sign = 1 if turn == "left" else -1
    pieces = tuple(
        oracle.Piece(p.length, sign * p.start, sign * p.end) for p in random_plan(rng)
    )
    wall = oracle.Wall(
        pieces,
        bank=tuple(np.radians([rng.uniform(0, 35), rng.uniform(30, 70)])),
        grade=rng.uniform(-0.1, 0.1),
        position=tuple(rng.uniform(-5, 5, 3)),
        heading=rng.uniform(-np.pi, np.pi),
        outside=-sign,
    )
    climb = oracle.Climb(rng.uniform(0, 0.5), rng.uniform(0.5, 2.2), wall.length)
    rider = oracle.Rider(
        mass=rng.uniform(50, 120), cda=rng.uniform(0, 0.8), crr=rng.uniform(0, 0.06),
        com_height=com_height, rotating=rng.uniform(0, 0.05),
    )  # fmt: skip
    air = oracle.Surroundings(rng.uniform(0.9, 1.3), tuple(rng.uniform(-6, 6, 3) * [1, 1, 0.2]))
    return turn, wall, climb, rider, air, rng.uniform(6.5, 11)


def plan_rows(wall):
    rows = []
    for piece in wall.pieces:
        if piece.start == piece.end == 0:
            rows.append({"length": piece.length})
        elif piece.start == piece.end:
            sweep_deg = np.degrees(abs(piece.start) * piece.length)
            rows.append({"radius": abs(1 / piece.start), "sweep_deg": sweep_deg})
        else:
            ends = {"radius_start": float("inf"), "radius_end": abs(1 / piece.end)}
            rows.append({"length": piece.length, **ends})
    return rows


def left_edge(turn, wall, climb, rider, air, speed):
    """Loamline's launch, or None where the ride ends early."""
    ours = ll.Wall(
        pieces=plan_rows(wall),
        bank_deg=tuple(np.degrees(wall.bank)),
        width=3.0,
        grade=wall.grade,
        turn=turn,
        position=wall.position,
        heading_deg=np.degrees(wall.heading),
    )
    wheel_inertia = rider.rotating * rider.mass * 0.35**2 / 2
    who = ll.Rider(
        mass=rider.mass, cda=rider.cda, crr=rider.crr, com_height=rider.com_height, grip=np.inf,
        wheel_radius=0.35, wheel_inertia=wheel_inertia,
    )  # fmt: skip
    weather = ll.Air(density=air.density, wind=air.wind, gravity=air.gravity)
    ride = ours.line(enter=climb.enter, leave=climb.leave).ride(who, weather, speed=speed)
    if ride.exit_speed is None:
        return None
    return ride.launch(pop=0.0)


def test_exits_agree_to_a_micrometre():
    compared, worst = {0.0: 0, 1.0: 0}, np.zeros(2)
    for seed in range(4 * RIDES):
        com_height = float(seed % 2)
        if compared[com_height] == RIDES:
            continue
        case = random_case(seed, com_height)
        try:
            theirs = oracle.ride(*case[1:])
        except ValueError:
            theirs = None
        if theirs is None:
            continue
        launch = left_edge(*case)
        assert launch is not None, seed
        position, velocity = theirs
        off = [
            np.abs(np.subtract(launch.position, position)).max(),
            np.abs(np.subtract(launch.velocity, velocity)).max(),
        ]
        assert max(off) <= 1e-6, (seed, off)
        worst = np.maximum(worst, off)
        compared[com_height] += 1
    print(f"\n{compared} rides: position {worst[0]:.1e} m, velocity {worst[1]:.1e} m/s")
    assert set(compared.values()) == {RIDES}

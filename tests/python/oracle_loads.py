"""Landings computed a second way: SciPy for the whole chain, MuJoCo for what it can hold. Nothing of Loamline's."""

import mujoco
import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

G = 9.80665
ADIABATIC = 1.4
TRUNK = 52.9
STOP_STIFFER, STOP_RETURN = 20.0, 0.5


class AirSpring:
    """A (1 - x/L)^-1.4 less its force at full extension, through the sag and the force at full travel."""

    def __init__(self, load, travel, sag, progression):
        self.linear = load / (sag * travel) if progression == 1.0 else None
        if self.linear is None:
            wanted = progression / sag
            rise = lambda share: (1.0 - share) ** -ADIABATIC - 1.0  # noqa: E731
            share = brentq(lambda u: rise(u) / rise(sag * u) - wanted, 1e-6, 1 - 1e-9, xtol=1e-15)
            self.column = travel / share
            self.area = load / rise(sag * share)

    def __call__(self, x):
        if self.linear is not None:
            return self.linear * x
        return self.area * ((1.0 - x / self.column) ** -ADIABATIC - 1.0)


def stop(stiffness, depth, inwards):
    if depth <= 0.0:
        return 0.0
    return stiffness * depth * min(1.0, max(0.0, 1.0 + inwards / STOP_RETURN))


class Chain:
    """Tyre, unsprung mass, suspension, frame, legs, body: places and speeds down, and the legs' own spring."""

    def __init__(self, rider, height, slope_cos=1.0):
        a = self.absorber = rider.absorber
        self.body = rider.mass - a.unsprung_mass - a.frame_mass
        self.masses = np.array([a.unsprung_mass, a.frame_mass, self.body])
        load = (a.frame_mass + self.body) * G
        self.spring = AirSpring(load, a.travel, a.sag, a.progression)
        self.bump = STOP_STIFFER * load / (a.sag * a.travel)
        self.most = a.leg_force * self.body * G
        self.pull = G * slope_cos
        self.speed = np.sqrt(2 * G * height)

    def forces(self, state):
        """Forces from the ground up, and how fast the legs' spring is pressed together."""
        a, place, speed, own = self.absorber, state[:3], state[3:6], state[6]
        tyre = max(0.0, a.tyre_stiffness * place[0])
        x, w = place[1] - place[0], speed[1] - speed[0]
        damping = a.compression if w > 0 else a.rebound
        suspension = self.spring(x) + damping * w
        suspension += stop(self.bump, x - a.travel, w) - stop(self.bump, -x, -w)
        y, closing = place[2] - place[1], speed[2] - speed[1]
        legs, rate = a.leg_stiffness * own + a.leg_damping * closing, closing
        if legs > self.most:
            legs, rate = self.most, (self.most - a.leg_stiffness * own) / a.leg_damping
        legs += stop(self.body * TRUNK**2, y - a.leg_stroke, closing)
        return np.array([tyre, suspension, legs]), rate

    def rates(self, _, state):
        force, rate = self.forces(state)
        above = np.append(force[1:], 0.0)
        pull = self.pull + (above - force) / self.masses
        return np.concatenate([state[3:6], pull, [rate]])

    def until(self, end, times):
        """Forces at the times, as long as nothing lets go: rows from the ground up."""
        start = np.concatenate([np.zeros(3), np.full(3, self.speed), [0.0]])
        solution = solve_ivp(
            self.rates, (0.0, end), start, method="DOP853", rtol=1e-10, atol=1e-12, max_step=1e-3,
            dense_output=True,
        )  # fmt: skip
        assert solution.success
        return np.array([self.forces(state)[0] for state in solution.sol(times).T]).T


def dropped(masses, stiffness, damping, speed, step, time):
    """How far each spring is pressed together at a time, by MuJoCo: masses on springs and dampers, one above the other."""
    inner = ""
    for mass, k, c in list(zip(masses, stiffness, damping, strict=True))[::-1]:
        inner = (
            f'<body><joint type="slide" axis="0 0 -1" stiffness="{k}" damping="{c}"/>'
            f'<inertial pos="0 0 0" mass="{mass}" diaginertia="1 1 1"/>{inner}</body>'
        )
    model = mujoco.MjModel.from_xml_string(
        f'<mujoco><option gravity="0 0 {-G}" timestep="{step}" integrator="RK4"/>'
        f"<worldbody>{inner}</worldbody></mujoco>"
    )
    data = mujoco.MjData(model)
    data.qvel[0] = speed
    for _ in range(round(time / step)):
        mujoco.mj_step(model, data)
    return data.qpos.copy()

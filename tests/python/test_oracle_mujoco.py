"""Free turning of bike and rider against a rigid-body engine, within the engine's own step error."""

import numpy as np
import pytest

import loamline as ll

mujoco = pytest.importorskip("mujoco")

WHEEL = 0.1
RADIUS = 0.35
INERTIA = np.array([13.0, 18.0, 8.0])
SECONDS = 0.8


def model(step, wheels):
    """A free body; its wheels as one disk on an axle to the left, whose inertia across belongs to the whole."""
    disk = 2 * WHEEL if wheels else 1e-9
    across = 0.6 * disk
    frame = INERTIA - np.array([across, 0, across])
    return mujoco.MjModel.from_xml_string(f"""
    <mujoco>
      <option timestep="{step}" integrator="RK4" gravity="0 0 -9.80665"/>
      <worldbody>
        <body>
          <freejoint/>
          <inertial pos="0 0 0" mass="88" diaginertia="{frame[0]} {frame[1]} {frame[2]}"/>
          <body>
            <joint type="hinge" axis="0 1 0"/>
            <inertial pos="0 0 0" mass="2" diaginertia="{across} {disk} {across}"/>
          </body>
        </body>
      </worldbody>
    </mujoco>""")


def engine(step, rates, speed, wheels):
    """Place, axes (forward, left, up in rows) and body rates after the time, from a level start."""
    physics = model(step, wheels)
    state = mujoco.MjData(physics)
    state.qpos[:3] = (0, 0, 30)
    state.qvel[:3] = (8, 1, 2)
    state.qvel[3:6] = rates
    # The engine's axle turns against the frame; the spin momentum that is kept is that against space.
    state.qvel[6] = speed / RADIUS - rates[1]
    for _ in range(round(SECONDS / step)):
        mujoco.mj_step(physics, state)
    turned = np.empty(9)
    mujoco.mju_quat2Mat(turned, state.qpos[3:7])
    return state.qpos[:3].copy(), turned.reshape(3, 3).T.copy(), state.qvel[3:6].copy()


@pytest.mark.parametrize("rates", [(0.4, -1.5, 0.8), (3.0, 2.0, -4.0)])
@pytest.mark.parametrize("speed", [0.0, 9.0])
def test_turning_agrees_within_the_engines_step_error(rates, speed):
    wheels = speed > 0
    rider = ll.Rider(
        mass=90, cda=0, inertia=INERTIA, wheel_inertia=WHEEL if wheels else 0.0, wheel_radius=RADIUS,
    )  # fmt: skip
    launch = ll.Launch((0, 0, 30), (8, 1, 2), attitude=np.eye(3), angular_velocity=rates, tyre_speed=speed)
    rigid = launch.rigid_flight(ll.Ground.plane(), rider, ll.Air())
    assert rigid.time > SECONDS
    ours = (rigid.flight.position(SECONDS), rigid.attitude(SECONDS), np.radians(rigid.body_rates_deg(SECONDS)))
    coarse, fine = (engine(step, rates, speed, wheels) for step in (4e-3, 2e-3))
    for mine, rough, theirs in zip(ours, coarse, fine, strict=True):
        step_error = np.abs(rough - theirs).max()
        off = np.abs(mine - theirs).max()
        assert off <= step_error + 1e-9, (off, step_error)
        # Halving the step brings the engine nearer to us, as it does to itself.
        assert off <= 0.6 * np.abs(mine - rough).max() + 1e-9

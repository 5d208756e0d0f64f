"""A step of DOP853 through the air, its twelve stages written out for numba: no tables, no loops, no memory.

E. Hairer, S. P. Nørsett and G. Wanner, *Solving Ordinary Differential Equations I*, 2nd ed. 1993, section II.10; the numbers are
scipy's. As the acceleration does not depend on the place, places take one sum over the stages.
"""

from numba import njit
from scipy.integrate import DOP853

AXES = "xyz"
WEIGHTS = DOP853.B
#: Of the accelerations in the places: the step times the velocity, and its square times these.
OF_PLACE = DOP853.B @ DOP853.A[:12, :12]
ERRORS = {"rough": DOP853.E3[:12], "fine": DOP853.E5[:12]}


def combined(weights, axis):
    """The sum of the stages' accelerations along an axis, those without weight left out."""
    terms = [f"{float(weight)!r} * f{q}{axis}" for q, weight in enumerate(weights) if weight]
    return "(" + " + ".join(terms) + ")"


def pulled(stage):
    """The lines of one stage: the velocity through the air, and the acceleration at it."""
    weights = DOP853.A[stage, :stage]
    for axis in AXES:
        yield f"a{axis} = u{axis}" + (f" + h * {combined(weights, axis)}" if stage else "")
    yield "drag = -k * np.sqrt(ax * ax + ay * ay + az * az)"
    for axis in AXES:
        yield f"f{stage}{axis} = drag * a{axis}" + (" - g" if axis == "z" else "")


def written():
    """The function as text."""
    lines = [line for stage in range(12) for line in pulled(stage)]
    for axis in AXES:
        lines.append(f"p{axis} += h * (u{axis} + w{axis} + h * {combined(OF_PLACE, axis)})")
        lines.append(f"u{axis} += h * {combined(WEIGHTS, axis)}")
    for name, weights in ERRORS.items():
        lines += [f"{name}_{axis} = {combined(weights, axis)}" for axis in AXES]
        lines.append(f"{name} = " + " + ".join(f"{name}_{axis} * {name}_{axis}" for axis in AXES))
    lines.append("error = abs(h) * fine / np.sqrt(fine + 0.01 * rough + 1e-300)")
    lines.append("return px, py, pz, ux, uy, uz, error")
    head = "def step(px, py, pz, ux, uy, uz, h, wx, wy, wz, k, g):\n    "
    return "import numpy as np\n\n" + head + "\n    ".join(lines) + "\n"


def compiled():
    """The step: place and velocity through the air after `h` seconds, and about how far off that is, m/s."""
    made = {}
    exec(compile(written(), "rk8", "exec"), made)
    return njit(fastmath=True)(made["step"])

"""Pictures of sites, rides, flights and landings, drawn with matplotlib.

Each function takes `ax=None`, draws on it (or on a new figure in loamline's style) and returns
the axes. None of them shows a window. Metres meet metres at equal scale.
"""

from .barrows import barrows
from .curve import curve
from .earth import earth
from .even import even
from .flags import flags, ladder
from .loads import loads
from .plan import plan
from .ride import ride
from .section import section
from .severity import severity
from .side import side
from .style import severity_bar, sheet
from .two_wheel import two_wheel
from .wall import wall

__all__ = [
    "barrows",
    "curve",
    "earth",
    "even",
    "flags",
    "ladder",
    "loads",
    "plan",
    "ride",
    "section",
    "severity",
    "severity_bar",
    "sheet",
    "side",
    "two_wheel",
    "wall",
]

"""Pictures of sites, rides, flights and landings, drawn with matplotlib.

Each function takes `ax=None`, draws on it (or on a new figure in loamline's style) and returns
the axes. None of them shows a window. Metres meet metres at equal scale. Each also takes `look`, "light"
or "dark", and `units`, "metres" or "feet". `scene` and `film` return a scene that turns and a film;
`save` writes any of them.
"""

from .barrows import barrows
from .curve import curve
from .earth import earth
from .even import even
from .falls import falls
from .files import save
from .film import film
from .flags import flags, ladder
from .loads import loads
from .marks import marks
from .plan import plan
from .ride import ride
from .scene import scene
from .section import section
from .severity import severity
from .side import side
from .style import severity_bar, sheet
from .two_wheel import two_wheel
from .wall import wall
from .wall_ride import wall_ride

__all__ = [
    "barrows",
    "curve",
    "earth",
    "even",
    "falls",
    "film",
    "flags",
    "ladder",
    "loads",
    "marks",
    "plan",
    "ride",
    "save",
    "scene",
    "section",
    "severity",
    "severity_bar",
    "sheet",
    "side",
    "two_wheel",
    "wall",
    "wall_ride",
]

"""What has to be said beside every number that somebody may build from."""

FIRST = (
    "These numbers guide a first build and the next test; they certify nothing. "
    "A person can be badly hurt or killed on what is built from them."
)

ALL = (
    FIRST,
    "Start slow: first rides from low on the hill and low on the edge, one start mark at a time, "
    "and plant a flag where each tyre came down. Stop when a flag lies far from the forecast.",
    "Wear protection, never test alone; keep a phone, a first-aid kit and a clear way for help.",
    "Local codes, the land manager and a licensed engineer decide what may be built and ridden. "
    "Timber, fixings and crib walls are not designed here.",
    "Look for roots, stones, stakes and tools in the run-out before each ride. Earth settles, "
    "dries and washes out: measure again before each session.",
)

REST = (
    "Start slow, wear protection, never test alone. "
    "Local codes, the land manager and a licensed engineer decide."
)

SHORT = f"Numbers guide, they certify nothing. {REST}"

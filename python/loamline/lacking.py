"""What is told when a library is not there."""


class Lacking(Exception):
    """A library that a file asked for needs is not installed."""

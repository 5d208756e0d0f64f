"""Numbers on the command line, and what is said where one is wrong."""

from __future__ import annotations

import argparse

# What a forecast takes at most.
_MOST = 1_048_576


def more_than_nothing(text: str) -> float:
    value = float(text) if _is_number(text) else float("nan")
    if not 0.0 < value < float("inf"):
        raise argparse.ArgumentTypeError(f"{text} is not a number above 0")
    return value


def any_number(text: str) -> float:
    if not _is_number(text):
        raise argparse.ArgumentTypeError(f"{text} is not a number")
    return float(text)


def chance(text: str) -> float:
    value = float(text) if _is_number(text) else float("nan")
    if not 0.001 <= value <= 0.5:
        raise argparse.ArgumentTypeError(f"{text} is not a number from 0.001 to 0.5")
    return value


def count(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= _MOST:
        raise argparse.ArgumentTypeError(f"{text} is not a whole number from 1 to {_MOST}")
    return int(text)


def seed(text: str) -> int:
    if not text.isascii() or not text.isdigit() or int(text) >= 2**64:
        raise argparse.ArgumentTypeError(f"{text} is not a whole number from 0 to 2^64 - 1")
    return int(text)


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True

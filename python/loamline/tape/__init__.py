"""From the tape to a site: the interview, the sheet to fill in outside, and files of profiles and surveys."""

from __future__ import annotations

from .reading import read_profile, read_survey
from .template import tape_sheet

__all__ = ["read_profile", "read_survey", "tape_sheet"]

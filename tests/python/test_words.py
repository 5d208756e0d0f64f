"""Colours and commands that people see are listed for contributors, each with where it is from."""

import re
from pathlib import Path

import loamline as ll
import pytest
from loamline.parser import parser

ROOT = Path(__file__).parents[2]
PACKAGE = Path(ll.__file__).parent


@pytest.fixture(scope="module")
def listed():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    return text[text.index("## Words and colours that people see") :].split("\n## ", 1)[0]


def test_every_colour_code_is_listed(listed):
    docs = [ROOT / "docs" / part for part in ("_ext", "_static", "_templates")]
    kinds = ("py", "j2", "css", "js", "mplstyle", "html")
    files = [f for folder in (PACKAGE, *docs) for kind in kinds for f in folder.rglob(f"*.{kind}")]
    files.append(ROOT / "docs" / "conf.py")
    used = {c.lower() for f in files for c in re.findall(r"#[0-9a-fA-F]{6}\b", f.read_text("utf-8"))}
    assert used and {c for c in used if c not in listed.lower()} == set()


def test_every_command_is_listed(listed):
    commands = next(a for a in parser()._actions if a.dest == "command").choices
    row = next(line for line in listed.splitlines() if line.startswith("| commands"))
    assert set(commands) == set(re.findall(r"\w+", row.split(":")[1].split("|")[0]))


def test_every_word_for_how_something_ended_is_listed(listed):
    folders = ("src/touchdown", "src/ride", "src/two_wheel", "src/load", "src/passes", "src/design/even", "src/flags", "python/src")
    arm = re.compile(r"""(?:Self|\w*Outcome|\w*Status)::\w+(?:\([^)]*\)| \{[^}]*\})? => "([a-z_]{2,})",""")
    files = [f for folder in folders for f in (ROOT / folder).rglob("*.rs")]
    # "stall" is a stem: "some stall".
    words = {word for f in files for word in arm.findall(f.read_text("utf-8"))} - {"stall"}
    assert {"no_touchdown", "looped_out", "hung_up", "too_tight", "speed_gate"} <= words
    assert {word for word in words if not re.search(rf"\b{word.replace('_', ' ')}\b", listed)} == set()

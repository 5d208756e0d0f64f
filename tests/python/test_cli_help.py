"""The command line teaches, speaks JSON everywhere, colours a terminal only, and ends with the codes that it names."""

import json
import os
import re
import shlex
import subprocess
import sys

import pytest
from loamline.cli import ENDED, FAILED, INTERRUPTED
from loamline.parser import BAD_INPUT, parser

from terminals import on_a_terminal

COMMANDS = ("template", "new", "profile", "survey", "check", "forecast", "plan", "flags", "next", "schema")


def run(*arguments, **how):
    command = [sys.executable, "-m", "loamline.cli", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, timeout=60, **how)


def said(capsys, *arguments):
    with pytest.raises(SystemExit) as ended:
        parser().parse_args([*arguments, "--help"])
    assert ended.value.code == 0
    return capsys.readouterr().out


def test_help_shows_the_way_and_the_exit_codes(capsys):
    text = said(capsys)
    assert all(re.search(rf"^    {name}\b", text, re.M) for name in COMMANDS)
    way = [line for line in text.splitlines() if line.startswith("  loamline ")]
    assert len(way) >= 7
    for line in way:
        parser().parse_args(shlex.split(line.split("   ")[0])[1:])
    for code in (0, FAILED, BAD_INPUT, INTERRUPTED, ENDED):
        assert re.search(rf"\b{code}\b", text)
    assert "certify nothing" in text


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_has_an_example_that_parses_and_speaks_json(name, capsys):
    text = said(capsys, name)
    example = re.search(r"for example:\n  (.*)", text)[1]
    words = shlex.split(example.split(" >")[0])
    asked = parser().parse_args([*words[1:], "--json"])
    assert asked.command == name and asked.json
    assert "certify nothing" in text
    assert all(len(line) <= 110 for line in text.splitlines())


def test_json_is_json_and_nothing_else(tmp_path):
    told = run("template", tmp_path / "tape.pdf", "--json")
    assert json.loads(told.stdout) == {"files": [str(tmp_path / "tape.pdf")]} and told.stderr == ""
    (tmp_path / "a.csv").write_text("distance,height\n0,1\n5,0\n", "utf-8")
    told = run("profile", tmp_path / "a.csv", "-o", tmp_path / "b.csv", "--json")
    assert json.loads(told.stdout)["points"] == 2
    assert "properties" in json.loads(run("schema", "--json").stdout)


def test_colour_is_for_terminals_that_show_it():
    code, told = on_a_terminal("check", "nowhere.toml", TERM="xterm", NO_COLOR="")
    assert code == BAD_INPUT and b"\x1b[1;31mloamline:" in told
    for environment in ({"TERM": "dumb"}, {"TERM": "xterm", "NO_COLOR": "1"}):
        code, told = on_a_terminal("check", "nowhere.toml", **{"NO_COLOR": "", **environment})
        assert code == BAD_INPUT and b"\x1b" not in told
    piped = run("check", "nowhere.toml", env={**os.environ, "TERM": "xterm"})
    assert piped.returncode == BAD_INPUT and "\x1b" not in piped.stderr + piped.stdout


def test_a_wrong_command_is_told_in_one_line():
    done = run("paln", "demo")
    assert done.returncode == BAD_INPUT and done.stdout == ""
    assert len(done.stderr.splitlines()) == 1 and "--help" in done.stderr

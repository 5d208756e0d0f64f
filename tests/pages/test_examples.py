"""The examples of the documentation pages run as they stand: Python sessions, commands, and the files they read.

Blocks of a page run in their order, in a folder of their own. A block with a caption is a file of that name; a
`console` block is commands and what they print (`...` stands for anything), a `python` block a session or a program.
"""

from __future__ import annotations

import doctest
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs"
PAGES = sorted(p for p in DOCS.rglob("*.md") if p.relative_to(DOCS).parts[0] not in ("_site", "_generated", "_ext"))
FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
BLOCK = re.compile(r"^(`{3,})(\{[\w-]+\} *)?([\w/.-]*)[^\n]*\n(.*?)^\1\s*$", re.DOTALL | re.MULTILINE)
CAPTION = re.compile(r":caption: *(\S+)\n+")


@dataclass(frozen=True)
class Block:
    """A fenced block of a page: its language, the file that it is (or none), its text, its line."""

    language: str
    file: str | None
    text: str
    line: int


def blocks(page: Path) -> list[Block]:
    """Returns the code blocks of a page in order; figures, tables and inclusions left out."""
    text, found = page.read_text("utf-8"), []
    for match in BLOCK.finditer(text):
        directive, language, body = (match[2] or "").strip(" {}"), match[3], match[4]
        if directive not in ("", "code-block"):
            continue
        caption = CAPTION.match(body)
        body = body[caption.end() :] if caption else body
        found.append(Block(language, caption and caption[1], body, text.count("\n", 0, match.start()) + 2))
    return found


def run_python(block: Block, page: Path, names: dict[str, object]) -> None:
    if ">>>" not in block.text:
        exec(compile(block.text, str(page), "exec"), names)
        return
    test = doctest.DocTestParser().get_doctest(block.text, names, page.name, str(page), block.line - 1)
    said: list[str] = []
    runner = doctest.DocTestRunner(optionflags=FLAGS)
    runner.run(test, out=said.append, clear_globs=False)
    names.update(test.globs)
    assert runner.failures == 0, "".join(said)


def run_console(block: Block, folder: Path) -> None:
    for part in re.split(r"^\$ ", block.text, flags=re.MULTILINE)[1:]:
        command, _, wanted = part.partition("\n")
        path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
        done = subprocess.run(
            ["bash", "-c", command],
            cwd=folder,
            env={**os.environ, "PATH": path, "COLUMNS": "88"},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            timeout=300,
        )
        if not wanted.strip():
            assert done.stdout.strip() == "", f"$ {command}\n{done.stdout}"
            continue
        assert doctest.OutputChecker().check_output(wanted, done.stdout, FLAGS), f"$ {command}\n{done.stdout}"


@pytest.mark.parametrize("page", PAGES, ids=[str(p.relative_to(DOCS).with_suffix("")) for p in PAGES])
def test_the_examples_of_a_page_hold(page, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {"__name__": "__page__"}
    for block in blocks(page):
        if block.file:
            file = tmp_path / block.file
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(block.text, "utf-8")
        elif block.language == "python":
            run_python(block, page, names)
        elif block.language == "console":
            run_console(block, tmp_path)


def test_every_model_has_equation_or_words_source_limits_and_check():
    whole = {"accuracy", "limits"}
    for page in (DOCS / "explain").glob("*.md"):
        if page.stem in whole:
            continue
        heads = re.findall(r"^## (.*)$", page.read_text("utf-8"), re.MULTILINE)
        assert "Model" in heads and "Limits" in heads and "Check" in heads, page
        assert "Source" in heads or page.stem == "rider", page
        assert any(b.language == "python" for b in blocks(page)), page


def test_programs_in_rust_and_c_are_taken_from_files_that_are_built():
    for page in PAGES:
        assert not [b.line for b in blocks(page) if b.language in ("rust", "c")], page

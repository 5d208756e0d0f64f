"""Asks one reading at a time: at a terminal again until it can be, from a pipe once."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import Any, TextIO, TypeAlias, TypeVar

import loamline as ll

from .readings import Question, Unread

T = TypeVar("T")
Rows: TypeAlias = Callable[[list[Any]], object]


class _Back(Exception):
    """The last reading is to be given anew."""


class Asker:
    """Reads answers from a stream, one a line; `?` says how to measure, `back` goes back one reading.

    At a terminal a wrong answer is asked for again; from a pipe it is an error that names the line. An empty line
    takes the default, where there is one, and ends a list. Lines that begin with `#` are passed over.
    """

    def __init__(self, lines: TextIO, told: TextIO, terminal: bool) -> None:
        self._lines, self._told, self._terminal = lines, told, terminal
        self._line = 0
        self._given: list[str] = []
        self._replay: list[str] = []

    def interview(self, script: Callable[[Asker], T]) -> T:
        """Runs a script of questions; after `back` it runs again over the answers that stand."""
        while True:
            try:
                return script(self)
            except _Back:
                self.say("(back one reading)")
                self._replay, self._given = self._given[:-1][::-1], []

    def heading(self, words: str) -> None:
        """Says what the next readings are of."""
        self.say(f"\n{words}")

    def say(self, words: str) -> None:
        """Says something at a terminal; nothing to a pipe, nor again while answers that stand are gone through."""
        if self._terminal and not self._replay:
            print(words, file=self._told, flush=True)

    def __call__(self, question: Question, check: Callable[[Any], object] | None = None) -> Any:
        """Returns the answer to a question; `check` may refuse it with an `InputError`."""
        while True:
            text, is_new = self._next(question)
            try:
                answer = question.answer(text)
                if check is not None:
                    check(answer)
            except (Unread, ll.LoamlineError) as error:
                self._refuse(question, error, is_new)
                continue
            self._given.append(text)
            return answer

    def many(
        self,
        question: Question,
        least: int,
        each: Rows | None = None,
        whole: Rows | None = None,
        begun: Sequence[Any] = (),
    ) -> list[Any]:
        """Returns the answers to a question that is asked until an empty line, behind those with which it was begun.

        `each` may refuse the rows with a new one at their end, `whole` all of them.
        """
        rows = list(begun)
        while True:
            text, is_new = self._next(question, len(rows) + 1)
            try:
                if not text.strip():
                    if len(rows) < least:
                        raise Unread(f"at least {least} are needed, {len(rows)} are there")
                    if whole is not None:
                        whole(rows)
                    self._given.append(text)
                    return rows
                more = [*rows, question.read(text.strip())]
                if each is not None:
                    each(more)
                rows = more
            except (Unread, ll.LoamlineError) as error:
                self._refuse(question, error, is_new)
                continue
            self._given.append(text)

    def _refuse(self, question: Question, error: Exception, is_new: bool) -> None:
        """Says why an answer is refused; a pipe that gave it just now cannot give another."""
        if is_new and not self._terminal:
            raise ll.InputError(f"line {self._line}, {question.ask}: {error}") from error
        self.say(f"  {error}")

    def _next(self, question: Question, number: int | None = None) -> tuple[str, bool]:
        """Returns the next answer as text, and whether it was read just now."""
        if self._replay:
            return self._replay.pop(), False
        while True:
            self._prompt(question, number)
            text = self._lines.readline()
            if not text:
                raise ll.InputError(f"the answers end before: {question.ask}")
            self._line += 1
            text = text.strip()
            if text.startswith("#"):
                continue
            if text == "?":
                self.say(f"  {question.how}")
            elif text.lower() == "back":
                raise _Back
            else:
                return text, True

    def _prompt(self, question: Question, number: int | None) -> None:
        if not self._terminal:
            return
        unit = f", {question.unit}" if question.unit else ""
        default = f" [{question.default}]" if question.default else ""
        ask, end = question.ask, ""
        if number is not None:
            ask, end = ask.replace(":", f" {number}:", 1), " (empty: that was all)"
        print(f"{ask}{unit}{default}{end}: ", end="", file=self._told, flush=True)


def terminal() -> Asker:
    """Returns an asker on standard input and standard error."""
    return Asker(sys.stdin, sys.stderr, sys.stdin.isatty())

"""The plan on one line, for the shop: options instead of a file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from coswim.text.document import YamlDocument
from coswim.text.printable import quoted
from coswim.text.problems import Problem, refuse_any

IN_WORDS = ("a", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
COUNTED = re.compile(rf"([+-]?\d++|(?:{'|'.join(IN_WORDS)}|an)(?=\s))(?:\s*+[x×])?\s++(.*)", re.DOTALL | re.IGNORECASE)
COMMAND_LINE = "command line"
TITLE = "your tank"
RESIDENT, ADD, OR = "--resident", "--add", "--or"
TANK = re.compile(r"tank\.(size|temperature|ph|hardness)\b")
FISH = re.compile(r"residents\[(\d+)\]|proposals\[(\d+)\]\.add\[(\d+)\]")
EXAMPLE = "write 'number species, length', e.g. '8 tinfoil barb, 10 cm'"


class Fish(NamedTuple):
    """A group as it was typed, and behind which option."""

    option: str
    text: str


class Shorthand(NamedTuple):
    """The parts of a plan as they are typed on the command line.

    `fish` are all that might be added, in the order typed: what stands behind `--or` starts a proposal of its own.
    """

    tank: str | None
    temperature: str | None
    ph: str | None
    hardness: str | None
    residents: Sequence[str]
    fish: Sequence[Fish]
    no_lid: bool = False

    @property
    def is_used(self) -> bool:
        """At least one option was typed."""
        return any((self.tank, self.temperature, self.ph, self.hardness, self.residents, self.fish, self.no_lid))

    @property
    def proposals(self) -> list[list[Fish]]:
        """What is added together, each time."""
        together: list[list[Fish]] = []
        for one in self.fish:
            if one.option == OR or not together:
                together.append([])
            together[-1].append(one)
        return together

    def document(self) -> YamlDocument:
        """The same as a plan document; InputProblems for an unreadable group."""
        problems: list[Problem] = []
        residents = list(_groups([Fish(RESIDENT, text) for text in self.residents], problems))
        proposals = [{"add": list(_groups(together, problems))} for together in self.proposals]
        refuse_any(problems)
        tank = {"size": self.tank, "temperature": self.temperature, "ph": self.ph, "hardness": self.hardness}
        tank["lid"] = "no" if self.no_lid else None
        data: dict[str, Any] = {
            "title": TITLE,
            "tank": {key: value for key, value in tank.items() if value is not None},
        }
        data |= {"residents": residents} if residents else {}
        data |= {"proposals": proposals} if proposals else {}
        return YamlDocument(COMMAND_LINE, data, None)

    def placed(self, problem: Problem) -> Problem:
        """A problem of the document, at the option that it comes from."""
        if found := TANK.match(problem.path):
            option = "--tank" if found[1] == "size" else f"--{found[1]}"
            return Problem(option, 0, 0, "", problem.message)
        if found := FISH.match(problem.path):
            option, text = self._typed(found)
            what = problem.path.rpartition(".")[2]
            said = f"{what} {problem.message}" if problem.message.startswith("is ") else problem.message
            return Problem(option, 0, 0, "", f"in {quoted(text)}: {said}")
        if problem.path == "residents":
            return Problem(COMMAND_LINE, 0, 0, "", f"no fish was named; use {RESIDENT}, {ADD} or both")
        return problem

    def _typed(self, found: re.Match[str]) -> Fish:
        if found[1]:
            return Fish(RESIDENT, self.residents[int(found[1])])
        return self.proposals[int(found[2])][int(found[3])]


def _groups(fish: Sequence[Fish], problems: list[Problem]) -> Iterator[dict[str, str]]:
    for option, text in fish:
        named, _, length = (part.strip() for part in text.partition(","))
        counted = COUNTED.fullmatch(named)
        typed = {
            "count": _number(counted[1]) if counted else None,
            "species": counted[2] if counted else named,
            "length": length,
        }
        if typed["species"]:
            yield {key: value for key, value in typed.items() if value}
        else:
            problems.append(Problem(option, 0, 0, "", f"{quoted(text)} is not a group; {EXAMPLE}"))


def _number(typed: str | None) -> str | None:
    """A number that was typed in words, in figures; `a` and `one` are 1."""
    words = "a" if typed and typed.casefold() == "an" else (typed or "").casefold()
    return str(max(1, IN_WORDS.index(words))) if words in IN_WORDS else typed

"""The plan on one line, for the shop: options instead of a file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from coswim.text.document import YamlDocument
from coswim.text.problems import InputProblems, Problem

GROUP = re.compile(r"^\s*(?:([+-]?\d+)\s*[x×]?\s+)?([^,]+?)\s*,\s*(.+?)\s*$")
COMMAND_LINE = "command line"
TITLE = "your tank"


class Shorthand(NamedTuple):
    """The parts of a plan as they are typed on the command line."""

    tank: str | None
    temperature: str | None
    ph: str | None
    hardness: str | None
    residents: Sequence[str]
    adds: Sequence[str]
    no_lid: bool = False

    @property
    def is_used(self) -> bool:
        """At least one option was typed."""
        return any((self.tank, self.temperature, self.ph, self.hardness, self.residents, self.adds, self.no_lid))

    def document(self) -> YamlDocument:
        """The same as a plan document, all `--add` together one proposal; InputProblems for an unreadable group."""
        problems: list[Problem] = []
        residents = list(_groups("--resident", self.residents, problems))
        newcomers = list(_groups("--add", self.adds, problems))
        if problems:
            raise InputProblems(problems)
        tank = {"size": self.tank, "temperature": self.temperature, "ph": self.ph, "hardness": self.hardness}
        tank["lid"] = "no" if self.no_lid else None
        data: dict[str, Any] = {
            "title": TITLE,
            "tank": {key: value for key, value in tank.items() if value is not None},
        }
        if residents:
            data["residents"] = residents
        if newcomers:
            data["proposals"] = [{"name": " and ".join(text.strip() for text in self.adds), "add": newcomers}]
        return YamlDocument(COMMAND_LINE, data, None)


def _groups(option: str, texts: Sequence[str], problems: list[Problem]) -> Iterator[dict[str, str]]:
    for text in texts:
        match = GROUP.match(text)
        if match:
            yield {"count": match[1] or "1", "species": match[2], "length": match[3]}
        else:
            message = f"{text!r} is not a group; write 'number species, length', e.g. '8 tinfoil barb, 10 cm'"
            problems.append(Problem(option, 0, 0, "", message))

"""The plan on one line, for the shop: options instead of a file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from coswim.text.document import YamlDocument
from coswim.text.printable import quoted
from coswim.text.problems import Problem, refuse_any

COUNTED = re.compile(r"([+-]?\d++)(?:\s*+[x×])?\s++(.*)", re.DOTALL)
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
        refuse_any(problems)
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
        fish, _, length = (part.strip() for part in text.partition(","))
        counted = COUNTED.fullmatch(fish)
        species = counted[2] if counted else fish
        if species and length:
            yield {"count": counted[1] if counted else "1", "species": species, "length": length}
        else:
            message = f"{quoted(text)} is not a group; write 'number species, length', e.g. '8 tinfoil barb, 10 cm'"
            problems.append(Problem(option, 0, 0, "", message))

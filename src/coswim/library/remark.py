"""What a check says of a profile: a plain mistake, or a doubt that a note in the profile may answer.

A doubt is explained by a note that begins with the block it is about and a colon:

    notes:
      - "body.width: the width is that of the disc."
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from coswim.profiles.profile import Profile
from coswim.text.problems import Problem

NAMED_NOTE = re.compile(r"^([a-z_]+(?:\.[a-z_]+)?):\s+\S")


@dataclass(frozen=True)
class Doubt:
    """A value that is wrong (`certain`) or wants a reason; the first block is where it is shown."""

    blocks: tuple[str, ...]
    message: str
    certain: bool = False


@dataclass(frozen=True, order=True)
class Remark:
    """A doubt with its place in the file and the note that explains it, if any."""

    problem: Problem
    certain: bool
    explained_by: str = ""

    def __str__(self) -> str:
        if self.certain:
            return str(self.problem)
        kind = "explained" if self.explained_by else "warning"
        path = f"{kind}: {self.problem.path}" if self.problem.path else kind
        return str(self.problem._replace(path=path))


def explanation(profile: Profile, doubt: Doubt) -> str:
    """The note that names one of the doubt's blocks, or a block they are part of; '' when none does."""
    if doubt.certain:
        return ""
    wanted = {name for block in doubt.blocks for name in (block, block.partition(".")[0])}
    named = ((NAMED_NOTE.match(note), note) for note in profile.notes)
    return next((note for match, note in named if match and match[1] in wanted), "")

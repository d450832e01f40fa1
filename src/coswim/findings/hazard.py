"""What every file in `hazards/` offers: an id, the traits it reads, its findings and their pictures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from coswim.findings.finding import Found
from coswim.findings.pictures import Picture
from coswim.simulation.scene import Scene


class Hazard(Protocol):
    """One way in which it goes wrong. Its docstring is what `coswim explain` prints."""

    __name__: str
    __doc__: str | None

    @property
    def ID(self) -> str:  # noqa: N802, a module's constant
        """The name in reports, that of the file with hyphens."""

    @property
    def LABEL(self) -> str:  # noqa: N802, a module's constant
        """One word for it, beside a sentence or in a table."""

    @property
    def WATCH(self) -> str:  # noqa: N802, a module's constant
        """What to look at first once the fish are together."""

    @property
    def TRAITS(self) -> tuple[str, ...]:  # noqa: N802, a module's constant
        """What it reads of a profile."""

    def find(self, scene: Scene) -> Iterator[Found]:
        """What goes wrong in a scene, and what cannot be rated."""

    def pictures(self, scene: Scene, found: Found) -> tuple[Picture, ...]:
        """What shows one of its findings; it is asked for rated findings that are reported, and for no others."""


def no_pictures(scene: Scene, found: Found) -> tuple[Picture, ...]:  # noqa: ARG001, asked like the others
    """The pictures of a hazard that words tell well enough."""
    return ()

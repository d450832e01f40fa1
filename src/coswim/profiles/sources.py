"""The bibliography: what each source key stands for and how strong that kind of evidence is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Annotated

from pydantic import Field

from coswim.text.document import YamlDocument, document_of, dotted
from coswim.text.fields import Strict, Text, one_of
from coswim.text.problems import InputProblems, Problem, refuse_any
from coswim.text.validation import validate

EVIDENCE: Mapping[str, int] = MappingProxyType(
    {"memory": 0, "relatives": 1, "common-practice": 2, "published": 3, "measured": 4, "own-observation": 4}
)
"""Kinds of evidence with their rank, weakest first; what a keeper saw of this fish stands with what was measured."""
UNSOURCED = ("memory", "relatives")
"""Kinds that are no word on the species itself."""
OWN_OBSERVATION = "own-observation"
ALWAYS_KNOWN = ("memory", "relatives", "common-practice", OWN_OBSERVATION)
"""Keys that need no entry in a bibliography: they say honestly that there is no text behind a value."""
KINDS = tuple(kind for kind in EVIDENCE if kind != "relatives")
"""Kinds of evidence that a text may be."""


class Source(Strict):
    """One entry of the bibliography."""

    kind: Annotated[str, one_of(KINDS, what="kind of evidence")] = Field(description="one of " + ", ".join(KINDS))
    citation: Text = Field(description="author, year, title, where")


Bibliography = Mapping[str, Source]


def read_bibliography(path: Path) -> Bibliography:
    """The bibliography in a `sources.yaml`; empty when the folder has none. InputProblems when it is wrong."""
    document = document_of(path) if path.exists() else None
    if document is None or document.is_empty:
        return MappingProxyType({})
    if not isinstance(document.data, dict):
        raise InputProblems([document.problem((), "must be a mapping of source keys, each with kind and citation")])
    found: dict[str, Source] = {}
    refuse_any(_entries(document, found))
    return MappingProxyType(found)


def kind_of(key: str, bibliography: Bibliography) -> str:
    """How strong the evidence behind a source key is; an unknown key is no better than memory.

    A kind of evidence stands for itself, so that a stranger's source may be named by its strength alone.
    """
    if key in bibliography:
        return bibliography[key].kind
    return key if key in ALWAYS_KNOWN else "memory"


def weakest(kinds: list[str]) -> str:
    """The weakest of some kinds of evidence; memory when there is none."""
    return min(kinds, key=EVIDENCE.__getitem__) if kinds else "memory"


def _entries(document: YamlDocument, found: dict[str, Source]) -> Iterator[Problem]:
    """Fills in the sources; yields what is wrong with the others."""
    for (key, value), (_, node) in zip(document.data.items(), document.root.value, strict=True):
        try:
            found[key] = validate(YamlDocument(document.file, value, node), Source)
        except InputProblems as error:
            yield from (one._replace(path=f"{dotted((key,))}.{one.path}".rstrip(".")) for one in error.problems)

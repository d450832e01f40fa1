"""The bibliography: what each source key stands for and how strong that kind of evidence is."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Annotated

from pydantic import Field, TypeAdapter, ValidationError

from coswim.text.document import read_document, read_file
from coswim.text.fields import Strict, Text, one_of
from coswim.text.problems import whole_file

EVIDENCE = ("memory", "common-practice", "published", "measured")  # weakest first


class Source(Strict):
    """One entry of the bibliography."""

    kind: Annotated[str, *one_of(EVIDENCE, what="kind of evidence")] = Field(
        description="one of " + ", ".join(EVIDENCE)
    )
    citation: Text = Field(description="author, year, title, where")


Bibliography = Mapping[str, Source]


def read_bibliography(path: Path) -> Bibliography:
    """The bibliography in a `sources.yaml`; empty when the folder has none."""
    if not path.exists():
        return MappingProxyType({})
    data = read_document(read_file(path), path.name).data
    try:
        entries = TypeAdapter(dict[str, Source]).validate_python(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        raise whole_file(path.name, f"{'.'.join(map(str, first['loc']))}: {first['msg']}") from None
    return MappingProxyType(entries)


def weakest(kinds: list[str]) -> str:
    """The weakest of some kinds of evidence; memory when there is none."""
    return min(kinds, key=EVIDENCE.index) if kinds else EVIDENCE[0]

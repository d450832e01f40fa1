"""A plan from a file, from standard input, or out of a pasted forum post."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import typer

from coswim.plans.posted import find_plan
from coswim.plans.reading import ReadPlan, resolve
from coswim.profiles.catalog import Catalog
from coswim.text.document import MOST_BYTES, decode, read_document, read_file
from coswim.text.printable import quoted
from coswim.text.problems import whole_file

STANDARD_INPUT = "-"


def plan_from(source: str, catalog: Catalog, *, may_be_empty: bool = False) -> ReadPlan:
    """The plan that `source` names: a file, or `-` for standard input; InputProblems otherwise."""
    if source == STANDARD_INPUT:
        name = "standard input"
        text = decode(_standard_input(name), name)
    else:
        name = Path(source).name
        text = read_file(Path(source), shown_as=source, streams=True)
    return resolve(read_document(find_plan(text, name), name), catalog, may_be_empty=may_be_empty)


def _standard_input(name: str) -> bytes:
    if sys.stdin is None:
        raise whole_file(name, "is closed; give a plan file, or send the plan: coswim screen - < my-tank.yaml")
    try:
        return sys.stdin.buffer.read(MOST_BYTES + 1)
    except OSError as error:
        raise whole_file(name, f"cannot be read: {error.strerror or 'unknown reason'}") from None


def refuse_the_plan(target: Path, plan: str, option: str) -> None:
    """Wrong usage where what is to be written would take the place of the plan, under whatever name."""
    try:
        source = os.fstat(sys.stdin.fileno()) if plan == STANDARD_INPUT and sys.stdin else Path(plan).stat()
        is_source = target.is_file() and os.path.samestat(source, target.stat())
    except OSError:  # one of them is not there, or the input is no file
        return
    if is_source:
        raise typer.BadParameter(f"{quoted(str(target))} is the plan itself; name another file", param_hint=option)

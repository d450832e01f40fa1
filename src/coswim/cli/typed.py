"""What stands behind an option or argument: read, or wrong usage that says what is allowed."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TypeVar

import typer

from coswim.text.near import did_you_mean
from coswim.text.printable import quoted

ValueT = TypeVar("ValueT")


def value(text: str, read: Callable[[str], ValueT], option: str) -> ValueT:
    """What the text stands for; wrong usage with the words of a ValueError."""
    try:
        return read(text)
    except ValueError as error:
        raise typer.BadParameter(str(error), param_hint=option) from None


def value_if_typed(text: str | None, read: Callable[[str], ValueT], option: str) -> ValueT | None:
    """The same; None where nothing was typed."""
    return None if text is None else value(text, read, option)


def one_of(word: str, allowed: Collection[str], option: str) -> str:
    """The word, if it is allowed; a near one is offered otherwise."""
    if word not in allowed:
        message = f"{quoted(word)} is not one of {', '.join(allowed) or 'none'}{did_you_mean(word, allowed)}"
        raise typer.BadParameter(message, param_hint=option)
    return word

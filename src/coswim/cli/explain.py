"""`coswim explain`: how it is judged, with units, limits and sources."""

from __future__ import annotations

from typing import Annotated

import typer

from coswim.cli import completing, output
from coswim.explaining import TOPICS, contents
from coswim.text.printable import quoted
from coswim.text.problems import did_you_mean


def explain(
    topic: Annotated[
        str | None,
        typer.Argument(metavar="[TOPIC]", help="What to explain; else the topics.", autocompletion=completing.topics),
    ] = None,
) -> None:
    """Show how a hazard, a scale, a plan or the risk works.

    Example: coswim explain gape-fit
    """
    if topic is None:
        output.show(contents())
        return
    wanted = "-".join(topic.casefold().replace("_", " ").replace("-", " ").split())
    if wanted not in TOPICS:
        message = f"{quoted(topic)} is not a topic; allowed: {', '.join(TOPICS)}{did_you_mean(wanted, TOPICS)}"
        raise typer.BadParameter(message, param_hint="TOPIC")
    output.show(TOPICS[wanted].explained())

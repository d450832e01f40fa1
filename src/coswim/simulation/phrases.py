"""A group in a sentence: its label, the verb that goes with it, its plural and article."""

from __future__ import annotations

from coswim.simulation.group import Group
from coswim.text import wording
from coswim.text.wording import plural as plural


def label(group: Group) -> str:
    """`the saddled bichir` or `the 8 tinfoil barbs`, to stand in a sentence; `the new oscar` beside another."""
    if group.count == 1:
        return f"the {group.apart.format(group.name)}"
    return f"the {group.count} {group.apart.format(plural(group.name))}"


def subject(group: Group) -> str:
    """The label as it opens a sentence."""
    return wording.opening(label(group))


def verb(group: Group, singular: str, plural: str) -> str:
    """The form of a word that goes with the label: `has` of a single fish, `have` of several."""
    return wording.agreeing(group.count, singular, plural)


def whom(doer: Group, target: Group) -> str:
    """To whom a group does something: `each other`, or the target's label."""
    return "each other" if target is doer else label(target)


def a(name: str) -> str:
    """The name with its article.

    >>> a("oscar"), a("tinfoil barb")
    ('an oscar', 'a tinfoil barb')
    """
    return f"{'an' if name[:1].casefold() in 'aeiou' else 'a'} {name}"

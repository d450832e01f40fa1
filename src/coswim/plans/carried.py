"""What a plan carries of profiles: the blocks in which a keeper's own ones differ from the built-in library.

A stranger who runs the plan gets the same numbers, whatever is in the stranger's own folder: a profile that is
carried is the built-in one with these blocks in place of its own, or a whole one where there is none built in.
Notes stay at home.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from coswim.plans.plan import Plan
from coswim.profiles.borrowing import completed
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.names import Entry, name_key
from coswim.profiles.profile import Profile
from coswim.profiles.sources import ALWAYS_KNOWN, kind_of
from coswim.text.document import YamlDocument, document_of
from coswim.text.problems import InputProblems, Problem
from coswim.text.validation import validate

NAME, SOURCES, UNKNOWN = "scientific_name", "sources", "unknown"
LEFT_AT_HOME = frozenset({"notes"})


class Carried(NamedTuple):
    """Blocks of one species as they are written in a profile; those under `unknown` are not stated."""

    scientific_name: str
    blocks: Mapping[str, Any]


def read_carried(document: YamlDocument, plan: Plan, catalog: Catalog) -> tuple[dict[str, Profile], list[Problem]]:
    """The carried profiles by every name, as names are compared; and what is wrong with them."""
    built_in = Catalog((BUILT_IN,)) if plan.profiles else catalog
    found: dict[str, Profile] = {}
    merged: list[Profile] = []
    problems: list[Problem] = []
    for index, blocks in enumerate(plan.profiles):
        try:
            merged.append(_merged(document, index, blocks, built_in))
        except InputProblems as error:
            problems += [one._replace(path=f"profiles[{index}].{one.path}".rstrip(".")) for one in error.problems]
    for profile in merged:
        whole = completed(profile, _circles(profile, merged, built_in))
        for name in (*profile.common_names, *profile.also_known_as, profile.scientific_name):
            found[name_key(name)] = whole
    return found, problems


def _circles(profile: Profile, carried: Sequence[Profile], built_in: Catalog) -> Iterator[tuple[Profile, ...]]:
    """The relatives of a species, its genus and then its family, with the carried ones in place of the built-in."""
    genus = profile.scientific_name.partition(" ")[0]
    others = [one for one in carried if one.scientific_name != profile.scientific_name]
    own = (
        [one for one in others if one.scientific_name.partition(" ")[0] == genus],
        [one for one in others if one.family == profile.family],
    )
    replaced = {one.scientific_name for one in carried}
    for circle, kin in zip(built_in.circles(profile.scientific_name, profile.family), own, strict=True):
        yield (*(one for one in circle if one.scientific_name not in replaced), *kin)


def own_blocks(species: Iterable[str], plan: Plan, catalog: Catalog) -> tuple[Carried, ...]:
    """What has to be carried of some species, by scientific name, for a stranger to get the same numbers."""
    already = {str(blocks.get(NAME)): Carried(str(blocks.get(NAME)), blocks) for blocks in plan.profiles}
    found = ((name, already.get(name) or _difference(name, catalog)) for name in sorted(set(species)))
    return tuple(carried for _, carried in found if carried)


def _merged(document: YamlDocument, index: int, blocks: Mapping[str, Any], built_in: Catalog) -> Profile:
    name = str(blocks.get(NAME, ""))
    entry = built_in.entries.get(name)
    data = dict(_data(entry)) if entry else {}
    unknown = blocks.get(UNKNOWN, [])
    changed = {key: value for key, value in blocks.items() if key not in {UNKNOWN, SOURCES}}
    replaced = {*changed, *unknown} if isinstance(unknown, list) else {*changed}
    sources = {key: value for key, value in _sources(data).items() if key.partition(".")[0] not in replaced}
    data = {key: value for key, value in data.items() if key not in replaced} | changed
    data[SOURCES] = sources | _sources(blocks)
    return validate(YamlDocument(document.file, data, document.node(("profiles", index))), Profile)


def _difference(name: str, catalog: Catalog) -> Carried | None:
    """The blocks in which the keeper's profile of a species differs; None where there is nothing to carry."""
    entry = catalog.entries.get(name)
    if entry is None or entry.built_in:
        return None
    before = next((one for one in catalog.all_entries if one.built_in and one.scientific_name == name), None)
    own, known = _data(entry), _data(before) if before else {}
    blocks = {key: value for key, value in own.items() if key not in LEFT_AT_HOME | {NAME, SOURCES}}
    changed = {
        key: value
        for key, value in blocks.items()
        if value != known.get(key) or _for_block(key, own) != _for_block(key, known)
    }
    unknown = [key for key in known if key not in own and key not in LEFT_AT_HOME]
    if not changed and not unknown:
        return None
    sources = {key: _kept(value, catalog) for key, value in _sources(own).items() if key.partition(".")[0] in changed}
    data = {NAME: name, **changed, **({SOURCES: sources} if sources else {}), **({UNKNOWN: unknown} if unknown else {})}
    return Carried(name, data)


def _kept(keys: Any, catalog: Catalog) -> Any:
    """Source keys that a stranger's library knows, and for the others the kind of evidence that they stand for."""
    if isinstance(keys, list):
        return [_kept(key, catalog) for key in keys]
    is_known = keys in Catalog((BUILT_IN,)).bibliography or keys in ALWAYS_KNOWN
    return keys if is_known else kind_of(keys, catalog.bibliography)


def _for_block(block: str, data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in _sources(data).items() if key.partition(".")[0] == block}


def _sources(data: Mapping[str, Any]) -> dict[str, Any]:
    found = data.get(SOURCES)
    return dict(found) if isinstance(found, Mapping) else {}


def _data(entry: Entry) -> dict[str, Any]:
    data = document_of(entry.path).data
    return data if isinstance(data, dict) else {}

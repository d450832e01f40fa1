"""Strict YAML: every scalar stays text, every node keeps its place, and nothing can be executed.

Read with PyYAML's C base loader, which knows no types and no object tags. Refused with a clear
problem: duplicate keys, tags, files over 1 MiB, more than 100,000 nodes after aliases are expanded,
nesting deeper than 50, text that is not UTF-8.
"""

from __future__ import annotations

import stat
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

import yaml

from coswim.text.printable import one_line, quoted, shortened
from coswim.text.problems import InputProblems, Problem, refuse_any, whole_file

MOST_BYTES = 1024 * 1024
TOO_LARGE = "is larger than 1 MiB; a plan or profile is a few KiB at most"
MOST_NODES = 100_000
DEEPEST = 50
MOST_STEPS = 6
"""Steps of a path that a message shows; no plan or profile is deeper. Source: judgement."""
PLAIN_TAG: Mapping[type[yaml.Node], str] = MappingProxyType(
    {
        kind: f"tag:yaml.org,2002:{shape}"
        for kind, shape in ((yaml.ScalarNode, "str"), (yaml.SequenceNode, "seq"), (yaml.MappingNode, "map"))
    }
)
PLAIN_TAGS = frozenset(PLAIN_TAG.values())


def _tag(_loader: object, kind: type[yaml.Node], _value: object, _implicit: object) -> str:
    """The tag of a node that names none; the base loader's own way of asking, once for every node, takes longer."""
    return PLAIN_TAG[kind]


LOADER: Any = type("PlainLoader", (getattr(yaml, "CBaseLoader", yaml.BaseLoader),), {"resolve": _tag})

Path_ = tuple[str | int, ...]


class YamlDocument(NamedTuple):
    """One document: its plain data (mappings, lists, text) and the YAML nodes it came from, if any."""

    file: str
    data: Any
    root: Any

    def node(self, path: Path_) -> Any:
        """The node of the longest prefix of `path` that the document has."""
        node = self.root
        for step in path:
            inner = _child(node, step)
            if inner is None:
                break
            node = inner
        return node

    def place(self, path: Path_) -> tuple[int, int]:
        """Line and column (from 1) of that node."""
        return _position(self.node(path))

    def problem(self, path: Path_, message: str) -> Problem:
        """A problem at `path`, placed as exactly as the document allows."""
        return Problem(self.file, *self.place(path), dotted(path), message)

    def key_problem(self, path: Path_, message: str) -> Problem:
        """A problem with the key itself (not its value) at the end of `path`."""
        key, _value = _pairs_of(self.node(path[:-1])).get(path[-1], (None, None))
        if key is None:
            return self.problem(path, message)
        return Problem(self.file, *_position(key), dotted(path), message)

    @property
    def is_empty(self) -> bool:
        """The document holds nothing but comments and blank lines."""
        return self.data is None


def dotted(path: Path_) -> str:
    """The path as it is written for a reader: `residents[0].length`."""
    text = ""
    for step in path[:MOST_STEPS]:
        name = f"[{step}]" if isinstance(step, int) else shortened(step)
        text += f".{name}" if text and isinstance(step, str) else name
    return one_line(f"{text}..." if len(path) > MOST_STEPS else text)


def read_file(path: Path, *, shown_as: str | None = None, streams: bool = False) -> str:
    """The text of a file, or one problem that says why it cannot be read."""
    return decode(read_bytes(path, shown_as=shown_as, streams=streams), shown_as or str(path))


def document_of(path: Path) -> YamlDocument:
    """The document in a file."""
    return read_document(read_file(path), str(path))


def read_bytes(path: Path, *, shown_as: str | None = None, streams: bool = False) -> bytes:
    """The content of a file, or one problem; a pipe or device, which may never end, only with `streams`."""
    name = shown_as or str(path)
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise whole_file(name, "is a folder; a YAML file is wanted")
        if not streams and not stat.S_ISREG(status.st_mode):
            raise whole_file(name, "is no file but a pipe or device")
        with path.open("rb") as stream:
            raw = stream.read(1 + min(MOST_BYTES, status.st_size or MOST_BYTES))  # room for 1 MiB each takes long
    except FileNotFoundError:
        raise whole_file(name, "is not there; check the name and the folder") from None
    except PermissionError:
        raise whole_file(name, "cannot be read: no permission") from None
    except OSError as error:
        raise whole_file(name, f"cannot be read: {error.strerror or 'unknown reason'}") from None
    if len(raw) > MOST_BYTES:
        raise whole_file(name, TOO_LARGE)
    return raw


def decode(raw: bytes, name: str) -> str:
    """Bytes as text: UTF-8 (with or without byte-order mark), at most 1 MiB."""
    if len(raw) > MOST_BYTES:
        raise whole_file(name, TOO_LARGE)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        place = _line_and_column(raw.decode("latin-1"), error.start)
        raise InputProblems([Problem(name, *place, "", "is not UTF-8 text; save the file as UTF-8")]) from None


def read_document(text: str, file: str) -> YamlDocument:
    """Parse one YAML document strictly; all structural problems are raised at once."""
    if len(text.encode("utf-8", "replace")) > MOST_BYTES:
        raise whole_file(file, TOO_LARGE)
    root = _compose(text, file)
    if root is None:
        return YamlDocument(file, None, None)
    try:
        data = _plain_if_simple(root, len(text))
    except _NotSimple:
        refuse_any(_structure_problems(root, file))
        data = _plain(root)
    return YamlDocument(file, data, root)


def _compose(text: str, file: str) -> Any:
    try:
        return yaml.compose(text, Loader=LOADER)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
        raise InputProblems([Problem(file, line, column, "", _yaml_message(error, text, line))]) from None
    except RecursionError:  # the pure Python loader, where the C one is missing
        raise whole_file(file, f"is nested deeper than {DEEPEST} levels") from None
    except yaml.reader.ReaderError as error:
        character = chr(error.character) if isinstance(error.character, int) else error.character
        message = f"character {character!r} is not allowed in YAML"
        raise InputProblems([Problem(file, *_line_and_column(text, error.position), "", message)]) from None


def _line_and_column(text: str, position: int) -> tuple[int, int]:
    return text.count("\n", 0, position) + 1, position - text.rfind("\n", 0, position)


def _yaml_message(error: yaml.MarkedYAMLError, text: str, line: int) -> str:
    if "another document" in (error.problem or ""):
        return "holds more than one YAML document; keep one ('---' starts another)"
    lines = text.splitlines()
    if 0 < line <= len(lines) and "\t" in lines[line - 1][: len(lines[line - 1]) - len(lines[line - 1].lstrip())]:
        return "is indented with a tab; YAML wants spaces"
    detail = " ".join(part for part in (error.problem, error.context) if part)
    return f"is not valid YAML: {detail}"


class _NotSimple(Exception):
    """Something may be wrong with a document, or be written in an unusual way, and wants a closer look."""


def _plain_if_simple(root: Any, length: int) -> Any:
    """The plain data of a document that cannot have a structural problem, in one walk; _NotSimple otherwise.

    `length` is that of its text: each node that is not an alias is written with at least one character.
    """
    seen: set[int] = set()

    def plain(node: Any, depth: int) -> Any:
        if node.tag not in PLAIN_TAGS:
            raise _NotSimple
        if isinstance(node, yaml.ScalarNode):
            return node.value
        if depth >= DEEPEST or id(node) in seen:
            raise _NotSimple
        seen.add(id(node))
        if isinstance(node, yaml.SequenceNode):
            return [plain(child, depth + 1) for child in node.value]
        data = {key.value: plain(value, depth + 1) for key, value in node.value if isinstance(key, yaml.ScalarNode)}
        if len(data) < len(node.value):  # a key twice, or one that is no text
            raise _NotSimple
        return data

    if length > MOST_NODES // 2:
        raise _NotSimple
    return plain(root, 0)


def _structure_problems(root: Any, file: str) -> Iterator[Problem]:
    if _measure(root, {}, 0):
        yield from _node_problems(root, (), file, set())
    else:
        limits = (
            f"has more than {MOST_NODES:,} values, a value inside itself, or is nested deeper than {DEEPEST} levels"
        )
        yield Problem(file, 0, 0, "", limits)


def _measure(node: Any, sizes: dict[int, int], depth: int) -> bool:
    """Count nodes as if every alias were written out; False when over a limit or recursive."""
    children = _children(node)
    if children and depth >= DEEPEST:
        return False
    sizes[id(node)] = MOST_NODES + 1  # stands while the node is open: meeting it again is a loop
    total = 1
    for child in children:
        if isinstance(child, yaml.ScalarNode):
            total += 1
        elif id(child) in sizes or _measure(child, sizes, depth + 1):
            total += sizes[id(child)]
        else:
            return False
        if total > MOST_NODES:
            return False
    sizes[id(node)] = total
    return True


def _children(node: Any) -> list[Any]:
    if isinstance(node, yaml.MappingNode):
        return [part for pair in node.value for part in pair]
    return node.value if isinstance(node, yaml.SequenceNode) else []


def _node_problems(node: Any, path: Path_, file: str, seen: set[int]) -> Iterator[Problem]:
    if id(node) in seen:
        return
    seen.add(id(node))
    if node.tag not in PLAIN_TAGS:
        message = f"tag {quoted(node.tag)} is not allowed; write plain text"
        yield Problem(file, *_position(node), dotted(path), message)
    if isinstance(node, yaml.SequenceNode):
        for index, child in enumerate(node.value):
            yield from _node_problems(child, (*path, index), file, seen)
    elif isinstance(node, yaml.MappingNode):
        yield from _mapping_problems(node, path, file, seen)


def _mapping_problems(node: Any, path: Path_, file: str, seen: set[int]) -> Iterator[Problem]:
    first: dict[str, Any] = {}
    for key, value in node.value:
        if not isinstance(key, yaml.ScalarNode):
            message = "a key must be plain text, not a list or mapping"
            yield Problem(file, *_position(key), dotted(path), message)
            continue
        if first.setdefault(key.value, key) is not key:
            before = _position(first[key.value])[0]
            message = f"key {quoted(key.value)} is written twice (first in line {before}); keep one"
            yield Problem(file, *_position(key), dotted((*path, key.value)), message)
        if not isinstance(value, yaml.ScalarNode) or value.tag not in PLAIN_TAGS:
            yield from _node_problems(value, (*path, key.value), file, seen)


def _plain(node: Any) -> Any:
    if isinstance(node, yaml.MappingNode):
        return {key.value: _plain(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [_plain(child) for child in node.value]
    return node.value


@lru_cache(maxsize=64)
def _pairs_of(node: Any) -> Mapping[str | int, tuple[Any, Any]]:
    """The first key and value node of each name in a mapping; a document of many problems asks for it each time."""
    pairs = reversed(node.value) if isinstance(node, yaml.MappingNode) else ()
    return MappingProxyType({key.value: (key, value) for key, value in pairs if isinstance(key, yaml.ScalarNode)})


def _child(node: Any, step: str | int) -> Any:
    if isinstance(node, yaml.MappingNode):
        return _pairs_of(node).get(step, (None, None))[1]
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
        return node.value[step]
    return None


def _position(node: Any) -> tuple[int, int]:
    if node is None:
        return (0, 0)
    return (node.start_mark.line + 1, node.start_mark.column + 1)

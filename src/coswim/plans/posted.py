"""A plan inside a pasted forum post, page or report.

Looked for in this order: marked blocks ([code], ``` or ~~~ fences, <pre>) that hold a plan's keys; the parts
of a post with [quote] tags; the text as it is, when it starts like a plan; lines from the first key of a
plan on; all of that once more in what is quoted with '>'. The line numbers of the post are kept, so that a
problem names the line one sees.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from types import MappingProxyType
from typing import NamedTuple

from coswim.plans.plan import Plan
from coswim.text.problems import InputProblems, Problem, whole_file

LINE_BREAK = re.compile(r"\r\n|\r|\n")
FENCE = re.compile(r"\s*+(`{3,}+|~{3,}+)([^`]*+)")
CODE_START = re.compile(r"\[code(?:[=\s][^\]\n]{0,80})?\]", re.IGNORECASE)
CODE_END = re.compile(r"\[/code\]", re.IGNORECASE)
PRE_START = re.compile(r"<pre(?:\s[^>\n]{0,200})?>", re.IGNORECASE)
PRE_END = re.compile(r"</pre\s*>", re.IGNORECASE)
QUOTE_TAG = re.compile(r"\[/?quote(?:[=\s][^\]\n]{0,200})?\]", re.IGNORECASE)
HTML_TAG = re.compile(r"<[^<>\n]{0,200}>")
QUOTE = re.compile(r"^\s{0,3}>\s?")
KEY = re.compile(r"^(\s*)([\w-]+)\s*:(?:\s|$)")
NOTHING = re.compile(r"^\s*(?:#.*)?$|^(?:---|%)")
YAML_START = re.compile(r"^\s*(?:[\w-]+\s*:(?:\s|$)|[-{}\[\]\"'&*!?|%@`])")
DEEPEST_QUOTE = 10
PLAN_KEYS = frozenset(Plan.model_fields)
HEART = frozenset({"tank", "residents"})
"""The keys that tell a plan from other blocks: both, or one of them where no block has both."""
TYPESET = re.compile(r"(?<=[:,\[{-] )([“„])([^“”„]*)”")
"""A value in the quotes that word processors and phones put for plain ones; not the inches of `24”`."""
INVISIBLE = MappingProxyType({0x200B: None, 0xFEFF: None})
"""Zero-width spaces, which some boards put into long words of a code block, and byte-order marks."""


class Block(NamedTuple):
    """Some lines of the post and where they start."""

    lines: tuple[str, ...]
    start: int

    @property
    def end(self) -> int:
        """The line after the last."""
        return self.start + len(self.lines)

    @property
    def keys(self) -> frozenset[str]:
        """The keys of a plan at the block's own left edge."""
        matches = map(KEY.match, _dedented(self.lines))
        return frozenset(match[2] for match in matches if match and not match[1]) & PLAN_KEYS

    @property
    def text(self) -> str:
        """The plan, moved to the left edge."""
        return "\n".join(_dedented(self.lines)) + "\n"


def find_plan(post: str, file: str) -> str:
    """The plan in a post; InputProblems where there is none or several.

    It stands behind as many empty lines as there are lines before it, so that line numbers are the post's. Text that
    starts like YAML comes back whole, so that what is wrong with it is said by who reads it.
    """
    lines = view = [_cleaned(line) for line in LINE_BREAK.split(post)]
    for _ in range(DEEPEST_QUOTE):
        block = (
            _one(_with_plan(_marked(view)), file)
            or _one(_with_plan(_between_quote_tags(view)), file)
            or _as_it_is(view)
            or _one(_with_plan(_from_keys(Block(tuple(view), 0))), file)
        )
        if block:
            return "\n" * block.start + block.text
        view = [QUOTE.sub("", line) if QUOTE.match(line) else "" for line in view]
        if not any(view):
            break
    first = next((line for line in lines if not NOTHING.match(line)), None)
    if first is None or YAML_START.match(first):
        return post
    raise whole_file(file, "holds no plan; a plan has the keys tank: and residents: (see coswim plan new)")


def _one(blocks: Sequence[Block], file: str) -> Block | None:
    texts: dict[str, Block] = {}
    for block in blocks:
        texts.setdefault(block.text, block)
    if len(texts) > 1:
        first, second, *_ = (block.start + 1 for block in texts.values())
        message = f"holds {len(texts)} plans, from lines {first} and {second} on; keep the one that is meant"
        raise InputProblems([Problem(file, second, 1, "", message)])
    return next(iter(texts.values()), None)


def _with_plan(blocks: Iterator[Block]) -> list[Block]:
    """The innermost blocks that hold a plan, in their order."""
    found = [block for block in dict.fromkeys(blocks) if block.keys & HEART]
    whole = [block for block in found if block.keys >= HEART] or found
    innermost: list[Block] = []
    nearest_end = None
    for block in sorted(whole, key=lambda block: (block.start, -block.end), reverse=True):
        if nearest_end is None or nearest_end > block.end:
            innermost.append(block)
        nearest_end = block.end if nearest_end is None else min(nearest_end, block.end)
    return innermost[::-1]


def _marked(lines: Sequence[str]) -> Iterator[Block]:
    """Every block between marks."""
    yield from _fenced(lines)
    post = "\n".join(lines)
    yield from _between(post, CODE_START, CODE_END)
    for block in _between(post, PRE_START, PRE_END):
        from html import unescape  # its table of names is long, and few plans come out of a page

        yield Block(tuple(unescape(HTML_TAG.sub("", line)) for line in block.lines), block.start)


def _fenced(lines: Sequence[str]) -> Iterator[Block]:
    start, fence = 0, ""
    for number, line in enumerate(lines):
        match = FENCE.fullmatch(line)
        if not match:
            continue
        if not fence:
            start, fence = number + 1, match[1]
        elif match[1].startswith(fence) and not match[2].strip():
            yield Block(tuple(lines[start:number]), start)
            fence = ""
    if fence:
        yield Block(tuple(lines[start:]), start)


def _between(post: str, start: re.Pattern[str], end: re.Pattern[str]) -> Iterator[Block]:
    position, line = 0, 0
    while (opened := start.search(post, position)) and (closed := end.search(post, opened.end())):
        line += post.count("\n", position, opened.end())
        inner = post[opened.end() : closed.start()]
        rest_of_line, _, others = inner.partition("\n")
        first = 0 if rest_of_line.strip() else 1
        yield Block(tuple((inner if first == 0 else others).split("\n")), line + first)
        line += post.count("\n", opened.end(), closed.end())
        position = closed.end()


def _as_it_is(lines: Sequence[str]) -> Block | None:
    """The whole text, when nothing but YAML stands before the first key of a plan."""
    first = next(_keys(lines), None)
    if first is None or _margin(lines[first]):
        return None
    before = (line for line in lines[:first] if not NOTHING.match(line))
    is_yaml = all(line[:1].isspace() or YAML_START.match(line) for line in before)
    return Block(tuple(lines), 0) if is_yaml else None


def _between_quote_tags(lines: Sequence[str]) -> Iterator[Block]:
    """What may be a plan in each part of a post with [quote] tags: inside, between and around them."""
    parts: list[Block] = []
    current, start = list[str](), 0
    for number, line in enumerate(lines):
        before, *others = QUOTE_TAG.split(line)
        current.append(before)
        for piece in others:
            parts.append(Block(tuple(current), start))
            current, start = [piece.lstrip()], number
    parts.append(Block(tuple(current), start))
    if len(parts) > 1:
        for part in parts:
            yield from _from_keys(part)


def _from_keys(part: Block) -> Iterator[Block]:
    """The lines from a first key of a plan on, as far as they are indented like it."""
    lines, end = part.lines, 0
    for start in _keys(lines):
        if start >= end:
            margin = _margin(lines[start])
            less = (n for n in range(start, len(lines)) if lines[n].strip() and _margin(lines[n]) < margin)
            end = next(less, len(lines))
            kept = _up_to_prose(lines[start:end])
            written = max(n for n, line in enumerate(kept) if line.strip()) + 1
            yield Block(kept[:written], part.start + start)


def _keys(lines: Sequence[str]) -> Iterator[int]:
    """The lines that begin with a key of a plan."""
    return (n for n, line in enumerate(lines) if (key := KEY.match(line)) and key[2] in PLAN_KEYS)


def _up_to_prose(lines: Sequence[str]) -> tuple[str, ...]:
    """The lines without prose behind the plan: cut at the first line that is no YAML, if nothing after it is.

    A line that begins with a word of the plan is a slip of the pen, not prose.
    """
    for number, line in enumerate(lines):
        if line.strip() and not line[0].isspace() and not NOTHING.match(line) and not YAML_START.match(line):
            after = lines[number + 1 :]
            goes_on = any(rest[:1].isspace() and rest.strip() for rest in after) or next(_keys(after), None) is not None
            return tuple(lines if goes_on or line.split()[0].strip(":") in PLAN_KEYS else lines[:number])
    return tuple(lines)


def _margin(line: str) -> int:
    return len(line) - len(line.lstrip())


def _dedented(lines: Sequence[str]) -> list[str]:
    margin = min((_margin(line) for line in lines if line.strip()), default=0)
    return [line[margin:] for line in lines]


def _cleaned(line: str) -> str:
    """The line without the invisible signs that boards add, indented by plain spaces, in plain quotes."""
    visible = TYPESET.sub(r'"\2"', line.translate(INVISIBLE))
    body = visible.lstrip(" \N{NO-BREAK SPACE}")
    return " " * (len(visible) - len(body)) + body

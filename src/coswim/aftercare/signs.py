"""What a note says without being asked: signs in a keeper's own words.

A note is read for a closed list of words. A word that is denied (`no gasping`, `none missing`) is no sign. What
was read is always quoted, so that a wrong reading shows; what is not in the list is not seen, so the fields of
an entry are surer than its note.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import NamedTuple


class Sign(StrEnum):
    """A thing that keepers write in notes and that changes what is to be done."""

    DEAD = "dead"
    EATEN = "eaten"
    MISSING = "missing"
    OUT = "out of the tank"
    FULL_BELLY = "a full belly"
    GASPING = "short of breath"
    ILL = "ill"
    THIN = "emaciated"
    THINNER = "thinner"
    HURT = "hurt"
    WELL_FED = "well fed"
    BETTER = "better"
    APART = "parted"
    TOGETHER = "together again"
    NO_FILTER = "a filter that stands still"


WORDS: Mapping[Sign, tuple[str, ...]] = MappingProxyType(
    {
        Sign.DEAD: (
            r"dead", r"died", r"dying", r"corpse", r"carcass", r"lifeless", r"did not survive",
        ),
        Sign.EATEN: (
            r"swallow\w*", r"half[- ]eaten", r"(?:was|were|been|got) eaten", r"eaten by", r"choking", r"chokes",
            r"(?:in|out of) (?:its|the|his|her) (?:mouth|jaws)", r"remains of",
        ),
        Sign.MISSING: (
            r"(?<!scales )(?<!scale )missing(?! (?:an? )?(?:eye|scale|piece|fin|bit))", r"vanished", r"disappeared",
            r"not found", r"nowhere", r"(?:one|two|three|four|five|six|\d+)(?: \w+){0,3} gone",
            r"cannot (?:be found|find)", r"not (?:been )?seen (?:for|since)", r"no (?:trace|sign) of",
            r"unaccounted",
        ),
        Sign.OUT: (
            r"on the (?:floor|carpet|ground) (?:of the room|beside|behind|in front)",
            r"on the (?:carpet|floorboards)", r"jumped", r"leapt out", r"climbed out", r"dried (?:up|out)",
            r"behind the (?:tank|cabinet)",
        ),
        Sign.FULL_BELLY: (
            r"(?:round|full|fat|bulging|swollen|stuffed|huge|thick|big) (?:belly|stomach|bellied)",
            r"(?:belly|stomach) (?:\w+ )?(?:round|full|fat|bulging|swollen|stuffed|huge|thick|big)",
        ),
        Sign.GASPING: (
            r"gasp\w*", r"pants", r"panting", r"piping",
            r"breath\w* (?:very )?(?:fast|hard|heavily|rapidly|quickly)",
            r"(?:fast|hard|heavy|rapid|quick) breath\w*", r"short of breath", r"gulp\w*(?: of| for)? air",
            r"hang\w* (?:at|under|below|just under) the surface", r"gills? (?:pump|heav|beat)\w*",
        ),
        Sign.ILL: (
            r"scales (?:standing|sticking|stand|stick|raised)", r"bloat\w*", r"swollen", r"dropsy", r"pine ?cone",
            r"white (?:spot|dot)s?", r"grains? of salt", r"cotton\w*", r"fung\w*", r"wool\w*", r"velvet\w*",
            r"ulcer\w*", r"fin rot", r"flash(?:es|ing|ed)",
            r"(?:rubs?|rubbing|scrapes?|scratch\w*|scrubs?) (?:itself |themselves )?(?:against|on|along)",
            r"clamped", r"stringy", r"pop-?eye\w*", r"bulging eyes?", r"red streaks",
            r"blood(?:y|shot)? (?:streaks|spots)", r"swims? upside", r"upside down",
            r"cannot (?:hold|keep) (?:its|their)", r"spinning", r"spirall?ing", r"tumou?r", r"worms? hanging",
            r"lying on (?:its|their) sides?", r"lies on (?:its|their) sides?", r"sick", r"ill", r"disease\w*",
            r"parasit\w*", r"infect\w*", r"cloudy eyes?", r"dull grey film", r"slimy (?:coat|skin|film)",
        ),
        Sign.THIN: (
            r"hollow", r"sunken", r"pinched", r"emaciat\w*", r"skin and bones?", r"skeletal", r"knife[- ]?backed",
            r"bony", r"backbone shows", r"head looks (?:too|very) (?:big|large)", r"caved in",
        ),
        Sign.THINNER: (
            r"thin", r"thinner", r"leaner", r"lean", r"narrow\w*", r"slimmer", r"lost weight", r"losing weight",
            r"skinny", r"skinnier",
        ),
        Sign.HURT: (
            r"bit(?:es?|ing|ten)", r"wound\w*", r"blood\w*", r"bleeding", r"torn", r"shredded", r"rasp\w*",
            r"gash\w*", r"injur\w*", r"missing (?:an )?eyes?", r"scales missing", r"tooth marks?", r"attack\w*",
            r"ramm\w*", r"lock\w* jaws",
        ),
        Sign.WELL_FED: (
            r"bell(?:y|ies) (?:\w+ )?(?:round|full|plump)", r"(?:round|full|plump) bell(?:y|ies)", r"graz\w*",
            r"plump", r"well fed", r"well rounded", r"eats from (?:the )?(?:tongs|hand)",
        ),
        Sign.BETTER: (
            r"healed", r"healing", r"heals", r"recover\w*", r"closed up", r"grown back", r"growing back",
            r"regrow\w*", r"edge growing clear", r"normal again", r"found again", r"turned up", r"reappeared",
            r"breath\w* (?:calmly|normally|easily)", r"all well", r"gained",
        ),
        Sign.TOGETHER: (
            r"divider (?:\w+ )?(?:taken |lifted |pulled )?(?:out|away|up|removed)", r"removed the divider",
            r"(?:took|lifted|pulled) (?:out )?the divider(?: out)?", r"back together", r"together again",
            r"reunited", r"(?:put|moved|let|went) back (?:in|into|to) (?:the )?(?:main|big|community|tank)",
        ),
        Sign.APART: (
            r"divider (?:\w+ )?(?:put |set |went |goes )?in", r"put (?:in )?(?:a|the) divider",
            r"behind (?:a|the) divider", r"(?:is|are|was|were|now|been) (?:separated|parted|apart)",
            r"(?:separated|isolated) (?:it|him|her|them|the)",
            r"moved (?:\w+ ){0,4}(?:to|into) (?:\w+ ){0,3}tank",
            r"in(?:to)? (?:its|his|her|their|a|the) (?:own|second|spare|hospital|separate|other) tank",
            r"rehomed", r"(?:was|were|is|are|been) given (?:away|back)",
        ),
        Sign.NO_FILTER: (
            r"(?:filter|pump) (?:\w+ )?(?:stopped|stands still|off|out|failed|fails|broke\w*|blocked|clogged|dead)",
            r"power (?:cut|failure|outage)",
        ),
    }
)  # fmt: skip
"""By sign, the words it is known by, as patterns. Source: judgement on how keepers write."""
PATTERNS = tuple((sign, re.compile(rf"\b(?:{'|'.join(words)})\b", re.IGNORECASE)) for sign, words in WORDS.items())
DENIAL = r"\b(?:no|not|none|never|without|nobody|neither|nor|no longer|stopped|hardly|any ?more)\b|n't"
DENIED = re.compile(rf"(?:{DENIAL})(?:\W+\w+){{0,2}}\W*$", re.IGNORECASE)
MEANT = re.compile(
    r"\b(?:should|must|will|would|could|may|might|perhaps|maybe|if|plan\w*|think\w*|want\w*|ready|buy)\b",
    re.IGNORECASE,
)
"""A note that only thinks of parting the fish does not say that it was done."""
DONE = frozenset({Sign.APART, Sign.TOGETHER})
DENIES_ITSELF = re.compile(r"\W*(?:no|not|did not|cannot|will not|does not|unaccounted)\b", re.IGNORECASE)
NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty",
)  # fmt: skip
NUMBER = rf"(\d{{1,4}}|{'|'.join(NUMBERS[1:])})"
NO_HEADS = r"(?!\s*(?:cm|mm|g|mg|days?|weeks?|times))"
HEADS_COUNTED = re.compile(
    rf"\b(?:count(?:ed|s)?|only|still|see|saw|found|there (?:are|were)) (?:only )?{NUMBER}\b{NO_HEADS}"
    rf"(?:[^.,;]{{0,60}}?\bof (?:the )?{NUMBER}\b)?",
    re.IGNORECASE,
)


class ReadSign(NamedTuple):
    """A sign and the words of the note that it was read from."""

    sign: Sign
    words: str


class Count(NamedTuple):
    """How many a note says were counted, and of how many where it says so."""

    seen: int
    of: int | None


def signs_in(note: str) -> tuple[ReadSign, ...]:
    """The signs in a note, each once.

    >>> [str(read.sign) for read in signs_in("no gasping, but one tetra is missing")]
    ['missing']
    """
    found = []
    for sign, pattern in PATTERNS:
        for match in pattern.finditer(note):
            if _is_meant(sign, note, match):
                found.append(ReadSign(sign, match[0]))
                break
    return tuple(found)


def _is_meant(sign: Sign, note: str, match: re.Match[str]) -> bool:
    if sign in DONE and (MEANT.search(note[: match.start()]) or "tomorrow" in note):
        return False
    return DENIES_ITSELF.match(match[0]) is not None or DENIED.search(note[: match.start()]) is None


def count_in(note: str) -> Count | None:
    """How many fish a note says were counted.

    >>> count_in("counted eight tetras of ten"), count_in("counted 12"), count_in("only 4 cm")
    (Count(seen=8, of=10), Count(seen=12, of=None), None)
    """
    match = HEADS_COUNTED.search(note)
    return Count(_number(match[1]), _number(match[2]) if match[2] else None) if match else None


def _number(word: str) -> int:
    return int(word) if word.isdigit() else NUMBERS.index(word.casefold())

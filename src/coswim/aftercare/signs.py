"""What a note says without being asked: signs in a keeper's own words.

A note is read for a closed list of words. A word that is denied (`no gasping`, `none missing`) is no sign. What
was read is always quoted, so that a wrong reading shows; what is not in the list is not seen, so the fields of
an entry are surer than its note.
"""

from __future__ import annotations

import re
from enum import StrEnum
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
    CORNERED = "kept in a corner"


WORDS: tuple[tuple[Sign, str], ...] = (
    (Sign.DEAD, r"dead|died|dying|corpse|carcass|lifeless|did not survive"),
    (Sign.EATEN, r"swallow\w*|half[- ]eaten|(?:was|were|been|got) eaten|eaten by|choking|chokes|"
                 r"(?:in|out of) (?:its|the|his|her) (?:mouth|jaws)|remains of"),
    (Sign.MISSING, r"(?<!scales )(?<!scale )missing(?! (?:an? )?(?:eye|scale|piece|fin|bit))|vanished|disappeared|not found|nowhere|"
                   r"(?:one|two|three|four|five|six|\d+)(?: \w+){0,3} gone|cannot (?:be found|find)|"
                   r"not (?:been )?seen (?:for|since)|no (?:trace|sign) of|unaccounted"),
    (Sign.OUT, r"on the (?:floor|carpet|ground) (?:of the room|beside|behind|in front)|on the (?:carpet|floorboards)|"
               r"jumped|leapt out|climbed out|dried (?:up|out)|behind the (?:tank|cabinet)"),
    (Sign.FULL_BELLY, r"(?:round|full|fat|bulging|swollen|stuffed|huge|thick|big) (?:belly|stomach|bellied)|"
                      r"(?:belly|stomach) (?:\w+ )?(?:round|full|fat|bulging|swollen|stuffed|huge|thick|big)"),
    (Sign.GASPING, r"gasp\w*|pants|panting|piping|breath\w* (?:very )?(?:fast|hard|heavily|rapidly|quickly)|"
                   r"(?:fast|hard|heavy|rapid|quick) breath\w*|short of breath|gulp\w* air|"
                   r"hang\w* (?:at|under|below|just under) the surface|gills? (?:pump|heav|beat)\w*"),
    (Sign.ILL, r"scales (?:standing|sticking|stand|stick|raised)|bloat\w*|swollen|dropsy|pine ?cone|white (?:spot|dot)s?|"
               r"grains? of salt|cotton\w*|fung\w*|wool\w*|velvet\w*|ulcer\w*|fin rot|flash(?:es|ing|ed)|"
               r"(?:rubs?|rubbing|scrapes?|scratch\w*|scrubs?) (?:itself |themselves )?(?:against|on|along)|"
               r"clamped|stringy|pop-?eye\w*|bulging eyes?|red streaks|blood(?:y|shot)? (?:streaks|spots)|"
               r"swims? upside|upside down|cannot (?:hold|keep) (?:its|their)|spinning|spirall?ing|tumou?r|worms? hanging|"
               r"lying on (?:its|their) sides?|lies on (?:its|their) sides?|sick|ill|disease\w*|parasit\w*|infect\w*|"
               r"cloudy eyes?|dull grey film|slimy (?:coat|skin|film)"),
    (Sign.THIN, r"hollow|sunken|pinched|emaciat\w*|skin and bones?|skeletal|knife[- ]?backed|bony|backbone shows|"
                r"head looks (?:too|very) (?:big|large)|caved in"),
    (Sign.THINNER, r"thin|thinner|leaner|lean|narrow\w*|slimmer|lost weight|losing weight|skinny|skinnier"),
    (Sign.HURT, r"bit(?:es?|ing|ten)|wound\w*|blood\w*|bleeding|torn|shredded|rasp\w*|gash\w*|injur\w*|missing (?:an )?eyes?|"
                r"scales missing|tooth marks?|attack\w*|ramm\w*|lock\w* jaws"),
    (Sign.WELL_FED, r"(?:bell(?:y|ies) (?:\w+ )?(?:round|full|plump)|(?:round|full|plump) bell(?:y|ies)|graz\w*|plump|"
                    r"well fed|well rounded|eats from (?:the )?(?:tongs|hand))"),
    (Sign.BETTER, r"healed|healing|heals|recover\w*|closed up|grown back|growing back|regrow\w*|edge growing clear|"
                  r"normal again|found again|turned up|reappeared|breath\w* (?:calmly|normally|easily)|all well|gained"),
    (Sign.TOGETHER, r"divider (?:\w+ )?(?:taken |lifted |pulled )?(?:out|away|up|removed)|removed the divider|"
                    r"(?:took|lifted|pulled) (?:out )?the divider(?: out)?|back together|together again|reunited|"
                    r"(?:put|moved|let|went) back (?:in|into|to) (?:the )?(?:main|big|community|tank)"),
    (Sign.APART, r"divider (?:\w+ )?(?:put |set |went |goes )?in|put (?:in )?(?:a|the) divider|behind (?:a|the) divider|"
                 r"(?:is|are|was|were|now|been) (?:separated|parted|apart)|separated|isolated|"
                 r"moved (?:\w+ ){0,4}(?:to|into) (?:its|his|her|their|a|an|another|the (?:second|spare|other))|"
                 r"(?:own|second|spare|hospital|separate) tank|rehomed|given (?:away|back)"),
    (Sign.NO_FILTER, r"(?:filter|pump) (?:\w+ )?(?:stopped|stands still|off|out|failed|fails|broke\w*|blocked|clogged|dead)|"
                     r"power (?:cut|failure|outage)"),
    (Sign.CORNERED, r"pressed|cower\w*|wedged|corner\w*|hid(?:es|ing|den)|stays? (?:behind|under|in)|"
                    r"behind the heater|will not come out|does not come out"),
)  # fmt: skip
"""By sign, the words it is known by. Source: judgement on how keepers write."""
PATTERNS = tuple((sign, re.compile(rf"\b(?:{words})\b", re.IGNORECASE)) for sign, words in WORDS)
DENIED = re.compile(
    r"(?:\b(?:no|not|none|never|without|nobody|neither|nor|no longer|stopped|hardly|any ?more)\b|n't)(?:\W+\w+){0,2}\W*$",
    re.IGNORECASE,
)
DENIES_ITSELF = re.compile(r"\W*(?:no|not|did not|cannot|will not|does not|unaccounted)\b", re.IGNORECASE)
NUMBERS = (
    "no one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen twenty"
).split()
NUMBER = rf"(\d{{1,4}}|{'|'.join(NUMBERS[1:])})"
COUNTED = re.compile(
    rf"\b(?:count(?:ed|s)?|only|still|see|saw|found|there (?:are|were)) (?:only )?{NUMBER}\b(?!\s*(?:cm|mm|g|days?|weeks?|mg|times))"
    rf"(?:[^.,;]*?\bof (?:the )?{NUMBER}\b)?",
    re.IGNORECASE,
)


class Read(NamedTuple):
    """A sign and the words of the note that it was read from."""

    sign: Sign
    words: str


class Count(NamedTuple):
    """How many a note says were counted, and of how many where it says so."""

    seen: int
    of: int | None


def signs_in(note: str) -> tuple[Read, ...]:
    """The signs in a note, each once.

    >>> [str(read.sign) for read in signs_in("no gasping, but one tetra is missing")]
    ['missing']
    """
    found = []
    for sign, pattern in PATTERNS:
        for match in pattern.finditer(note):
            if DENIES_ITSELF.match(match[0]) or not DENIED.search(note[: match.start()]):
                found.append(Read(sign, match[0]))
                break
    return tuple(found)


def count_in(note: str) -> Count | None:
    """How many fish a note says were counted.

    >>> count_in("counted eight tetras of ten"), count_in("counted 12"), count_in("only 4 cm")
    (Count(seen=8, of=10), Count(seen=12, of=None), None)
    """
    match = COUNTED.search(note)
    return Count(_number(match[1]), _number(match[2]) if match[2] else None) if match else None


def _number(word: str) -> int:
    return int(word) if word.isdigit() else NUMBERS.index(word.casefold())

"""coswim says what the traits of the species and your own figures come to; it has watched no fish.

Against keepers: its verdicts are held against pairings on which experienced keepers agree. Panels marked blind
were written down before coswim was run on them. Beside it stand the rules of thumb that a keeper would use
without any program: no fish that is longer than a third of another, water that suits all, groups as large as
advised, a tank of four body lengths, and no known bullies.

On ordinary company it errs both ways: of 356 pairs of peaceful fish, picked at random, that two who did not know its
verdicts both found good by common practice, it calls 16 serious, 13 of them for hunger; it was 22 before what they
showed of the tanks that small fish need was mended. Of 51 that both found bad it sees 30.

What the figures cannot say: a number of futures is no odds. It tells pairings apart and shows what decides,
but nobody has counted that in so many of 100 real tanks it goes wrong. A verdict is only as good as its
profiles, and most traits in these rest on common practice or memory; each finding says so.

What it does not see: illness, the single fish that is unlike its kind (unless you say what you know of it),
the keeper who is away, and the shop's mix-up of two species.

What is left to you: watch the fish, keep a place to move one to, and ask a veterinarian about illness, your
authorities about the law, an electrician about mains beside water.
"""

from __future__ import annotations

from typing import NamedTuple


class Panel(NamedTuple):
    """Pairings on which keepers agree, and on how many of them coswim and the rules of thumb do; None is unmeasured."""

    name: str
    pairings: int
    blind: bool
    agree: int | None = None
    by_rules: int | None = None


PANELS: tuple[Panel, ...] = (
    Panel("feeding together, plain cases", 320, blind=True, agree=297, by_rules=172),
    Panel("feeding together, mostly hard cases, by an earlier model", 140, blind=True, agree=109, by_rules=77),
    Panel("feeding together, used to mend the model", 1145, blind=False, agree=1057, by_rules=658),
    Panel("all kinds of company, by an earlier model", 100, blind=True, agree=95, by_rules=92),
    Panel("all kinds of company, used to mend the model", 299, blind=False, agree=286, by_rules=252),
)
"""Pairings of `tests/panel/`: what was blind as it agreed when first seen; the others as they agreed after the last
mending, those once blind among them. `tests/panel/agreement.py` counts anew."""

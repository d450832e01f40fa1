"""Why the others failed: every reason has words, and reads as English for one species as for many."""

from __future__ import annotations

import pytest

from coswim.shortlist.funnel import ALL, BY_VICTIM, Share


@pytest.mark.parametrize(
    ("words", "number", "said"),
    [
        ("need other water", 96, "96 need other water"),
        ("need other water", 1, "1 needs other water"),
        ("do not bear the company of their kind", 1, "1 does not bear the company of their kind"),
        ("would be eaten", 1, "1 would be eaten"),
    ],
)
def test_a_count_in_words(words: str, number: int, said: str) -> None:
    assert Share(words, number).said == said


def test_no_reason_stays_plural_for_one() -> None:
    """English: a verb is one that does not change (would), or has a form of its own for one."""
    reasons = [*ALL.values(), *BY_VICTIM.values()]
    unchanged = [w.of_many for w in reasons if Share(w.of_many, 1).said == f"1 {w.of_many}"]
    assert [words for words in unchanged if not words.startswith("would ")] == []

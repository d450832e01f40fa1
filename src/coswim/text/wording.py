"""How numbers are worded for a reader; every report uses these and nothing else."""

from __future__ import annotations

import math


def share(value: float) -> str:
    """A share in percent; `0 %` and `100 %` only when exactly so.

    >>> [share(x) for x in (0, 0.004, 0.31, 0.996, 1)]
    ['0 %', '< 1 %', '31 %', '> 99 %', '100 %']
    """
    percent = round(value * 100)
    if value <= 0 or value >= 1:
        return f"{percent} %"
    if value < 0.01:
        return "< 1 %"
    return "> 99 %" if value > 0.99 else f"{percent} %"


def futures(value: float) -> str:
    """A share of the simulated futures; `in all` and `in none` only when exactly so.

    >>> [futures(x) for x in (0, 0.004, 0.22, 0.996, 1)]
    ['in none of the futures', 'in fewer than 1 of 100 futures', 'in 22 of 100 futures', \
'in more than 99 of 100 futures', 'in all futures']
    """
    if value <= 0 or value >= 1:
        return "in none of the futures" if value <= 0 else "in all futures"
    if value < 0.01:
        return "in fewer than 1 of 100 futures"
    return "in more than 99 of 100 futures" if value > 0.99 else f"in {round(value * 100)} of 100 futures"


def of_hundred(value: float) -> str:
    """The same for a table.

    >>> [of_hundred(x) for x in (0, 0.004, 0.22, 0.996, 1)]
    ['none', '< 1 of 100', '22 of 100', '> 99 of 100', 'all']
    """
    if value <= 0 or value >= 1:
        return "none" if value <= 0 else "all"
    if value < 0.01:
        return "< 1 of 100"
    return "> 99 of 100" if value > 0.99 else f"{round(value * 100)} of 100"


def chance(value: float) -> str:
    """A small chance as one in so many.

    >>> chance(0.02), chance(0.00015)
    ('1 in 50', '1 in 6,700')
    """
    return f"1 in {float(f'{1 / value:.2g}'):,.0f}"


def number(value: float, *, digits: int = 2) -> str:
    """A number with at most about `digits` significant digits, no exponent and no nought at its end.

    >>> [number(x) for x in (0.0123, 0.5, 1.26, 6.0, 12.6, 126.4)]
    ['0.012', '0.5', '1.3', '6', '13', '126']
    """
    if not math.isfinite(value):
        return "no limit"
    if value == 0:
        return "0"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    words = f"{value:.{places}f}"
    return words.rstrip("0").rstrip(".") if "." in words else words


def span(low: float, high: float, *, unit: str = "") -> str:
    """`24–28 C`, or `26 C` when both ends are the same; three digits are enough for a reader.

    >>> span(20, 23.3333, unit="C"), span(7, 7)
    ('20–23.3 C', '7')
    """
    ends = "–".join(f"{float(f'{end:.3g}'):g}" for end in dict.fromkeys((low, high)))
    return f"{ends} {unit}".strip()


def counted(count: int, singular: str, plural: str | None = None) -> str:
    """`1 fish`, `8 barbs`: a number with its noun in the right form.

    >>> counted(1, "draw"), counted(3, "draw")
    ('1 draw', '3 draws')
    """
    return f"{count:,} {singular if count == 1 else plural or singular + 's'}"


def plural(name: str) -> str:
    """`barb` to `barbs`; fish, discus and corydoras stay.

    >>> [plural(name) for name in ("tinfoil barb", "guppy", "angelfish", "discus", "loach")]
    ['tinfoil barbs', 'guppies', 'angelfish', 'discus', 'loaches']
    """
    if name.endswith(("fish", "s", "koi", "medaka")):
        return name
    if name.endswith("y") and name[-2:-1] not in "aeiou":
        return f"{name[:-1]}ies"
    return f"{name}es" if name.endswith(("ch", "sh", "x")) else f"{name}s"


def agreeing(count: int, singular: str, plural: str) -> str:
    """The form of a word that goes with so many: `1` has, `8` have.

    >>> agreeing(1, "has", "have"), agreeing(8, "has", "have")
    ('has', 'have')
    """
    return singular if count == 1 else plural


def opening(words: str) -> str:
    """Words as they open a sentence: with a capital, unless that would spoil a sign such as pH.

    >>> opening("the 8 tinfoil barbs"), opening("pH of the tank")
    ('The 8 tinfoil barbs', 'pH of the tank')
    """
    return words if words[1:2].isupper() else words[:1].upper() + words[1:]


def listed(words: list[str] | tuple[str, ...], *, last: str = "and") -> str:
    """`a, b and c`.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def at_hour(hour: str) -> str:
    """An hour of the day as it stands in a sentence.

    >>> at_hour("day"), at_hour("dusk")
    ('by day', 'at dusk')
    """
    return f"{'at' if hour == 'dusk' else 'by'} {hour}"

"""The order of a shortlist: verdict and risk first, and no genus in every place where others are as good."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from coswim.findings.finding import Consequence
from coswim.profiles import scales
from coswim.profiles.catalog import Catalog
from coswim.shortlist.burden import Burden
from coswim.shortlist.judged import Advice
from coswim.shortlist.offer import offer
from coswim.shortlist.ranking import ranked
from coswim.verdict.rating import OverallRisk, Verdict
from coswim.verdict.risk import level_of

COSTS = Burden(added=1.0, before=1.0, price=1.0, share=0.2, every=7.0)
TETRAS = ["Hyphessobrycon herbertaxelrodi", "Hyphessobrycon amandae", "Hyphessobrycon pulchripinnis"]
OTHERS = ["Corydoras paleatus", "Danio rerio", "Trichogaster chuna"]


def entry(catalog: Catalog, name: str, risk: int = 0, **said: Any) -> Advice:
    """A place on the shortlist."""
    profile = catalog.profile(name)
    overall = OverallRisk(risk, 0.1, Consequence.MARGINAL, (level_of(risk),)) if risk else None
    made = Advice((offer(profile).group(3.0),), (profile,), Verdict(""), overall, "", None, (), (), (0.0,), 0.5, COSTS)
    return made._replace(**said)


def names(entries: tuple[Advice, ...]) -> list[str]:
    return [each.profiles[0].scientific_name for each in entries]


def test_a_lower_risk_comes_first(catalog: Catalog) -> None:
    medium, low, none = (entry(catalog, name, risk) for name, risk in zip(OTHERS, (9, 3, 0), strict=True))
    assert ranked([medium, low, none]) == (none, low, medium)


@pytest.mark.parametrize(
    "worse",
    [
        {"unrated": ("its mouth",)},
        {"burden": COSTS._replace(price=1.5)},
        {"burden": COSTS._replace(share=0.5)},
        {"burden": COSTS._replace(share=None)},
        {"margin": -0.5},
        {"harm": (0.2,)},
    ],
    ids=["not rated", "dearer", "more water", "no water does", "water at the edge", "more often harmed"],
)
def test_of_one_risk_comes_first(catalog: Catalog, worse: dict[str, Any]) -> None:
    good, bad = entry(catalog, "Danio rerio"), entry(catalog, "Danio margaritatus")._replace(**worse)
    assert ranked([bad, good]) == (good, bad)


def test_of_one_risk_what_shops_have_comes_first_and_the_rare_last_of_one_verdict(catalog: Catalog) -> None:
    everyday, regular, seldom = (next(_traded(catalog, word)) for word in scales.IN_TRADE.words)
    found = [entry(catalog, seldom), entry(catalog, regular, 3), entry(catalog, everyday, 3)]
    assert names(ranked(found)) == [everyday, regular, seldom]


@pytest.mark.parametrize(
    ("rough", "peaceful", "peaceful_comes_first"), [(8, 8, True), (7, 8, False), (0, 3, True), (0, 8, False)]
)
def test_of_one_risk_what_is_peaceful_comes_first(
    catalog: Catalog, rough: int, peaceful: int, peaceful_comes_first: bool
) -> None:
    """Where the risk is low it need not be the same."""
    cichlid, danio = entry(catalog, "Pelvicachromis pulcher", rough), entry(catalog, "Danio rerio", peaceful)
    assert (ranked([cichlid, danio])[0] is danio) is peaceful_comes_first


def test_one_that_hunts_fish_comes_after_those_that_do_not(catalog: Catalog) -> None:
    """A peaceful hunter too, and after one that holds a place; both are as often for sale."""
    hunter, holder = "Polypterus delhezi", "Julidochromis ornatus"
    assert names(ranked([entry(catalog, hunter), entry(catalog, holder)])) == [holder, hunter]


def _traded(catalog: Catalog, word: str) -> Iterator[str]:
    return (name for name in catalog.entries if catalog.profile(name).in_trade == word)


def test_a_genus_has_two_places_of_ten_where_others_are_as_good(catalog: Catalog) -> None:
    found = names(ranked([entry(catalog, name) for name in (*TETRAS, *OTHERS)]))
    assert [name for name in found if name in TETRAS][2] == found[-1]


def test_a_better_verdict_goes_before_the_spread(catalog: Catalog) -> None:
    """Three tetras that are reasonable stand before a danio that is possible with care."""
    found = names(ranked([entry(catalog, "Danio rerio", 9), *(entry(catalog, name) for name in TETRAS)]))
    assert found[-1] == "Danio rerio"


def test_the_order_of_asking_is_of_no_account(catalog: Catalog) -> None:
    entries = [entry(catalog, name) for name in (*TETRAS, *OTHERS)]
    assert ranked(entries) == ranked(entries[::-1])


def test_families_take_turns(catalog: Catalog) -> None:
    tetras = ["Hyphessobrycon amandae", "Paracheirodon innesi", "Petitella bleheri"]
    found = names(ranked([entry(catalog, name) for name in (*tetras, "Rohanella titteya", "Trichogaster chuna")]))
    assert len({catalog.profile(name).family for name in found[:3]}) == 3


def test_levels_of_the_tank_take_turns(catalog: Catalog) -> None:
    """Of two bottom fish and one of mid-water that are as good, the one of mid-water is not the last."""
    corydoras = ["Corydoras paleatus", "Pangio semicincta"]
    found = names(ranked([entry(catalog, name) for name in (*corydoras, "Thayeria boehlkei")]))
    assert found.index("Thayeria boehlkei") < 2

"""Pairings on which experienced keepers broadly agree (common practice, no source).

Each is a realistic tank with one proposal. A bad one must end as `change the plan first` or `do not stock`
with the named hazard among its two worst (any of those named, where keepers would name more than one); a
good one as `possible, with care` or `reasonable`. Written before the rules were tried on it, and not to be
tuned to: a case that fails is counted, and the count that agrees must stay at 95 % or above.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from coswim.plans.reading import read_plan
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict.assessment import Assessment

LEAST_AGREEMENT = 0.95
SOFT, MIDDLE, HARD = "ph: 6.5, hardness: 4 dGH", "ph: 7.0, hardness: 8 dGH", "ph: 7.9, hardness: 15 dGH"


@dataclass(frozen=True)
class Pairing:
    """One resident group, one proposal, one tank; `hazards` is empty for a good pairing."""

    tank: str
    resident: str
    newcomers: str
    hazards: str = ""

    @property
    def id(self) -> str:
        return f"{self.resident} + {self.newcomers}"


def t(size: str, temperature: float, water: str, extra: str = "") -> str:
    return f"size: {size} cm, temperature: {temperature} C, {water}{', ' + extra if extra else ''}"


NANO, SMALL, MEDIUM, LARGE, HUGE = "40 x 25 x 25", "60 x 30 x 36", "100 x 40 x 50", "150 x 60 x 60", "240 x 80 x 70"
BAD = (
    # gape-fit
    Pairing(t(LARGE, 25, MIDDLE), "1 oscar, 22 cm", "12 neon tetra, 3 cm", "gape-fit"),
    Pairing(t(LARGE, 26, MIDDLE), "1 oscar, 25 cm", "8 guppy, 4 cm", "gape-fit"),
    Pairing(t(HUGE, 26, SOFT), "1 silver arowana, 45 cm", "10 Congo tetra, 6 cm", "gape-fit"),
    Pairing(t(LARGE, 26, MIDDLE), "1 saddled bichir, 35 cm", "12 cardinal tetra, 3 cm", "gape-fit"),
    Pairing(t(LARGE, 25, MIDDLE), "1 grey bichir, 25 cm", "8 zebrafish, 4 cm", "gape-fit"),
    Pairing(t(MEDIUM, 26, SOFT), "2 freshwater angelfish, 13 cm", "12 ember tetra, 1.8 cm", "gape-fit"),
    Pairing(t(LARGE, 26, MIDDLE), "1 jaguar cichlid, 28 cm", "6 tiger barb, 5 cm", "gape-fit|aggression"),
    Pairing(t(HUGE, 26, MIDDLE), "1 clown knifefish, 50 cm", "8 silver dollar, 6 cm", "gape-fit"),
    Pairing(t(LARGE, 25, MIDDLE), "1 wolf fish, 30 cm", "6 rosy barb, 7 cm", "gape-fit|aggression"),
    Pairing(t(HUGE, 26, SOFT), "1 butterfly peacock bass, 30 cm", "10 bleeding heart tetra, 6 cm", "gape-fit"),
    Pairing(t(MEDIUM, 26, MIDDLE), "1 leopard bushfish, 13 cm", "10 neon tetra, 3 cm", "gape-fit"),
    Pairing(t(HUGE, 26, MIDDLE), "10 neon tetra, 3 cm", "1 redtail catfish, 15 cm", "gape-fit|space"),
    Pairing(t(LARGE, 26, MIDDLE), "8 harlequin rasbora, 4 cm", "1 oscar, 7 cm", "gape-fit"),
    Pairing(t(LARGE, 26, HARD), "1 venustus hap, 20 cm", "8 guppy, 4 cm", "gape-fit"),
    Pairing(t(LARGE, 26, HARD), "5 frontosa, 22 cm", "8 shell-dwelling cichlid, 4 cm", "gape-fit"),
    Pairing(t(HUGE, 25, MIDDLE), "1 marble goby, 40 cm", "8 rosy barb, 7 cm", "gape-fit"),
    Pairing(t(LARGE, 26, MIDDLE), "8 cherry barb, 4 cm", "1 pike killifish, 12 cm", "gape-fit"),
    # feeding
    Pairing(t(LARGE, 26, MIDDLE), "1 saddled bichir, 40 cm", "10 tinfoil barb, 16 cm", "feeding-competition"),
    Pairing(t(LARGE, 25, MIDDLE), "1 elephantnose fish, 18 cm", "14 giant danio, 9 cm", "feeding-competition"),
    Pairing(t(LARGE, 21, MIDDLE), "2 fancy goldfish, 10 cm", "4 goldfish, 15 cm", "feeding-competition"),
    Pairing(t(LARGE, 24, HARD), "3 ropefish, 32 cm", "12 tinfoil barb, 12 cm", "feeding-competition"),
    # water
    Pairing(t(LARGE, 28.5, SOFT), "6 blue discus, 14 cm", "3 goldfish, 10 cm", "water-overlap"),
    Pairing(t(LARGE, 28.5, SOFT), "6 blue discus, 14 cm", "10 white cloud mountain minnow, 3 cm", "water-overlap"),
    Pairing(t(LARGE, 20, MIDDLE), "3 goldfish, 12 cm", "6 blue discus, 12 cm", "water-overlap"),
    Pairing(
        t(MEDIUM, 26, HARD),
        "8 electric yellow cichlid, 9 cm",
        "12 cardinal tetra, 3 cm",
        "water-overlap|aggression|gape-fit",
    ),
    Pairing(t(MEDIUM, 26, "ph: 5.5, hardness: 1 dGH"), "12 cardinal tetra, 3 cm", "8 molly, 6 cm", "water-overlap"),
    Pairing(t(SMALL, 27, SOFT), "10 ember tetra, 2 cm", "6 medaka, 3 cm", "water-overlap"),
    Pairing(
        t(LARGE, 26, MIDDLE),
        "5 pearl gourami, 10 cm",
        "2 green spotted puffer, 8 cm",
        "water-overlap|aggression|nipping|injury",
    ),
    # aggression
    Pairing(t(SMALL, 26, MIDDLE), "1 Siamese fighting fish, 6 cm", "1 Siamese fighting fish, 6 cm", "aggression"),
    Pairing(t(SMALL, 26, MIDDLE), "1 Siamese fighting fish, 6 cm", "1 paradise fish, 8 cm", "aggression|nipping"),
    Pairing(
        t(MEDIUM, 25, MIDDLE),
        "1 red-tailed black shark, 12 cm",
        "1 red-tailed black shark, 10 cm",
        "aggression|schooling",
    ),
    Pairing(t(MEDIUM, 25, MIDDLE), "1 rainbow shark, 12 cm", "1 red-tailed black shark, 11 cm", "aggression"),
    Pairing(t(LARGE, 26, MIDDLE), "1 jaguar cichlid, 30 cm", "1 severum, 15 cm", "aggression"),
    Pairing(t(LARGE, 26, HARD), "1 wolf cichlid, 35 cm", "3 firemouth cichlid, 12 cm", "aggression|gape-fit"),
    Pairing(t(MEDIUM, 26, MIDDLE), "2 convict cichlid, 11 cm", "8 platy, 4 cm", "aggression|gape-fit"),
    Pairing(t(MEDIUM, 26, MIDDLE), "2 jewel cichlid, 11 cm", "2 ram cichlid, 5 cm", "aggression"),
    Pairing(t(MEDIUM, 26, HARD), "6 auratus cichlid, 10 cm", "4 peacock cichlid, 10 cm", "aggression"),
    Pairing(t(LARGE, 26, HARD), "6 kenyi cichlid, 12 cm", "6 lemon cichlid, 8 cm", "aggression"),
    Pairing(t(LARGE, 26, MIDDLE), "1 Midas cichlid, 26 cm", "2 firemouth cichlid, 11 cm", "aggression"),
    Pairing(t(MEDIUM, 26, MIDDLE), "2 Jack Dempsey, 17 cm", "6 freshwater angelfish, 8 cm", "aggression|gape-fit"),
    Pairing(
        t(LARGE, 26, MIDDLE), "1 black ghost knifefish, 35 cm", "1 black ghost knifefish, 30 cm", "aggression|schooling"
    ),
    Pairing(t(SMALL, 25, MIDDLE), "1 dwarf gourami, 7 cm", "1 Siamese fighting fish, 6 cm", "aggression"),
    Pairing(t(HUGE, 26, MIDDLE), "1 giant snakehead, 60 cm", "1 oscar, 28 cm", "aggression|gape-fit|injury"),
    # nipping and injury
    Pairing(t(MEDIUM, 26, SOFT), "3 freshwater angelfish, 12 cm", "6 tiger barb, 6 cm", "nipping"),
    Pairing(t(SMALL, 25, MIDDLE), "1 Siamese fighting fish, 6 cm", "5 tiger barb, 5 cm", "nipping"),
    Pairing(t(MEDIUM, 22, MIDDLE), "3 fancy goldfish, 10 cm", "6 tiger barb, 6 cm", "nipping"),
    Pairing(t(SMALL, 26, HARD), "6 guppy, 4 cm", "2 dwarf pufferfish, 2.5 cm", "nipping|aggression|injury"),
    Pairing(t(MEDIUM, 26, SOFT), "4 pearl gourami, 10 cm", "6 serpae tetra, 4 cm", "nipping"),
    Pairing(t(LARGE, 26, SOFT), "8 red-bellied piranha, 18 cm", "3 oscar, 20 cm", "injury|aggression"),
    Pairing(t(LARGE, 25, MIDDLE), "1 electric catfish, 30 cm", "4 severum, 15 cm", "injury|aggression|gape-fit"),
    Pairing(t(LARGE, 26, SOFT), "8 silver dollar, 10 cm", "8 bucktooth tetra, 8 cm", "injury|nipping|aggression"),
    # spines
    Pairing(t(LARGE, 26, MIDDLE), "1 oscar, 24 cm", "6 bronze corydoras, 6 cm", "spine-choking|gape-fit"),
    Pairing(t(HUGE, 26, MIDDLE), "1 redtail catfish, 40 cm", "3 pictus catfish, 9 cm", "spine-choking|gape-fit|space"),
    # schooling
    Pairing(t(MEDIUM, 25, SOFT), "2 ram cichlid, 5 cm", "1 neon tetra, 3 cm", "schooling"),
    Pairing(t(MEDIUM, 25, MIDDLE), "6 cherry barb, 4 cm", "1 bronze corydoras, 5 cm", "schooling"),
    Pairing(t(LARGE, 26, MIDDLE), "6 pearl gourami, 10 cm", "1 clown loach, 8 cm", "schooling"),
    Pairing(t(MEDIUM, 25, MIDDLE), "6 cherry barb, 4 cm", "2 tiger barb, 5 cm", "schooling|nipping"),
    # space
    Pairing(t(SMALL, 25, MIDDLE), "8 cherry barb, 4 cm", "1 common pleco, 8 cm", "space"),
    Pairing(t(MEDIUM, 25, MIDDLE), "8 cherry barb, 4 cm", "5 bala shark, 7 cm", "space"),
    Pairing(t(MEDIUM, 26, MIDDLE), "5 pearl gourami, 9 cm", "1 iridescent shark, 10 cm", "space"),
    Pairing(t(MEDIUM, 26, MIDDLE), "5 pearl gourami, 9 cm", "1 giant gourami, 10 cm", "space|gape-fit|aggression"),
    Pairing(t(SMALL, 20, MIDDLE), "8 white cloud mountain minnow, 3 cm", "2 goldfish, 6 cm", "space|gape-fit"),
    Pairing(t(MEDIUM, 25, MIDDLE), "8 cherry barb, 4 cm", "2 red-bellied pacu, 9 cm", "space"),
    # water load
    Pairing(t(SMALL, 26, MIDDLE, "filter: new"), "1 dwarf gourami, 6 cm", "40 molly, 7 cm", "water-load|space"),
    # escape
    Pairing(t(MEDIUM, 26, SOFT, "lid: no"), "8 cardinal tetra, 3 cm", "8 marbled hatchetfish, 3.5 cm", "escape"),
    Pairing(t(LARGE, 26, MIDDLE, "lid: no"), "5 pearl gourami, 10 cm", "3 ropefish, 30 cm", "escape"),
)
GOOD = (
    Pairing(t(SMALL, 25, SOFT), "10 neon tetra, 3 cm", "6 panda corydoras, 4 cm"),
    Pairing(t(MEDIUM, 25, SOFT), "12 cardinal tetra, 3 cm", "8 harlequin rasbora, 3.5 cm"),
    Pairing(t(MEDIUM, 25, MIDDLE), "6 bronze corydoras, 5 cm", "8 black phantom tetra, 3.5 cm"),
    Pairing(t("120 x 50 x 60", 26, SOFT), "4 freshwater angelfish, 10 cm", "8 Sterba's corydoras, 5 cm"),
    Pairing(t("120 x 50 x 50", 25, MIDDLE), "4 pearl gourami, 10 cm", "12 harlequin rasbora, 4 cm"),
    Pairing(t("120 x 50 x 50", 25, MIDDLE), "8 Boeseman's rainbowfish, 8 cm", "8 peppered corydoras, 5 cm"),
    Pairing(t("120 x 50 x 50", 25, MIDDLE), "2 kribensis, 8 cm", "8 Congo tetra, 7 cm"),
    Pairing(t(MEDIUM, 25, MIDDLE), "10 cherry barb, 4 cm", "1 bristlenose pleco, 9 cm"),
    Pairing(t(MEDIUM, 25, SOFT), "8 kuhli loach, 8 cm", "12 ember tetra, 2 cm"),
    Pairing(t(LARGE, 28.5, SOFT), "6 blue discus, 14 cm", "25 cardinal tetra, 3.5 cm"),
    Pairing(t(LARGE, 28, SOFT), "6 blue discus, 14 cm", "8 Sterba's corydoras, 5.5 cm"),
    Pairing(t("100 x 40 x 40", 25, HARD), "6 platy, 5 cm", "5 green swordtail, 8 cm"),
    Pairing(
        t("100 x 40 x 40", 20, MIDDLE), "12 white cloud mountain minnow, 3 cm", "3 reticulated hillstream loach, 5 cm"
    ),
    Pairing(t(LARGE, 26, SOFT), "2 banded severum, 18 cm", "6 silver dollar, 11 cm"),
    Pairing(t(HUGE, 26, MIDDLE), "1 oscar, 28 cm", "6 silver dollar, 14 cm"),
    Pairing(t(HUGE, 27, SOFT), "6 high-fronted eartheater, 16 cm", "10 bleeding heart tetra, 6 cm"),
    Pairing(t("80 x 35 x 40", 26, SOFT), "2 ram cichlid, 5 cm", "10 rummynose tetra, 4 cm"),
    Pairing(t("80 x 35 x 40", 25, MIDDLE), "1 honey gourami, 4.5 cm", "8 lambchop rasbora, 3 cm"),
    Pairing(t("120 x 50 x 50", 24, MIDDLE), "8 tiger barb, 6 cm", "5 yoyo loach, 9 cm"),
    Pairing(t("120 x 50 x 50", 23, MIDDLE), "8 rosy barb, 7 cm", "6 peppered corydoras, 5 cm"),
    Pairing(t(LARGE, 25, HARD), "8 electric yellow cichlid, 9 cm", "6 cuckoo catfish, 9 cm"),
    Pairing(t("60 x 30 x 30", 26, HARD), "6 shell-dwelling cichlid, 4 cm", "1 golden julie, 6 cm"),
    Pairing(t("80 x 35 x 40", 25, SOFT), "2 cockatoo dwarf cichlid, 6 cm", "10 glowlight tetra, 3.5 cm"),
    Pairing(t("200 x 70 x 60", 26, MIDDLE), "6 clown loach, 16 cm", "10 Congo tetra, 8 cm"),
    Pairing(t(MEDIUM, 25, SOFT), "8 marbled hatchetfish, 3.5 cm", "6 panda corydoras, 4 cm"),
    Pairing(t("60 x 30 x 36", 25, SOFT), "8 chili rasbora, 1.8 cm", "6 pygmy corydoras, 2.3 cm"),
    Pairing(t(MEDIUM, 25, SOFT), "10 lemon tetra, 4 cm", "6 otocinclus, 4 cm"),
    Pairing(t(MEDIUM, 26, SOFT), "1 Siamese fighting fish, 6 cm", "8 panda corydoras, 4 cm"),
    Pairing(t("120 x 50 x 50", 25, MIDDLE), "1 blue acara, 12 cm", "8 Buenos Aires tetra, 7 cm"),
    Pairing(t("180 x 60 x 60", 26, MIDDLE), "1 saddled bichir, 40 cm", "1 sailfin pleco, 25 cm"),
    Pairing(t("200 x 70 x 70", 26, MIDDLE), "1 green terror, 18 cm", "1 common pleco, 25 cm"),
    Pairing(t("120 x 50 x 50", 20, MIDDLE), "2 fancy goldfish, 10 cm", "3 weather loach, 15 cm"),
)


def group(text: str) -> str:
    count, rest = text.split(" ", 1)
    species, length = rest.rsplit(", ", 1)
    return f'{{species: "{species}", count: {count}, length: {length}}}'


def judge(pairing: Pairing, catalog: Catalog) -> Assessment:
    """What decides the verdict, without all that a report tells besides."""
    text = (
        f"tank: {{{pairing.tank}, hiding_places: 6}}\n"
        f"residents: [{group(pairing.resident)}]\nproposals: [{{name: p, add: [{group(pairing.newcomers)}]}}]\n"
    )
    read, effort = read_plan(text, pairing.id, catalog), Effort(draws=150, seed=1)
    alone = Assessment(build_scene(read, None, catalog, effort), catalog)
    scene = build_scene(read, read.plan.proposals[0], catalog, effort, like=alone.scene)
    return Assessment(scene, catalog, alone)


def agrees(pairing: Pairing, proposal: Assessment) -> bool:
    """The verdict, and for a bad pairing the hazard too, is what keepers say."""
    if not pairing.hazards:
        return proposal.level in {"medium", "low"}
    worst = {finding.found.hazard for finding in proposal.findings[:2]}
    return proposal.level in {"high", "serious"} and bool(worst & set(pairing.hazards.split("|")))


def test_the_panel_is_large_enough() -> None:
    assert len(BAD) >= 50
    assert len(GOOD) >= 25
    assert len(BAD) + len(GOOD) >= 80
    hazards = {hazard for pairing in BAD for hazard in pairing.hazards.split("|")}
    assert len(hazards) == 11


@pytest.fixture(scope="module")
def verdicts(catalog: Catalog) -> dict[str, bool]:
    return {pairing.id: agrees(pairing, judge(pairing, catalog)) for pairing in (*BAD, *GOOD)}


def test_keepers_and_coswim_agree(verdicts: dict[str, bool]) -> None:
    disagree = sorted(name for name, agreed in verdicts.items() if not agreed)
    share = 1 - len(disagree) / len(verdicts)
    assert share >= LEAST_AGREEMENT, f"{len(verdicts) - len(disagree)} of {len(verdicts)} agree; not: {disagree}"

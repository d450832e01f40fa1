"""What a keeper is told whatever the risk."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from coswim.plans.reading import resolve
from coswim.plans.shorthand import ADD, Fish, Shorthand
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, build_scene
from coswim.verdict import cautions as module
from coswim.verdict.cautions import cautions

Cautions = Callable[..., tuple[str, ...]]


@pytest.fixture(scope="module")
def told(catalog: Catalog) -> Cautions:
    """The cautions for a tank with residents and newcomers."""

    def run(tank: str, residents: Sequence[str], newcomers: Sequence[str] = (), *, lid: bool = True) -> tuple[str, ...]:
        fish = [Fish(ADD, typed) for typed in newcomers]
        document = Shorthand(f"{tank} cm", "25 C", "7", "8", residents, fish, no_lid=not lid).document()
        read = resolve(document, catalog)
        proposal = read.plan.proposals[0] if newcomers else None
        return cautions(build_scene(read, proposal, catalog, Effort(draws=50)))

    return run


SMALL, LARGE = "60x30x30", "180x60x60"
TETRAS = ["8 neon tetra, 3 cm"]


def test_the_general_ones_are_few_and_last(told: Cautions) -> None:
    assert told(SMALL, TETRAS, ["6 ember tetra, 2 cm"]) == (
        module.QUARANTINE,
        module.RELEASE,
        module.MAINS,
        module.MEDICINE,
    )


def test_what_a_profile_says_comes_first_with_its_fish(told: Cautions) -> None:
    lines = told(SMALL, TETRAS, ["6 panda corydoras, 4 cm"])
    assert lines[0].startswith("The fin spines lock and carry a mild toxin")
    assert lines[0].endswith("(panda corydoras).")


def test_fish_that_share_a_caution_share_its_line(told: Cautions) -> None:
    lines = told(SMALL, ["6 bronze corydoras, 5 cm"], ["6 panda corydoras, 4 cm"])
    assert [line for line in lines if line.endswith("(panda corydoras and bronze corydoras).")] == [lines[0]]


@pytest.mark.parametrize(
    ("newcomer", "words"),
    [
        ("1 ocellate river stingray, 40 cm", "venom"),
        ("1 electric catfish, 20 cm", "never touch it"),
        ("1 elephantnose fish, 15 cm", "electricity"),
        ("6 red-bellied piranha, 8 cm", "bite"),
    ],
)
def test_every_dangerous_fish_is_spoken_of_once(told: Cautions, newcomer: str, words: str) -> None:
    lines = told("250x80x70", TETRAS, [newcomer])
    assert len([line for line in lines if words in line.casefold()]) == 1


def test_no_dangerous_fish_of_the_library_is_left_unspoken(catalog: Catalog, told: Cautions) -> None:
    for entry in catalog.entries.values():
        profile = catalog.read(entry)
        dangers = [feature for feature in module.HANDLING if feature in profile.features]
        if dangers:
            text = " ".join(told("250x80x70", TETRAS, [f"1 {entry.scientific_name}, 2 cm"])).casefold()
            assert all(any(word in text for word in module.SPOKEN_OF[danger]) for danger in dangers), profile.name


def test_protected_fish_send_the_keeper_to_the_law(told: Cautions) -> None:
    lines = told("250x80x70", TETRAS, ["1 Asian arowana, 20 cm"])
    assert any("CITES" in line and "check your local law" in line for line in lines)


def test_the_weight_of_a_large_tank(told: Cautions) -> None:
    """Memory: 1.2 to 1.4 kg for each litre; derived for 648 L: 777.6 and 907.2 kg, rounded to tens."""
    large = [line for line in told(LARGE, TETRAS) if "weighs" in line]
    assert [line.partition(":")[0] for line in large] == ["Filled, the tank weighs about 780 to 910 kg"]
    assert not [line for line in told(SMALL, TETRAS) if "weighs" in line]


def test_quarantine_is_for_newcomers(told: Cautions) -> None:
    assert module.QUARANTINE in told(SMALL, TETRAS, ["6 ember tetra, 2 cm"])
    assert module.QUARANTINE not in told(SMALL, TETRAS)


def test_a_habitual_leaper_under_a_lid_asks_for_a_tight_one(told: Cautions) -> None:
    newcomer = ["6 marbled hatchetfish, 3 cm"]
    assert any("Close every gap in the lid: marbled hatchetfish" in line for line in told(SMALL, TETRAS, newcomer))
    assert not any("gap in the lid" in line for line in told(SMALL, TETRAS, newcomer, lid=False))  # escape says it


def test_no_line_twice_and_each_a_sentence(told: Cautions) -> None:
    fish = ["1 oscar, 20 cm", "1 redtail catfish, 30 cm", "1 green terror, 15 cm"]
    lines = told(LARGE, fish, ["2 oscar, 8 cm", "5 clown loach, 8 cm"])
    assert len(set(lines)) == len(lines)
    assert all(line[0].isupper() and line.endswith(".") for line in lines)


def test_no_drug_is_dosed(told: Cautions) -> None:
    assert "veterinarian" in module.MEDICINE
    assert not any("mg/l" in line.casefold() for line in told(LARGE, TETRAS, ["1 black ghost knifefish, 15 cm"]))


def test_a_word_within_another_does_not_count_as_a_warning(
    catalog: Catalog, told: Cautions, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Interesting is not about stings."""
    ray = catalog.profile("ocellate river stingray").model_copy(update={"cautions": ("Interesting but protected",)})
    monkeypatch.setattr(
        Catalog, "completed", lambda _, entry: ray if "motoro" in entry.scientific_name else catalog.read(entry)
    )
    assert any("can sting" in line for line in told("250x80x70", TETRAS, ["1 ocellate river stingray, 40 cm"]))

"""Wrong profiles are caught for the right reason, sound ones are left alone, and notes explain what is odd.

The species here are invented. What a case changes in the sound profile is the mistake; no number in this
file is an output of coswim.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from coswim.library import plausibility
from coswim.library.checking import MISSING, Checked, check, check_all
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.profile import Profile
from coswim.text.document import read_document
from coswim.text.validation import validate

SOUND = """\
scientific_name: Exemplum vulgare
common_names: [common example]
family: Exemplidae
adult_length: 4-5 cm
record_length: 6 cm
body:
  form: fusiform
  standard_length: 0.8
  depth: 0.28-0.32
  width: 0.14-0.17
mouth_gape: 0.06-0.08
growth: 1.2-2
usual_size: 3 cm
in_trade: regular
temperament:
  own_kind: peaceful
  other_fish: peaceful
  nips: never
  stamina: average
  boldness: ordinary
  guards: no
  territory: none
feeding_style:
  diet: omnivore
  eats_fish: no
  level: [mid]
  pace: steady
  active: day
  settling: quick
schooling: {smallest_group: 6}
swimming: cruiser
smallest_tank: 60 cm
jumps: when startled
water_ranges:
  temperature: 22-27 C
  ph: 6.0-7.5
  hardness: 2-15 dGH
  salinity: fresh
  current: moderate
  hardiness: ordinary
features: [air-breather]
cautions: []
notes: []
sources:
  adult_length: memory
  record_length: memory
  body: memory
  mouth_gape: memory
  growth: memory
  usual_size: memory
  in_trade: memory
  temperament: memory
  feeding_style: memory
  schooling: memory
  swimming: memory
  smallest_tank: memory
  jumps: memory
  water_ranges: memory
  features: memory
"""
RELATIVES = ("alpha", "beta", "gamma", "delta")


@dataclass(frozen=True)
class Wrong:
    """One slip: the lines it changes, and what must be said of it."""

    id: str
    changes: tuple[tuple[str, str], ...]
    path: str
    words: str
    certain: bool = False
    also: tuple[str, ...] = ()
    """Paths of further remarks that the same slip rightly causes."""


def slip(
    name: str, old: str, new: str, path: str, words: str, *, certain: bool = False, also: tuple[str, ...] = ()
) -> Wrong:
    return Wrong(name, ((old, new),), path, words, certain, also)


WRONG = [
    # the form of the file
    slip("unknown key", "growth: 1.2-2", "growht: 1.2-2", "growht", "did you mean 'growth'", certain=True),
    slip(
        "unknown word", "diet: omnivore", "diet: omnivor", "feeding_style.diet", "did you mean 'omnivore'", certain=True
    ),
    slip(
        "millimetres as cm", "adult_length: 4-5 cm", "adult_length: 400-550 cm", "adult_length", "outside", certain=True
    ),
    slip(
        "temperature in F as C", "22-27 C", "72-80 C", "water_ranges.temperature", "is outside 0 to 45 C", certain=True
    ),
    slip("percent for fraction", "0.28-0.32", "28-32", "body.depth", "outside 0.005 to 1.5", certain=True),
    slip("range turned round", "22-27 C", "27-22 C", "water_ranges.temperature", "27-22", certain=True),
    slip("no family", "family: Exemplidae\n", "", "family", "is missing", certain=True),
    slip("key twice", "growth: 1.2-2", "growth: 1.2-2\ngrowth: 2-3", "growth", "written twice", certain=True),
    slip("feature twice", "[air-breather]", "[air-breather, air-breather]", "features", "listed twice", certain=True),
    # sources and names
    slip("no source", "  growth: memory\n", "", "sources", "names no source for growth", certain=True),
    slip("unknown source", "growth: memory", "growth: memroy", "sources.growth", "did you mean 'memory'", certain=True),
    slip("source for nothing", "growth: 1.2-2\n", "", "sources.growth", "does not state growth", also=("growth",)),
    slip("block left out", "swimming: cruiser\n", "", "swimming", "is missing", also=("sources.swimming",)),
    slip("a relative's name", "[common example]", "[common example, alpha example]", "common_names", "Exemplum alpha"),
    # length and growth
    slip("adult above record", "record_length: 6 cm", "record_length: 4.5 cm", "adult_length", "above", certain=True),
    slip(
        "record in mm", "record_length: 6 cm", "record_length: 60 cm", "adult_length", "far below the record of 60 cm"
    ),
    slip("adult in inches", "adult_length: 4-5 cm", "adult_length: 1.6-2 cm", "adult_length", "far below the record"),
    slip("one length", "adult_length: 4-5 cm", "adult_length: 5 cm", "adult_length", "give the range of grown fish"),
    slip("any length at all", "adult_length: 4-5 cm", "adult_length: 2-6 cm", "adult_length", "3 times its low end"),
    slip(
        "growth per month",
        "growth: 1.2-2",
        "growth: 0.1-0.17",
        "growth",
        "is far below its 4 relatives",
        also=("growth",),
    ),
    slip("growth of a fry", "growth: 1.2-2", "growth: 8-12", "growth", "is very fast", also=("growth",)),
    slip("any growth", "growth: 1.2-2", "growth: 0.8-2.4", "growth", "3 times its low end"),
    # body
    Wrong(
        "wrong form",
        (("form: fusiform", "form: eel-like"),),
        "body.form",
        "makes 0.1 g",
        also=("body.depth", "body.standard_length"),
    ),
    Wrong(
        "width of a plate",
        (("0.14-0.17", "0.5-0.6"),),
        "body.form",
        "form, depth, width",
        also=("body.width", "body.width"),
    ),
    slip(
        "depth of a disc", "0.28-0.32", "0.7-0.8", "body.form", "the form 'fusiform'", also=("body.depth", "body.depth")
    ),
    slip(
        "depth of a wire",
        "0.28-0.32",
        "0.05-0.06",
        "body.form",
        "is off",
        also=("body.depth", "body.depth", "body.width"),
    ),
    slip("standard length turned round", "0.8\n", "0.55\n", "body.form", "is off", also=("body.standard_length",) * 2),
    slip("vague depth", "0.28-0.32", "0.22-0.38", "body.depth", "1.7 times its low end"),
    slip(
        "weight in kg",
        "  width: 0.14-0.17\n",
        "  width: 0.14-0.17\n  weight: {a: 0.0001, b: 3}\n",
        "body.form",
        "its own length-weight relation makes 0.0091 g",
        also=("body.weight",),
    ),
    # mouth and food
    slip(
        "mouth wider than body",
        "0.06-0.08",
        "0.4-0.5",
        "mouth_gape",
        "wider than the body",
        also=("mouth_gape",) * 2 + ("feeding_style.eats_fish",),
    ),
    Wrong(
        "mouth of a pike on a grazer",
        (("diet: omnivore", "diet: algae"), ("0.06-0.08", "0.13-0.15")),
        "mouth_gape",
        "a wide mouth for the diet 'algae'",
        also=("mouth_gape",),
    ),
    slip(
        "fish eater that eats none", "diet: omnivore", "diet: piscivore", "feeding_style.eats_fish", "for a piscivore"
    ),
    Wrong(
        "hunter without a mouth",
        (("eats_fish: no", "eats_fish: any that fit"), ("0.06-0.08", "0.03-0.04")),
        "feeding_style.eats_fish",
        "next to none",
        also=("mouth_gape",),
    ),
    Wrong(
        "grazer that hunts",
        (("diet: omnivore", "diet: herbivore"), ("eats_fish: no", "eats_fish: any that fit")),
        "feeding_style.eats_fish",
        "the diet is 'herbivore'",
        also=(),
    ),
    slip(
        "harmless giant mouth", "0.06-0.08", "0.16-0.19", "feeding_style.eats_fish", "wide enough", also=("mouth_gape",)
    ),
    # habits
    slip(
        "shoaling fish with group 1",
        "smallest_group: 6",
        "smallest_group: 1",
        "schooling.smallest_group",
        "such fish shoal",
        also=("schooling.smallest_group",),
    ),
    slip(
        "peaceful fish kept singly",
        "smallest_group: 6",
        "smallest_group: 0",
        "schooling.smallest_group",
        "keep singly",
        also=("schooling.smallest_group",),
    ),
    slip(
        "crowd of fighters", "own_kind: peaceful", "own_kind: aggressive", "schooling.smallest_group", "is aggressive"
    ),
    Wrong(
        "surface feeder with barbels and spines",
        (("level: [mid]", "level: [surface, mid]"), ("[air-breather]", "[barbels, locking-spines]")),
        "feeding_style.level",
        "barbels and locking spines",
    ),
    Wrong(
        "surface feeder that sifts sand",
        (("level: [mid]", "level: [surface, mid]"), ("[air-breather]", "[sand-sifter]")),
        "feeding_style.level",
        "a sand-sifter takes its food from the bottom",
    ),
    slip(
        "at the surface alone among its kind",
        "level: [mid]",
        "level: [surface]",
        "feeding_style.level",
        "its relatives",
    ),
    Wrong(
        "lazy glutton",
        (("pace: steady", "pace: frantic"), ("swimming: cruiser", "swimming: still")),
        "feeding_style.pace",
        "rests most of the time",
    ),
    Wrong(
        "tireless waiter",
        (("pace: steady", "pace: still"), ("swimming: cruiser", "swimming: open-water")),
        "feeding_style.pace",
        "swims without rest",
    ),
    Wrong(
        "slow open-water swimmer",
        (("[air-breather]", "[slow-swimmer]"), ("swimming: cruiser", "swimming: open-water")),
        "features",
        "lists slow-swimmer",
    ),
    Wrong(
        "fragile in armour",
        (("[air-breather]", "[armoured]"), ("stamina: average", "stamina: fragile")),
        "temperament.stamina",
        "is armoured",
    ),
    Wrong("peaceful nipper", (("nips: never", "nips: often"),), "temperament.nips", "peaceful to other fish"),
    slip("bare and armoured", "[air-breather]", "[scaleless, armoured]", "features", "both scaleless and armoured"),
    slip("venom without a warning", "[air-breather]", "[venomous-spine]", "features", "does not warn the keeper"),
    # water
    Wrong("hard acid water", (("6.0-7.5", "5.5-6.5"), ("2-15", "14-20")), "water_ranges.ph", "hard water", also=()),
    Wrong(
        "brackish and soft",
        (("salinity: fresh", "salinity: brackish"), ("2-15", "2-6")),
        "water_ranges.salinity",
        "hard and alkaline",
        also=(),
    ),
    slip(
        "trout water",
        "22-27 C",
        "2-12 C",
        "water_ranges.temperature",
        "beyond 4 to 33",
        also=("water_ranges.temperature",),
    ),
    Wrong(
        "any water",
        (("22-27 C", "14-34 C"),),
        "water_ranges.temperature",
        "20 wide",
        also=("water_ranges.temperature",),
    ),
    slip("rift lake water", "ph: 6.0-7.5", "ph: 8.0-9.0", "water_ranges.ph", "unlike its 4 relatives"),
]


@pytest.fixture
def relatives(tmp_path: Path) -> Catalog:
    """A small library: four sound relatives of the example."""
    folder = tmp_path / "library"
    folder.mkdir()
    for name in RELATIVES:
        text = SOUND.replace("vulgare", name).replace("common example", f"{name} example")
        (folder / f"exemplum-{name}.yaml").write_text(text, encoding="utf-8")
    return Catalog((folder,))


def checked(text: str, catalog: Catalog, tmp_path: Path) -> Checked:
    """The check of one file beside the library."""
    file = tmp_path / "exemplum-vulgare.yaml"
    file.write_text(text, encoding="utf-8")
    return check([file], catalog)


def changed(changes: tuple[tuple[str, str], ...]) -> str:
    """The sound profile with a mistake in it."""
    text = SOUND
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def profile(text: str) -> Profile:
    """A profile from text."""
    return validate(read_document(text, "profile.yaml"), Profile)


def test_a_sound_profile_gives_no_remark(relatives: Catalog, tmp_path: Path) -> None:
    assert checked(SOUND, relatives, tmp_path).remarks == ()


@pytest.mark.parametrize("wrong", WRONG, ids=lambda wrong: wrong.id)
def test_a_wrong_profile_is_caught_for_the_right_reason(wrong: Wrong, relatives: Catalog, tmp_path: Path) -> None:
    remarks = checked(changed(wrong.changes), relatives, tmp_path).remarks
    assert sorted(remark.problem.path for remark in remarks) == sorted((wrong.path, *wrong.also))
    reasons = [remark for remark in remarks if remark.problem.path == wrong.path and remark.certain == wrong.certain]
    assert any(wrong.words in remark.problem.message for remark in reasons)


def test_the_table_is_as_long_as_it_should_be_and_names_each_case_once() -> None:
    assert len({wrong.id for wrong in WRONG}) == len(WRONG) >= 30


def test_the_built_in_library_has_no_mistake_and_no_unexplained_oddity(catalog: Catalog) -> None:
    found = check_all(catalog)
    assert [str(remark) for remark in (*found.problems, *found.warnings)] == []
    assert found.profiles == len(catalog.entries)


def test_a_remark_names_the_place_in_the_file(relatives: Catalog, tmp_path: Path) -> None:
    """derived: line and column are counted from 1 in the text that was written."""
    text = changed((("smallest_group: 6", "smallest_group: 0"),))
    line = text[: text.index("smallest_group")].count("\n") + 1
    column = len("schooling: {smallest_group: ") + 1
    remark = checked(text, relatives, tmp_path).warnings[0]
    assert str(remark).startswith(
        f"{tmp_path / 'exemplum-vulgare.yaml'}:{line}:{column}: warning: schooling.smallest_group: is 0"
    )


@pytest.mark.parametrize(
    ("note", "explains"),
    [
        ("schooling: nobody knows why.", True),
        ("schooling.smallest_group: nobody knows why.", True),
        ("temperament.own_kind: mild in a crowd only.", True),
        ("swimming: is another block.", False),
        ("The schooling: is mentioned, not named.", False),
        ("schooling:", False),
    ],
)
def test_a_note_explains_the_block_it_begins_with(
    relatives: Catalog, tmp_path: Path, note: str, *, explains: bool
) -> None:
    slip_ = (("own_kind: peaceful", "own_kind: aggressive"), ("notes: []", f'notes: ["{note}"]'))
    found = checked(changed(slip_), relatives, tmp_path)
    assert [remark.explained_by for remark in found.explained] == ([note] if explains else [])
    assert len(found.warnings) == (0 if explains else 1)


def test_a_note_explains_no_certain_mistake(relatives: Catalog, tmp_path: Path) -> None:
    slip_ = (("record_length: 6 cm", "record_length: 4.5 cm"), ("notes: []", 'notes: ["adult_length: it is so."]'))
    assert len(checked(changed(slip_), relatives, tmp_path).problems) == 1


def test_two_files_of_one_species_in_a_folder_are_a_mistake(relatives: Catalog) -> None:
    folder = relatives.folders[0]
    (folder / "other.yaml").write_text((folder / "exemplum-alpha.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    messages = [remark.problem.message for remark in check([folder], Catalog((folder,))).problems]
    assert messages == [f"'Exemplum alpha' already has a profile in this folder: {folder / 'exemplum-alpha.yaml'}"]


def test_of_many_species_with_one_name_the_first_are_told(relatives: Catalog, tmp_path: Path) -> None:
    folder = relatives.folders[0]
    for letter in "abcde":
        text = SOUND.replace("vulgare", f"x{letter}").replace("common example", "alpha example")
        (folder / f"{letter}.yaml").write_text(text, encoding="utf-8")
    said = "'alpha example' also leads to Exemplum alpha, Exemplum xa, Exemplum xb, Exemplum xc and 2 more"
    text = SOUND.replace("common example", "alpha example")
    assert [remark.problem.message for remark in checked(text, relatives, tmp_path).warnings] == [said]


def test_a_file_that_cannot_be_read_is_a_mistake_and_the_others_are_still_checked(relatives: Catalog) -> None:
    folder = relatives.folders[0]
    (folder / "broken.yaml").write_text("a: [", encoding="utf-8")
    found = check([folder], Catalog((folder,)))
    assert (found.profiles, len(found.problems)) == (5, 1)


def test_a_folder_brings_its_own_bibliography(relatives: Catalog, tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "exemplum-vulgare.yaml").write_text(changed((("growth: memory", "growth: my-log"),)), encoding="utf-8")
    assert len(check([folder], relatives).problems) == 1
    (folder / "sources.yaml").write_text("my-log: {kind: measured, citation: my own log}\n", encoding="utf-8")
    assert check([folder], relatives).problems == ()


def test_an_own_profile_may_stand_in_for_a_relative_of_the_same_name(relatives: Catalog, tmp_path: Path) -> None:
    """An override shares all its names with what it overrides, and that is no doubt."""
    text = SOUND.replace("vulgare", "alpha").replace("common example", "alpha example")
    assert checked(text, relatives, tmp_path).remarks == ()


def test_with_too_few_relatives_only_the_figures_themselves_are_judged(tmp_path: Path) -> None:
    folder = tmp_path / "empty"
    folder.mkdir()
    assert checked(changed((("ph: 6.0-7.5", "ph: 8.0-9.0"),)), Catalog((folder,)), tmp_path).remarks == ()


@pytest.mark.parametrize(
    ("form", "standard_length", "depth", "width", "length"),
    [
        ("short-deep", 0.789, 0.501, 0.36, 30),  # bream
        ("fusiform", 0.826, 0.324, 0.55, 20),  # roach
        ("fusiform", 0.867, 0.303, 0.60, 20),  # perch
        ("elongated", 0.871, 0.182, 0.66, 40),  # pike
    ],
    ids=["bream", "roach", "perch", "pike"],
)
def test_measured_fish_weigh_what_their_form_does(
    form: str, standard_length: float, depth: float, width: float, length: float
) -> None:
    """published: proportions in Brofeldt 1917, width as a share of depth; lengths are ordinary adults (memory)."""
    text = changed(
        (
            ("form: fusiform", f"form: {form}"),
            ("standard_length: 0.8", f"standard_length: {standard_length}"),
            ("0.28-0.32", str(depth)),
            ("0.14-0.17", f"{depth * width:.3f}"),
            ("adult_length: 4-5", f"adult_length: {length - 1}-{length + 1}"),
        )
    )
    blocks = {doubt.blocks[0] for doubt in plausibility.doubts(profile(text)) if doubt.blocks[0].startswith("body")}
    assert blocks == set()


def test_a_part_that_is_left_out_is_missed_and_no_other_check_stumbles(relatives: Catalog, tmp_path: Path) -> None:
    left_out = (
        ("  depth: 0.28-0.32\n", ""),
        ("  other_fish: peaceful\n", ""),
        ("  level: [mid]\n", ""),
        ("  ph: 6.0-7.5\n", ""),
    )
    found = checked(changed(left_out), relatives, tmp_path)
    assert found.problems == ()
    assert {(remark.problem.path, remark.problem.message) for remark in found.warnings} == {
        (path, MISSING) for path in ("body.depth", "temperament.other_fish", "feeding_style.level", "water_ranges.ph")
    }


def test_a_built_in_file_is_at_home_however_its_path_is_written(
    catalog: Catalog, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(BUILT_IN)
    assert check([Path("cichlidae/astronotus-ocellatus.yaml"), Path("chacidae")], catalog).problems == ()

"""Bad plans and profiles: each ends with status 1, says where and what is allowed, and shows no traceback."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from coswim.cli.main import main

GOOD = """\
tank:
  size: 120 x 50 x 50 cm
  temperature: 25 C
  ph: 7.0
  hardness: 6 dGH
residents:
  - species: oscar
    count: 1
    length: 20 cm
proposals:
  - name: tetras
    add:
      - {species: neon tetra, count: 8, length: 3 cm}
"""
BAD_PLANS = {
    "misspelled key": ("temperature: 25 C", "temprature: 25 C", "3:3: tank.temprature: unknown key 'temprature'; did you mean 'temperature'?"),
    "missing temperature": ("  temperature: 25 C\n", "", "2:3: tank.temperature: is missing (e.g. 26 C"),
    "too hot": ("25 C", "260 C", "3:16: tank.temperature: '260 C' is outside 0 to 45 C"),
    "Kelvin": ("25 C", "298 K", "3:16: tank.temperature: '298 K' has the unknown unit 'K'; allowed: C"),
    "temperature in words": ("25 C", "warm", "3:16: tank.temperature: 'warm' is not a temperature; write e.g. '26 C'"),
    "temperature NaN": ("25 C", ".nan", "3:16: tank.temperature: '.nan' is not a temperature"),
    "temperature infinite": ("25 C", ".inf", "3:16: tank.temperature: '.inf' is not a temperature"),
    "backwards range": ("25 C", "27-24 C", "3:16: tank.temperature: '27-24 C' runs backwards; write the lower value first"),
    "two sides": ("120 x 50 x 50 cm", "120 x 50 cm", "2:9: tank.size: '120 x 50 cm' is not a size; write length x width x height"),
    "tank of litres": ("120 x 50 x 50 cm", "300 L", "2:9: tank.size: '300 L' is not a size but a volume; the three sides are needed; write length x width x height"),
    "tank of nothing": ("120 x 50 x 50 cm", "0 x 50 x 50 cm", "2:9: tank.size: '0 cm' is outside 10 to 2000 cm"),
    "acid beyond acid": ("ph: 7.0", "ph: 1", "4:7: tank.ph: '1' is outside 3 to 11"),
    "hardness unit": ("6 dGH", "6 grains", "5:13: tank.hardness: '6 grains' has the unknown unit 'grains'; allowed: dGH"),
    "list for a mapping": ("tank:\n  size: 120 x 50 x 50 cm\n  temperature: 25 C\n  ph: 7.0\n  hardness: 6 dGH\n", "tank: [1, 2]\n",
                           "1:7: tank: must be a mapping (key: value), found a list"),
    "text for a mapping": ("tank:\n  size: 120 x 50 x 50 cm\n  temperature: 25 C\n  ph: 7.0\n  hardness: 6 dGH\n", "tank: big\n",
                           "1:7: tank: must be a mapping (key: value), found 'big'"),
    "mapping for a list": ("residents:\n  - species: oscar\n    count: 1\n    length: 20 cm\n", "residents: {species: oscar}\n",
                           "6:12: residents: must be a list (- item), found a mapping"),
    "list for a value": ("length: 20 cm", "length: [20, 30]", "9:13: residents[0].length: a list is not allowed here; write one value"),
    "no species": ("  - species: oscar\n    count: 1", "  - count: 1", "7:5: residents[0].species: is missing"),
    "empty species": ("species: oscar", "species: ''", "7:14: residents[0].species: is empty; write some text"),
    "unknown species": ("species: oscar", "species: osccar", "7:14: residents[0].species: no profile answers to 'osccar'; did you mean 'oscar'"),
    "unheard-of species": ("species: oscar", "species: qqqqzzzz", "7:14: residents[0].species: no profile answers to 'qqqqzzzz'; `coswim profile list` shows all"),
    "ambiguous species": ("species: oscar", "species: tetra", "7:14: residents[0].species: 'tetra' could be "),
    "length zero": ("20 cm", "0 cm", "9:13: residents[0].length: '0 cm' is outside 0.5 to 500 cm"),
    "length negative": ("20 cm", "-20 cm", "9:13: residents[0].length: '-20 cm' is outside 0.5 to 500 cm"),
    "length absurd": ("20 cm", "200 cm", "9:13: residents[0].length: '200 cm' is longer than any oscar gets"),
    "length in pounds": ("20 cm", "2 lb", "9:13: residents[0].length: '2 lb' has the unknown unit 'lb'; allowed: cm"),
    "count zero": ("count: 1\n", "count: 0\n", "8:12: residents[0].count: '0' is outside 1 to 1000"),
    "count negative": ("count: 1\n", "count: -2\n", "8:12: residents[0].count: '-2' is outside 1 to 1000"),
    "count half": ("count: 1\n", "count: 1.5\n", "8:12: residents[0].count: '1.5' is not a whole number; allowed: 1 to 1000"),
    "count in words": ("count: 1\n", "count: two\n", "8:12: residents[0].count: 'two' is not a whole number"),
    "proposal without fish": ("    add:\n      - {species: neon tetra, count: 8, length: 3 cm}\n", "    add: []\n", "12:10: proposals[0].add: is empty (the fish: a list of species, count, length)"),
    "same name twice": ("proposals:\n", "proposals:\n  - {name: tetras, add: [{species: neon tetra, length: 3 cm}]}\n",
                        "12:11: proposals[1].name: 'tetras' is used twice; give each its own name"),
    "history": ("count: 1\n", "count: 1\n    history: {tankmates_hurt: 5}\n", "9:5: residents[0].history: unknown key 'history'; allowed: species, count, length, males, this_fish, lived_with, private\n"),
    "outcome": ("count: 1\n", "count: 1\n    lived_with: [{species: ropefish, length: 30 cm, time: 8 months, outcome: well}]\n", "9:78: residents[0].lived_with[0].outcome: 'well' is not a word for the outcome; allowed: fine, it chased them, it hurt them"),
    "time together missing": ("count: 1\n", "count: 1\n    lived_with: [{species: ropefish, length: 30 cm, outcome: fine}]\n", "9:18: residents[0].lived_with[0].time: is missing (how long they lived together, e.g. 8 months or 3 weeks)"),
    "unknown former tankmate": ("count: 1\n", "count: 1\n    lived_with: [{species: ropefsh, length: 30 cm, time: 8 months, outcome: fine}]\n", "9:28: residents[0].lived_with[0].species: no profile answers to 'ropefsh'; did you mean 'ropefish'"),
    "record of a newcomer": ("length: 3 cm}", "length: 3 cm, lived_with: [{species: ropefish, length: 30 cm, time: 8 months, outcome: fine}]}", "13:67: proposals[0].add[0].lived_with: only residents have a record here; write what you know of this fish under this_fish\n"),
    "measured mouth": ("count: 1\n", "count: 1\n    this_fish: {mouth: 2 m}\n", "9:24: residents[0].this_fish.mouth: '2 m' has the unknown unit 'm'; allowed: mm, cm, in\n"),
    "word of this fish": ("count: 1\n", "count: 1\n    this_fish: {pace: quick}\n", "9:23: residents[0].this_fish.pace: 'quick' is not a word for pace; allowed: still, slow, steady, fast, frantic\n"),
    "more males than fish": ("count: 1\n", "count: 1\n    males: 2\n", "9:12: residents[0].males: '2' is more than the count of 1\n"),
    "order of moving in": ("  - name: tetras\n", "  - name: tetras\n    moves_in: later\n", "12:15: proposals[0].moves_in: 'later' is not a word for the order of moving in; allowed: last, together, first; did you mean 'last'?\n"),
    "amount": ("residents:", "feeding: {amount: plenty}\nresidents:", "6:19: feeding.amount: 'plenty' is not a weight of food; write e.g. '6 g a day'; allowed: as needed, e.g. 6 g a day, or 2 % of their weight a day\n"),
    "mixed and more": ("residents:", "feeding: {food: [mixed, live]}\nresidents:", "6:17: feeding.food: mixed already stands for several foods; write mixed alone, or list the foods\n"),
    "by hand": ("residents:", "feeding: {by_hand: [osccar]}\nresidents:", "6:21: feeding.by_hand[0]: no profile answers to 'osccar'; did you mean 'oscar'"),
    "scale word": ("hardness: 6 dGH", "salinity: freash", "5:13: tank.salinity: 'freash' is not a word for salinity; allowed: fresh, fresh-brackish, brackish; did you mean 'fresh'"),
    "food": ("residents:", "feeding: {food: pizza}\nresidents:", "6:17: feeding.food[0]: 'pizza' is not a kind of food; allowed: mixed, flakes, floating pellet"),
    "yes or no": ("hardness: 6 dGH", "lid: maybe", "5:8: tank.lid: 'maybe' is not yes or no"),
    "share": ("hardness: 6 dGH", "water_change: {share: 350 %}", "5:25: tank.water_change.share: '350 %' is outside 0 to 1"),
    "horizon": ("proposals:", "horizon: 900 months\nproposals:", "10:10: horizon: '900 months' is outside 1 to 240 months"),
    "duplicate key": ("  ph: 7.0\n", "  ph: 7.0\n  ph: 7.2\n", "5:3: tank.ph: key 'ph' is written twice (first in line 4); keep one"),
    "tab": ("  ph: 7.0\n", "\tph: 7.0\n", "4:1: is indented with a tab; YAML wants spaces"),
    "object tag": ("species: oscar", "species: !!python/object/apply:os.system [ls]", "7:14: residents[0].species: tag"),
    "unclosed": ("{species: neon tetra, count: 8, length: 3 cm}", "{species: neon tetra", "is not valid YAML: did not find expected ',' or '}'"),
    "share without percent": ("hardness: 6 dGH", "water_change: {share: 30}", "5:25: tank.water_change.share: '30' is outside 0 to 1; for percent write '30 %'\n"),
    "comma between thousands": ("hardness: 6 dGH", 'water_change: {drip: "1,000 L/day"}', "5:24: tank.water_change.drip: '1,000 L/day' may mean 1000 or 1.0; write 1000 or 1.0\n"),
    "meals": ("residents:", "feeding: {meals: two}\nresidents:", "6:18: feeding.meals: 'two' is not a number of meals; write e.g. '2 a day'"),
    "drip unit": ("hardness: 6 dGH", "water_change: {drip: 3 stone}", "'3 stone' has the unknown unit 'stone'; allowed: L/day, ml/day, gal/day, imp gal/day\n"),
    "length as a range": ("20 cm", "5-8 cm", "9:13: residents[0].length: '5-8 cm' is a range; one value is wanted here, e.g. '28 cm'"),
}  # fmt: skip


@pytest.mark.parametrize(("old", "new", "message"), BAD_PLANS.values(), ids=list(BAD_PLANS))
def test_a_bad_plan_says_where_and_what_is_allowed(
    old: str, new: str, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert old in GOOD
    path = tmp_path / "tank.yaml"
    path.write_text(GOOD.replace(old, new, 1), encoding="utf-8")
    check_refused(path, message, capsys)


def check_refused(path: Path, message: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["screen", str(path)]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert message in err
    assert "Traceback" not in err


MAY_BE_LEFT_OUT = {
    "residents": ("residents:\n  - species: oscar\n    count: 1\n    length: 20 cm\n", ""),
    "residents, as an empty list": ("residents:\n  - species: oscar\n    count: 1\n    length: 20 cm\n", "residents: []\n"),
    "proposals": ("proposals:\n  - name: tetras\n    add:\n      - {species: neon tetra, count: 8, length: 3 cm}\n", ""),
    "a length": ("    length: 20 cm\n", ""),
    "the name of a proposal": ("  - name: tetras\n    add:", "  - add:"),
}  # fmt: skip


@pytest.mark.parametrize(("old", "new"), MAY_BE_LEFT_OUT.values(), ids=list(MAY_BE_LEFT_OUT))
def test_what_may_be_left_out(old: str, new: str, tmp_path: Path) -> None:
    assert old in GOOD
    path = tmp_path / "tank.yaml"
    path.write_text(GOOD.replace(old, new, 1), encoding="utf-8")
    assert main(["plan", "check", str(path)]) == 0


def test_a_plan_without_any_fish_asks_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "tank.yaml"
    path.write_text("tank: {size: 60 x 30 x 30 cm, temperature: 25 C}\n", encoding="utf-8")
    check_refused(path, "1:1: residents: is missing, and so is proposals; a plan needs at least one fish", capsys)


BOMB = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]\n" for n in range(1, 9)
)
BAD_FILES = {
    "empty": (b"", "is empty; wanted keys: tank"),
    "only comments": (b"# nothing here\n", "is empty; wanted keys: tank"),
    "a list": (b"- tank\n- residents\n", "1:1: must be a mapping with the keys tank"),
    "a word": (b"tank", "holds no plan; a plan has the keys tank: and residents:"),
    "5 MB": (b"#" * 5_000_000, "is larger than 1 MiB"),
    "alias bomb": (BOMB.encode(), "has more than 100,000 values"),
    "UTF-16": (GOOD.encode("utf-16"), "1:1: is not UTF-8 text; save the file as UTF-8"),
    "Latin-1": (GOOD.replace("tetras", "fr\xe8re").encode("latin-1"), "11:13: is not UTF-8 text; save the file as UTF-8"),
    "binary": (bytes(range(256)), "is not UTF-8 text"),
    "deep": (b"tank: " + b"[" * 900 + b"]" * 900, "nested deeper than 50 levels"),
    "two documents": (GOOD.encode() + b"---\n" + GOOD.encode(), "holds more than one YAML document"),
}  # fmt: skip


@pytest.mark.parametrize(("content", "message"), BAD_FILES.values(), ids=list(BAD_FILES))
def test_a_file_that_is_no_plan(
    content: bytes, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "tank.yaml"
    path.write_bytes(content)
    check_refused(path, message, capsys)


def test_a_folder_is_no_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    check_refused(tmp_path, "is a folder; a YAML file is wanted", capsys)


def test_a_file_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    check_refused(tmp_path / "no.yaml", "is not there; check the name and the folder", capsys)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
def test_a_file_without_permission(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "tank.yaml"
    path.write_text(GOOD, encoding="utf-8")
    path.chmod(stat.S_IWUSR)
    check_refused(path, "cannot be read: no permission", capsys)


def test_a_file_without_permission_whoever_asks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "tank.yaml"
    path.write_text(GOOD, encoding="utf-8")

    def refuse(*_args: object, **_kwargs: object) -> None:
        raise PermissionError

    monkeypatch.setattr(Path, "open", refuse)
    with monkeypatch.context():
        assert main(["screen", str(path)]) == 1
    assert "cannot be read: no permission" in capsys.readouterr().err


GOOD_PROFILE = """\
scientific_name: Fictus exemplaris
common_names: [example fish]
family: Fictidae
adult_length: 8-10 cm
body: {form: fusiform, depth: 0.25-0.3}
mouth_gape: 0.08-0.1
growth: 0.8-1.2
temperament: {own_kind: peaceful, other_fish: peaceful}
feeding_style: {diet: omnivore, eats_fish: no, level: [mid], pace: steady, active: day}
schooling: {smallest_group: 6}
swimming: local
water_ranges: {temperature: 22-27 C, ph: 6-7.5, hardness: 2-12 dGH}
sources: {adult_length: memory}
"""
BAD_PROFILES = {
    "name": ("Fictus exemplaris", "fictus", "1:18: scientific_name: 'fictus' is not a scientific name"),
    "no names": ("[example fish]", "[]", "2:15: common_names: is empty (what keepers call it, best known first)"),
    "name twice": ("[example fish]", "[a b, a b]", "2:15: common_names: 'a b' is listed twice"),
    "form": ("fusiform", "fusifrm", "5:14: body.form: 'fusifrm' is not a word for body form; allowed: eel-like, elongated, fusiform, short-deep; did you mean 'fusiform'?"),
    "no form": ("form: fusiform, ", "", "5:7: body.form: is missing (one of eel-like, elongated, fusiform, short-deep"),
    "depth in percent of nothing": ("0.25-0.3", "25-30", "5:31: body.depth: '25-30' is outside 0.005 to 1.5"),
    "gape": ("0.08-0.1", "8 mm", "6:13: mouth_gape: '8 mm' has the unknown unit 'mm'; allowed: a plain number, %\n"),
    "growth": ("0.8-1.2", "fast", "7:9: growth: 'fast' is not a growth coefficient"),
    "temperament": ("own_kind: peaceful", "own_kind: nice", "8:25: temperament.own_kind: 'nice' is not a word for temperament; allowed: peaceful, assertive, territorial, aggressive"),
    "level": ("[mid]", "[middle]", "feeding_style.level[0]: 'middle' is not a word for level; allowed: surface, mid, bottom"),
    "group": ("smallest_group: 6", "smallest_group: many", "10:29: schooling.smallest_group: 'many' is not a whole number; allowed: 0 to 100"),
    "source for nothing": ("{adult_length: memory}", "{adult_lenght: memory}", "13:10: sources: 'adult_lenght' is not a block with sources; did you mean 'adult_length'"),
    "unknown block": ("swimming: local", "swiming: local", "11:1: swiming: unknown key 'swiming'; did you mean 'swimming'?"),
}  # fmt: skip


@pytest.mark.parametrize(("old", "new", "message"), BAD_PROFILES.values(), ids=list(BAD_PROFILES))
def test_a_bad_profile_is_reported_when_a_plan_uses_it(
    old: str, new: str, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert old in GOOD_PROFILE
    folder = tmp_path / "profiles"
    folder.mkdir()
    (folder / "fictus-exemplaris.yaml").write_text(GOOD_PROFILE.replace(old, new, 1), encoding="utf-8")
    plan = tmp_path / "tank.yaml"
    name = "Fictus" if old == "[example fish]" or old.startswith("Fictus") else "example fish"
    plan.write_text(
        GOOD.replace("neon tetra", name if name != "Fictus" else "fictus").replace("3 cm", "9 cm"), encoding="utf-8"
    )
    assert main(["screen", str(plan), "--profiles", str(folder)]) == 1
    err = capsys.readouterr().err
    assert message in err
    assert "Traceback" not in err


def test_a_folder_of_profiles_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "tank.yaml"
    plan.write_text(GOOD, encoding="utf-8")
    assert main(["screen", str(plan), "--profiles", str(tmp_path / "none")]) == 1
    assert "is not a folder of profiles" in capsys.readouterr().err


@pytest.mark.parametrize("word", ["unknown", "not known"])
def test_what_is_not_known_is_left_out_and_not_written(
    word: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Within a block too; a form is always wanted."""
    path = tmp_path / "mine.yaml"
    body = f"body: {{form: {word}, depth: {word}}}"
    path.write_text(f"scientific_name: Corydoras meus\nfamily: Callichthyidae\nadult_length: 5 cm\n{body}\n", "utf-8")
    assert main(["profile", "check", str(path)]) == 1
    err = capsys.readouterr().err
    assert f"body.depth: '{word}' is no value; leave out what is not known\n" in err
    assert f"body.form: '{word}' is not a word for body form" in err

"""`coswim profile`: what each command says, where it says it, and how it ends."""

from __future__ import annotations

import io
import json
import stat
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from coswim.cli import output
from coswim.cli import profile_edit as commands
from coswim.cli.main import main
from coswim.profiles import catalog as catalogs
from coswim.profiles.catalog import BUILT_IN, Catalog

WHOLE = len(Catalog((BUILT_IN,)).entries)
INNESI = "paracheirodon-innesi.yaml"
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(autouse=True)
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The keeper's own folder, apart from that of whoever runs the tests."""
    folder = tmp_path / "data" / "species_profiles"
    for module in (catalogs, commands):
        monkeypatch.setattr(module, "own_folder", lambda: folder)
    for name in ("VISUAL", "EDITOR", "COSWIM_PROFILES", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.chdir(tmp_path)
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command: its status, standard output and standard error."""

    def go(*words: str) -> tuple[int, str, str]:
        status = main(["profile", *words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return go


def editor(folder: Path, monkeypatch: pytest.MonkeyPatch, *rounds: tuple[str, str]) -> None:
    """An editor that makes one replacement each time it is opened."""
    script = folder / "editor.py"
    script.write_text(
        "import sys\nfrom pathlib import Path\n"
        f"rounds, count = {rounds!r}, Path({str(folder / 'count')!r})\n"
        "done = int(count.read_text()) if count.exists() else 0\n"
        "count.write_text(str(done + 1))\n"
        "old, new = rounds[done]\n"
        "draft = Path(sys.argv[1])\n"
        "draft.write_text(draft.read_text(encoding='utf-8').replace(old, new, 1), encoding='utf-8')\n",
        encoding="utf-8",
    )
    monkeypatch.setenv("EDITOR", f"{sys.executable} {script}")


def answers(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    """What the keeper types when asked."""
    monkeypatch.setattr(sys, "stdin", io.StringIO(text))


def test_list_shows_the_whole_library(run: Run) -> None:
    status, out, err = run("list")
    assert (status, err) == (0, "")
    assert out.startswith(f"{WHOLE} species\n")
    assert len([line for line in out.splitlines() if "–" in line]) >= WHOLE - 1


def test_list_filters_and_gives_data(run: Run) -> None:
    status, out, _ = run("list", "tetra", "--temperature", "77 F", "--length", "5 cm", "--group", "6", "--as", "json")
    found = json.loads(out)
    assert status == 0
    assert {"Paracheirodon innesi", "Paracheirodon axelrodi"} <= {each["scientific_name"] for each in found}
    for each in found:
        assert each["adult_length"]["high"] <= 5
        assert each["temperature"]["low"] <= (77 - 32) * 5 / 9 <= each["temperature"]["high"]
        assert each["smallest_group"] <= 6


def test_list_sources_shows_every_block(run: Run) -> None:
    status, out, _ = run("list", "--sources")
    assert status == 0
    assert all(block in out for block in ("adult length", "water", "shape (depth)", "memory alone"))
    _, out, _ = run("list", "--sources", "--as", "json")
    assert all(
        sum(each[key] for key in ("sourced", "partly", "memory", "missing")) == WHOLE for each in json.loads(out)
    )


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("list", "--length", "5 stones"), "'5 stones' has the unknown unit 'stones'"),
        (("list", "--temperature", "hot"), "'hot' is not a temperature"),
        (("list", "--group", "-1"), "Invalid value for '--group'"),
        (("list", "--as", "xml"), "'xml' is not one of table, json"),
        (("show", "oscar", "--as", "xml"), "'xml' is not one of"),
        (("show",), "SPECIES"),
        (("edit", "--colour"), "--colour"),
    ],
)
def test_wrong_usage_ends_with_status_2(run: Run, words: tuple[str, ...], said: str) -> None:
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert said in " ".join(err.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("show", "bichir"), "'bichir' could be Polypterus delhezi (barred bichir) or "),
        (("show", "osccar"), "no profile answers to 'osccar'; did you mean 'oscar'"),
        (("edit", "osccar"), "no profile answers to 'osccar'"),
        (("new", "oscar"), "species: 'oscar' is not a scientific name; write genus and epithet"),
        (("new", "Betta splendens"), "is the profile of 'Betta splendens' already; coswim profile edit changes it"),
        (("new", "Betta nova", "--like", "osccar"), "no profile answers to 'osccar'"),
        (("new", "Betta nova"), "editor: none is set"),
        (("edit", "oscar"), "editor: none is set"),
        (("check", "osccar"), "no profile answers to 'osccar'"),
        (("list", "--profiles", "nowhere"), "nowhere: is not a folder of profiles"),
    ],
)
def test_a_problem_ends_with_status_1_and_says_what_to_do(run: Run, words: tuple[str, ...], said: str) -> None:
    status, out, err = run(*words)
    assert (status, out) == (1, "")
    assert said in err
    assert "Traceback" not in err


def test_show_is_a_page_and_json(run: Run) -> None:
    status, out, err = run("show", "8 neon tetras")
    assert (status, err) == (0, "")
    assert out.startswith("neon tetra (Paracheirodon innesi)\n")
    assert "┤ 10 cm" in out
    status, out, _ = run("show", "neon tetra", "--as", "json")
    assert json.loads(out)["scientific_name"] == "Paracheirodon innesi"
    status, out, _ = run("show", "neon tetra", "--as", "plain")
    assert status == 0
    assert "-| 10 cm" in out


def test_check_passes_on_the_whole_library(run: Run) -> None:
    status, out, err = run("check", "--strict")
    assert (status, err) == (0, "")
    assert out.startswith(f"{WHOLE} profiles: 0 problems, 0 warnings, ")


def test_check_shows_what_notes_explain_when_asked(run: Run) -> None:
    _, _, err = run("check", "ocellate river stingray", "--explained")
    assert ": explained: body.width: " in err


@pytest.mark.parametrize(
    ("old", "new", "options", "status", "said"),
    [
        ("diet: omnivore", "diet: omnivor", (), 1, "feeding_style.diet: 'omnivor' is not a word for diet"),
        ("smallest_group: 6", "smallest_group: 1", (), 0, "warning: schooling.smallest_group: is 1"),
        ("smallest_group: 6", "smallest_group: 1", ("--strict",), 1, "warning: schooling.smallest_group: is 1"),
    ],
)
def test_check_of_a_file(
    run: Run, tmp_path: Path, old: str, new: str, options: tuple[str, ...], status: int, said: str
) -> None:
    text = next(BUILT_IN.rglob(INNESI)).read_text(encoding="utf-8")
    assert old in text
    file = tmp_path / INNESI
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    found, out, err = run("check", str(file), *options)
    assert found == status
    assert said in err
    assert out.startswith("1 profile: ")


def test_check_of_a_file_that_is_not_there(run: Run) -> None:
    status, out, err = run("check", "nowhere.yaml")
    assert (status, err) == (1, "nowhere.yaml: is not there; check the name and the folder\n")
    assert out == "1 profile: 1 problem, 0 warnings, 0 explained by a note.\n"


def test_edit_saves_the_keepers_own_and_diff_shows_it(run: Run, own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    editor(own.parent.parent, monkeypatch, ("swimming: cruiser", "swimming: local"))
    status, out, err = run("edit", "neon tetra")
    assert (status, out, err) == (0, f"Saved {own / INNESI}.\n", "")
    status, out, _ = run("diff")
    assert status == 0
    assert [line.split() for line in out.splitlines() if "swimming" in line] == [["swimming", "cruiser", "local"]]
    _, out, _ = run("list", "neon tetra")
    assert "neon tetra *" in out
    _, out, _ = run("show", "neon tetra")
    assert "Your own profile" in out


def test_diff_without_own_profiles_says_so(run: Run) -> None:
    assert run("diff") == (0, "No built-in profile is overridden by one of your own.\n", "")
    assert run("diff", "oscar") == (0, "Astronotus ocellatus is not overridden by one of your own.\n", "")


def test_a_broken_edit_is_offered_again_and_saved_when_mended(
    run: Run, own: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    editor(own.parent.parent, monkeypatch, ("diet: omnivore", "diet: all"), ("diet: all", "diet: insectivore"))
    answers(monkeypatch, "y\n")
    status, out, err = run("edit", "neon tetra")
    assert status == 0
    assert "feeding_style.diet: 'all' is not a word for diet" in err
    assert "Open the editor again?" in err
    assert out.endswith(f"Saved {own / INNESI}.\n")


@pytest.mark.parametrize("typed", ["n\n", ""], ids=["no", "nobody there"])
def test_a_broken_edit_that_is_given_up_is_kept_as_a_draft(
    run: Run, own: Path, monkeypatch: pytest.MonkeyPatch, typed: str
) -> None:
    editor(own.parent.parent, monkeypatch, ("diet: omnivore", "diet: all"), ("diet: all", "diet: insectivore"))
    answers(monkeypatch, typed)
    status, _, err = run("edit", "neon tetra")
    draft = own.parent / "drafts" / INNESI
    assert status == 1
    assert f"Not saved. Your text is kept in {draft}" in err
    assert not (own / INNESI).exists()
    status, _, err = run("edit", "neon tetra")
    assert status == 0
    assert f"Going on with an edit that was not finished: {draft}" in err


def test_an_edit_without_a_change_saves_nothing(run: Run, own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("VISUAL", "true")
    assert run("edit", "neon tetra") == (0, "Nothing changed, nothing saved.\n", "")
    assert not own.exists()


def test_without_an_editor_nothing_is_left_behind(run: Run, own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run("edit", "oscar")[0] == 1
    assert run("new", "Betta nova")[0] == 1
    monkeypatch.setenv("EDITOR", "no-such-editor")
    assert run("edit", "oscar")[0] == 1
    assert not list(own.parent.rglob("*.yaml"))
    monkeypatch.setenv("EDITOR", "true")
    assert run("edit", "oscar") == (0, "Nothing changed, nothing saved.\n", "")


def test_an_editor_that_is_no_command_is_a_problem(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("EDITOR", '"')
    status, out, err = run("edit", "oscar")
    assert (status, out) == (1, "")
    assert err.startswith("editor: EDITOR='\"' is no command (no closing quotation)")


def test_an_editor_that_deletes_the_draft_is_a_problem(run: Run, own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("EDITOR", "rm")
    draft = own.parent / "drafts" / "astronotus-ocellatus.yaml"
    assert run("edit", "oscar") == (1, "", f"{draft}: is gone after the editor was closed; nothing was saved\n")


def test_a_broken_edit_with_nobody_to_ask_is_kept(run: Run, own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    editor(own.parent.parent, monkeypatch, ("diet: omnivore", "diet: all"))
    monkeypatch.setattr(sys, "stdin", None)
    status, _, err = run("edit", "neon tetra")
    assert status == 1
    assert "Not saved. Your text is kept in" in err


def own_copy(own: Path, name: str, *, encoding: str = "utf-8") -> Path:
    """A copy of the neon tetra among the keeper's own profiles."""
    own.mkdir(parents=True, exist_ok=True)
    text = next(BUILT_IN.rglob(INNESI)).read_text(encoding="utf-8")
    path = own / name
    path.write_text(text.replace("[neon tetra", "[néon tetra, neon tetra"), encoding=encoding)
    return path


@pytest.mark.parametrize("name", ["paracheirodon-innesi.yml", "mine.yml", "MINE.YAML"])
def test_an_own_profile_of_any_usual_ending_counts(run: Run, own: Path, name: str) -> None:
    own_copy(own, name)
    status, out, err = run("show", "neon tetra")
    assert (status, err) == (0, "")
    assert "Your own profile" in out


def test_an_own_profile_whose_names_cannot_be_read_is_told(run: Run, own: Path) -> None:
    path = own_copy(own, "mine.yaml", encoding="latin-1")
    status, _, err = run("show", "oscar")
    assert status == 0
    assert err.startswith(f"warning: this profile cannot be used: {path}:")
    assert err.endswith(": is not UTF-8 text; save the file as UTF-8\n")


def test_a_check_of_everything_tells_an_unreadable_profile_once(run: Run, own: Path) -> None:
    path = own_copy(own, "mine.yaml", encoding="latin-1")
    status, _, err = run("check")
    assert status == 1
    assert err.count(str(path)) == 1


@pytest.mark.parametrize("species", ["neon tetra", "Paracheirodon innesi"])
def test_an_own_profile_named_like_the_species_is_not_passed_over(run: Run, own: Path, species: str) -> None:
    path = own_copy(own, INNESI, encoding="latin-1")
    status, out, err = run("show", species)
    assert (status, out) == (1, "")
    assert err.splitlines()[1].startswith(f"{path}:")
    assert "is not UTF-8 text" in err


def test_a_second_own_profile_of_a_species_is_a_problem_for_that_species(run: Run, own: Path) -> None:
    own_copy(own, "a.yml")
    second = own_copy(own, "b.yaml")
    said = f"{second}: is a second profile of 'Paracheirodon innesi' beside a.yml; keep one\n"
    assert run("show", "neon tetra") == (1, "", f"warning: this profile cannot be used: {said}{said}")
    status, _, err = run("show", "oscar")
    assert (status, err) == (0, f"warning: this profile cannot be used: {said}")


def test_new_creates_no_folder_for_a_file_named_by_hand(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "no" / "such" / "n.yaml"
    status, out, err = run("new", "Danio kyathit", "--to", str(file))
    assert (status, out, err) == (1, "", f"{file}: cannot be written: No such file or directory\n")
    assert not (tmp_path / "no").exists()


def test_new_writes_a_template_that_check_says_how_to_fill(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "danio-kyathit.yaml"
    status, out, err = run("new", "Danio kyathit", "--to", str(file))
    assert (status, err) == (0, "")
    assert out.startswith(f"Wrote {file} with values borrowed from Danio albolineatus, ")
    assert out.endswith(f". Fill it in, then: coswim profile check {file}\n")
    assert file.read_text(encoding="utf-8").startswith("# yaml-language-server: $schema=profile.schema.json\n")
    assert json.loads((tmp_path / "profile.schema.json").read_text(encoding="utf-8"))["title"] == "coswim profile"
    status, _, err = run("check", str(file))
    assert status == 1
    assert {"common_names", "adult_length"} == {line.split(": ")[1] for line in err.splitlines()}
    assert run("new", "Danio kyathit", "--to", str(file))[0] == 1


def test_new_from_a_similar_species_through_the_editor(run: Run, own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    editor(own.parent.parent, monkeypatch, ("common_names: []", "common_names: [orange-finned danio]"))
    status, out, _ = run("new", "Danio kyathit", "--like", "zebra danio")
    assert (status, out) == (0, f"Saved {own / 'danio-kyathit.yaml'}.\n")
    status, out, _ = run("show", "orange-finned danio", "--as", "json")
    assert json.loads(out)["sources"]["growth"] == ["memory"]


def test_schema_is_json_and_that_which_new_writes(run: Run, tmp_path: Path) -> None:
    _, out, _ = run("schema")
    run("new", "Danio kyathit", "--to", str(tmp_path / "x.yaml"))
    assert json.loads(out) == json.loads((tmp_path / "profile.schema.json").read_text(encoding="utf-8"))


def test_built_in_files_are_as_they_were_after_every_command(
    run: Run, own: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = next(BUILT_IN.rglob(INNESI))
    before = (path.read_bytes(), path.stat().st_mtime_ns, stat.S_IMODE(path.stat().st_mode))
    editor(own.parent.parent, monkeypatch, ("swimming: cruiser", "swimming: local"))
    for words in (("edit", "neon tetra"), ("check", "neon tetra"), ("diff",), ("show", "neon tetra"), ("list", "neon")):
        assert run(*words)[0] == 0
    assert (path.read_bytes(), path.stat().st_mtime_ns, stat.S_IMODE(path.stat().st_mode)) == before


def test_the_interface_of_output_is_what_these_commands_use() -> None:
    assert all(hasattr(output, name) for name in ("show", "say", "complain", "catalog_from", "Profiles"))

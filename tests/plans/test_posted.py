"""A plan is found in what people paste, and a problem in it names the line of the post."""

from __future__ import annotations

from html import escape
from textwrap import indent

import pytest

from coswim.plans.plan import Plan
from coswim.plans.posted import find_plan
from coswim.text.document import MOST_BYTES, read_document
from coswim.text.problems import InputProblems
from coswim.text.validation import validate

PLAN = """\
title: my tank
tank:
  size: 120 x 50 x 50 cm
  temperature: 25 C
residents:
  - species: pearl gourami
    length: 9 cm
"""
ORDER = """\
residents:
  - species: pearl gourami
    length: 9 cm
tank:
  size: 120 x 50 x 50 cm
  temperature: 25 C
title: my tank
"""
TABLE = "[code]\ntank: 120 x 50 x 50\nfish   share\n[/code]\n"
NO_PLAN = "post: holds no plan; a plan has the keys tank: and residents: (see coswim plan new)"
WANTED = validate(read_document(PLAN, "plan"), Plan)
POSTS = {
    "the file itself": PLAN,
    "in another order": ORDER,
    "with comments before": "# invented\n\n---\n" + PLAN,
    "with a byte-order mark left": "\ufeff" + PLAN,
    "code": f"Hi all,\n[b]look[/b]:\n[code]\n{PLAN}[/code]\nThanks!\n",
    "code on one line with its tag": f"Hi [CODE]{PLAN}[/CODE] bye",
    "code with a language": f"[code=yaml]\n{PLAN}[/code]",
    "code with an option": f'[CODE lang="yaml"]\n{PLAN}[/CODE]',
    "code among other code": f"{TABLE}\ntext\n[code]\n{PLAN}[/code]\n{TABLE}",
    "code in a quote": f"[quote=someone][code]\n{PLAN}[/code][/quote]\nagreed",
    "bare in a quote": f'Hi\n[quote="x"]\n{PLAN}[/quote]\nagreed\n',
    "bare in a quote that is all": f'[quote="x"]\n{PLAN}\n[/quote]\n',
    "bare in a quote on one line with its tags": f"Hi [QUOTE] {PLAN.rstrip()}[/QUOTE] bye",
    "bare in the inner quote": f"[quote=a]so?[quote=b]Hi.\n{PLAN}[/quote]Nice tank.[/quote]\nagreed",
    "bare behind a quote": f"[quote=a]which tank?[/quote]\nThis one:\n{PLAN}\nThanks for reading\n",
    "a fence": f"Hi:\n\n```yaml\n{PLAN}```\nThanks\n",
    "a longer fence": f"````\n```\nx\n```\n````\n\n````yaml\n{PLAN}````\n",
    "tildes": f"Hi\n~~~ yaml\n{PLAN}~~~\n",
    "a fence left open": f"Hi\n```\n{PLAN}",
    "a fence in a list": f"- here:\n\n  ```\n{indent(PLAN, '  ')}  ```\n",
    "a page": f"<p>Hi</p><pre class='yaml'><code>{escape(PLAN)}</code></pre>\n<p>Bye</p>",
    "indented": f"Hi all,\n\n{indent(PLAN, '    ')}\nThanks\n",
    "indented by no-break spaces": f"Hi\n[code]\n{PLAN.replace('  ', chr(0xA0) * 2)}[/code]",
    "quoted": f"Bob wrote:\n{indent(PLAN, '> ', lambda _: True)}\nNice tank.\n",
    "quoted twice": f"Bob: look\n{indent(PLAN, '>> ', lambda _: True)}\nNice tank.\n",
    "a fence in a quote": f"Bob wrote:\n> Hi\n> ```\n{indent(PLAN, '> ')}> ```\n\nNice.\n",
    "bare behind a greeting": f"Hi all, here is my plan.\n\n{PLAN}\nThanks for reading\n",
    "the same plan twice": f"[code]\n{PLAN}[/code]\n[quote]\n[code]\n{PLAN}[/code][/quote]",
    "the same plan in a quote and again": f"[quote]\n{PLAN}[/quote]\nit was\n{PLAN}\n\nThanks!",
    "fence inside code": f"[code]\n```\n{PLAN}```\n[/code]",
    "carriage returns": f"Hi\n```\n{PLAN}```\n".replace("\n", "\r\n"),
    "typeset quotes": f"[code]\n{PLAN.replace('pearl gourami', '“pearl gourami”')}[/code]",
    "invisible spaces in long words": f"[code]\n{PLAN.replace('gourami', 'gou' + chr(0x200B) + 'rami')}[/code]",
}


@pytest.mark.parametrize("post", POSTS.values(), ids=POSTS)
def test_the_plan_is_found(post: str) -> None:
    assert validate(read_document(find_plan(post, "post"), "post"), Plan) == WANTED


@pytest.mark.parametrize("post", POSTS.values(), ids=POSTS)
def test_a_problem_names_the_line_of_the_post(post: str) -> None:
    wrong = post.replace("25 C", "250 C")
    lines = wrong.split("\n")
    with pytest.raises(InputProblems) as caught:
        validate(read_document(find_plan(wrong, "post"), "post"), Plan)
    assert "'250 C' is outside 0 to 45 C" in str(caught.value)
    assert "250 C" in lines[caught.value.problems[0].line - 1]


def test_the_plan_stays_at_its_lines() -> None:
    assert find_plan(f"one\ntwo\n```\n{PLAN}```\n", "post") == f"\n\n\n{PLAN}"


@pytest.mark.parametrize(
    ("post", "message"),
    [
        ("Hello, which fish?", NO_PLAN),
        ("> only a quote", NO_PLAN),
        ("[code]\nx\n[/code]\n", None),
        (
            f"```\n{PLAN}```\nor\n```\n{PLAN.replace('25', '26')}```\n",
            "post:12:1: holds 2 plans, from lines 2 and 12 on; keep the one that is meant",
        ),
        (
            f"[quote]\n{PLAN}[/quote]\nmine:\n{PLAN.replace('25', '26')}",
            "post:11:1: holds 2 plans, from lines 2 and 11 on; keep the one that is meant",
        ),
    ],
    ids=["prose", "quoted prose", "other code", "two plans", "a quoted plan and one's own"],
)
def test_no_plan_and_several_plans_are_problems(post: str, message: str | None) -> None:
    if message is None:
        assert find_plan(post, "post") == post  # looks like YAML: its reader says what is wrong
        return
    with pytest.raises(InputProblems) as caught:
        find_plan(post, "post")
    assert str(caught.value) == message


@pytest.mark.parametrize(
    "text",
    [
        "",
        "# nothing\n",
        "- a\n- b\n",
        "tnak: {}\n",
        "{tank: 1, tank: 2}",
        "%TAG\n",
        "title: x\nnonsense\n",
        "\ttank: x\n",
    ],
)
def test_broken_yaml_comes_back_whole_for_its_reader_to_judge(text: str) -> None:
    assert not find_plan(text, "plan.yaml").startswith("\n")
    assert find_plan(text, "plan.yaml").strip() == text.strip()


def test_a_slip_at_the_end_of_a_plan_is_not_taken_for_a_farewell() -> None:
    assert "horizon 24 months" in find_plan(f"{PLAN}\nhorizon 24 months\n", "plan.yaml")
    assert "horizon 24 months" in find_plan(f"My plan, at last.\n\n{PLAN}\nhorizon 24 months\n", "post")


@pytest.mark.parametrize(
    ("piece", "outcome"),
    [
        ("[code]", NO_PLAN),
        ("[code]tank:[/code]", "tank:\n"),
        ("<pre", NO_PLAN),
        ("<pre>", NO_PLAN),
        ("```\n", NO_PLAN),
        ("~~~\ntank:\n~~~\n", "tank:\n"),
        (">", NO_PLAN),
        ("[quote]", NO_PLAN),
        ("[quote", NO_PLAN),
        ("[quote]tank:\n", "tank:\n"),
        ("  tank:\n tank:\n", "post:3:1: holds 2 plans"),
        (" \n", NO_PLAN),
    ],
)
def test_a_hostile_post_of_the_largest_size_is_read_in_one_go(piece: str, outcome: str) -> None:
    """Quadratic reading of these would take hours."""
    post = "x\n" + piece * (MOST_BYTES // 4 // len(piece))
    if outcome.startswith("post:"):
        with pytest.raises(InputProblems) as caught:
            find_plan(post, "post")
        assert str(caught.value).startswith(outcome)
    else:
        assert find_plan(post, "post").lstrip("\n") == outcome

"""The inputs of the fuzzing, each made from its number and a seed alone, so that any of them can be made again."""

from __future__ import annotations

from random import Random

import extremes
from judge import Case
from mutations import WAYS, by_tokens
from seeds import DAYS, PLANS, POSTS, PROFILES, SMALL_DIARY, SMALL_PLAN, SOURCES

FORMATS = ("terminal", "plain", "bbcode", "markdown", "html", "json")
DRAWS = ("--draws", "50")
"""As few as may be asked for."""
MONTHS = ("1", "2", "12", "240")
FORESEEN, REMEDIED, READ_ONLY = 0.1, 0.01, 0.6
"""How many of the screenings look as far ahead as the plan says, how many search for changes that help; and how many
plans are only read, which most odd ones do not get beyond."""
SMALL = 0.5
"""How many texts grow from the smallest seed, in which one change tells most."""
USED = SMALL_PLAN.replace("neon tetra", "example fish").encode()


def case(seed: int, number: int) -> Case:
    """The input of that number."""
    random = Random(f"{seed} {number}")  # noqa: S311 - to be repeated, not to be kept secret
    kinds = (
        (_plan,) * 4
        + (_profile,) * 3
        + (_post,) * 3
        + (_options, _sources, _diary, _diary, _calendar, _sound_plan, _sound_profile)
    )
    return random.choice(kinds)(random)


def _effort(random: Random) -> tuple[str, ...]:
    """Most screenings are short: what can be wrong with an input is mostly seen in the first month."""
    months = () if random.random() < FORESEEN else ("--months", random.choices(MONTHS, (50, 40, 9, 1))[0])
    return (*DRAWS, *months, *(() if random.random() < REMEDIED else ("--no-remedies",)))


def _changed(random: Random, texts: tuple[str, ...]) -> bytes:
    text = texts[0] if random.random() < SMALL else random.choice(texts)
    return WAYS[random.choice(tuple(WAYS))](random, text, random.choice((*PLANS, *PROFILES)))


def _plan(random: Random) -> Case:
    return _with_plan(random, _changed(random, PLANS))


def _post(random: Random) -> Case:
    way = WAYS[random.choice(("bytes", "tokens"))]
    post = random.choice(POSTS) if random.random() < 0.5 else _wrapped(random, random.choice(PLANS))
    return _with_plan(random, way(random, post, random.choice(POSTS)))


def _sound_plan(random: Random) -> Case:
    return _with_plan(random, extremes.plan(random), must_do=True)


def _with_plan(random: Random, plan: bytes, *, must_do: bool = False) -> Case:
    files = {"tank.yaml": plan}
    if random.random() < READ_ONLY:
        return Case(("plan", "check", "tank.yaml"), files, must_do=must_do)
    form = random.choice(FORMATS)
    if random.random() < 0.1:
        return Case(("screen", "-", *_effort(random), "--as", form), {}, must_do=must_do, typed=plan)
    words = ("screen", "tank.yaml", *_effort(random), "--as", form)
    if form != "json" and random.random() < 0.2:
        words += (random.choice(("--brief", "--for-forum")),)
    if random.random() < 0.3:
        report = f"report.{form}"
        return Case((*words, "--report", report), files, report, must_do)
    return Case(words, files, must_do=must_do)


def _profile(random: Random) -> Case:
    return _with_profile(random, _changed(random, random.choice((PROFILES[:1], PROFILES))))


def _sound_profile(random: Random) -> Case:
    return _with_profile(random, extremes.profile(random), must_do=True)


def _with_profile(random: Random, profile: bytes, *, must_do: bool = False) -> Case:
    files = {"profiles/fictus-exemplaris.yaml": profile, "tank.yaml": USED}
    folder = ("--profiles", "profiles")
    match random.randrange(8 if must_do else 9):
        case 0 | 1:
            return Case(("screen", "tank.yaml", *_effort(random), "--as", random.choice(FORMATS), *folder), files)
        case 2 | 3:
            return Case(("profile", "check", "profiles"), files)
        case 4:
            name = random.choice(("example fish", "Fictus exemplaris", "fictus"))
            return Case(("profile", "show", name, "--as", random.choice(FORMATS), *folder), files, must_do=must_do)
        case 5:
            return Case(("profile", "list", "--as", random.choice(("table", "json")), *folder), files, must_do=must_do)
        case 6:
            report = "new.yaml"
            words = ("profile", "new", "Fictus alter", "--like", "example fish", "--to", report)
            return Case((*words, *folder), files, report, must_do)
        case 7:
            return Case(("profile", "diff", *folder), files, must_do=must_do)
        case _:
            return Case(("profile", "edit", random.choice(("example fish", "fictus exemplaris")), *folder), files)


def _diary(random: Random) -> Case:
    """A diary, a day to judge it on, or one more entry."""
    way = WAYS[random.choice(("bytes", "tokens"))]
    diary = way(random, SMALL_DIARY, random.choice((SMALL_DIARY, SMALL_PLAN)))
    files = {"tank.yaml": SMALL_PLAN.encode(), "tank.diary.yaml": diary}
    match random.randrange(4):
        case 0:
            return Case(("diary", "show", "tank.yaml"), files)
        case 1:
            return Case(
                ("diary", "judge", "tank.yaml", "--on", random.choice(DAYS), "--start", random.choice(DAYS)), files
            )
        case 2:
            return Case(("diary", "judge", "tank.yaml"), files)
        case _:
            seen = {
                "--group": "oscar",
                "--ate": "yes",
                "--on": "2026-03-01",
                "--length": "22 cm",
                "--nitrite": "0.2",
                "--note": "fine",
            }
            words = [word for option in _some_odd(random, seen) if random.random() < 0.9 for word in option]
            return Case(("diary", "add", "tank.yaml", *words), files, added_to="tank.diary.yaml")


def _calendar(random: Random) -> Case:
    plan = _changed(random, PLANS[:1]) if random.random() < 0.5 else extremes.plan(random)
    form = random.choice(FORMATS)
    start, added = random.choice((DAYS[0], random.choice(DAYS))), random.choice((DAYS[0], random.choice(DAYS)))
    words = ("calendar", "tank.yaml", "--start", start, "--as", form, "--added", added)
    theirs = ("--their-temperature", _odd(random, "24 C"), "--their-ph", _odd(random, "6.5"))
    return Case(words + random.choice(((), theirs, ("--ics", "steps.ics"))), {"tank.yaml": plan}, "steps.ics")


def _sources(random: Random) -> Case:
    """A bibliography beside a sound profile."""
    sources = _changed(random, ("mine: {kind: measured, citation: my own ruler}\n", SOURCES))
    files = {
        "profiles/fictus-exemplaris.yaml": PROFILES[0].encode(),
        "profiles/sources.yaml": sources,
        "tank.yaml": USED,
    }
    commands = (
        ("profile", "check", "profiles"),
        ("profile", "list", "--sources", "--profiles", "profiles"),
        ("profile", "show", "example fish", "--profiles", "profiles"),
        ("screen", "tank.yaml", *_effort(random), "--profiles", "profiles"),
    )
    return Case(random.choice(commands), files)


def _options(random: Random) -> Case:
    """A command line instead of a file."""
    sound = {
        "--tank": "180x60x60 cm", "--temperature": "26", "--ph": "7.0", "--hardness": "6 dGH",
        "--resident": "saddled bichir, 38 cm", "--add": "8 tinfoil barb, 10 cm",
    }  # fmt: skip
    match random.randrange(4):
        case 0 | 1:
            words = ["screen", *_effort(random), *(word for option in _some_odd(random, sound) for word in option)]
        case 2:
            words = [
                "profile",
                "list",
                _odd(random, "tetra"),
                "--length",
                _odd(random, "4-8 cm"),
                "--temperature",
                _odd(random, "79 F"),
            ]
        case _:
            words = [*random.choice((["explain"], ["profile", "show"], ["plan", "check"])), _odd(random, "gape-fit")]
    return Case(tuple(words), {})


def _some_odd(random: Random, sound: dict[str, str]) -> list[tuple[str, str]]:
    """Options of which a few have an odd value."""
    odd = random.choices(tuple(sound), k=random.choice((0, 1, 1, 2, 6)))
    return [(option, _odd(random, value) if option in odd else value) for option, value in sound.items()]


def _odd(random: Random, text: str) -> str:
    """The text, mostly changed; no operating system passes a zero byte on."""
    if random.random() < 0.3:
        return text
    odd = by_tokens(random, text, text).decode("utf-8", "surrogateescape")
    return odd.replace("\0", "")[:5000]


def _wrapped(random: Random, plan: str) -> str:
    """A plan as it stands in a post."""
    for _ in range(random.randrange(1, 4)):
        match random.randrange(6):
            case 0:
                plan = f"[code]\n{plan}[/code]\n"
            case 1:
                plan = f"```yaml\n{plan}```\n"
            case 2:
                plan = "".join(f"> {line}\n" for line in plan.splitlines())
            case 3:
                plan = f"<pre>{plan.replace('&', '&amp;')}</pre>\n"
            case 4:
                plan = f"[quote=somebody]{plan}[/quote]\n"
            case 5:
                plan = f"Hello all,\n\nwhat about this: it is big.\n\n{plan}\n\nThank you!\n"
    return plan

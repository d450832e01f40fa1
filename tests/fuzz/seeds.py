"""What the inputs grow from: sound plans, profiles and posts, and the signs and words that are worth writing into them."""

from __future__ import annotations

from pathlib import Path

from pydantic import BaseModel

from coswim.aftercare.diary import DiaryEntry
from coswim.plans.plan import Plan
from coswim.plans.starter import COMMUNITY
from coswim.profiles import scales
from coswim.profiles.catalog import BUILT_IN, profile_files
from coswim.profiles.profile import Profile

PROJECT = Path(__file__).parents[2]
SMALL_PLAN = """\
tank: {size: 120 x 50 x 50 cm, temperature: 24-26 C, ph: 7.0, hardness: 6 dGH}
residents: [{species: oscar, count: 1, length: 20 cm}]
proposals: [{name: tetras, add: [{species: neon tetra, count: 8, length: 3 cm}]}]
"""
KNOWN_PLAN = """\
tank: {size: 120 x 50 x 50 cm, temperature: 24-26 C, ph: 7.0, hardness: 6 dGH}
residents:
  - species: oscar
    length: 20 cm
    this_fish: {mouth: 24 mm}
    lived_with: [{species: zebra danio, count: 4, length: 4 cm, time: 3 weeks, outcome: it ate them}]
proposals: [{name: tetras, add: [{species: neon tetra, count: 8, length: 3 cm}]}]
"""
SMALL_PROFILE = """\
scientific_name: Fictus exemplaris
common_names: [example fish]
family: Fictidae
adult_length: 8-10 cm
body: {form: fusiform, depth: 0.25-0.3, weight: {a: 0.01, b: 3}}
mouth_gape: 0.08-0.1
growth: 0.8-1.2
temperament: {own_kind: peaceful, other_fish: peaceful}
feeding_style: {diet: omnivore, eats_fish: no, level: [mid], pace: steady, active: day}
schooling: {smallest_group: 6}
swimming: local
water_ranges: {temperature: 22-27 C, ph: 6-7.5, hardness: 2-12 dGH}
features: [barbels]
jumps: when startled
cautions: [Handle with wet hands.]
notes: ["body.depth: measured on a photograph."]
sources: {adult_length: memory, body: memory, mouth_gape: memory, growth: memory, temperament: memory, feeding_style: memory, schooling: memory, swimming: memory, water_ranges: memory, jumps: memory, features: memory}
"""


def _texts(*paths: Path) -> tuple[str, ...]:
    return tuple(path.read_text(encoding="utf-8") for path in paths)


PLANS = (SMALL_PLAN, KNOWN_PLAN, COMMUNITY, *_texts(*sorted((PROJECT / "examples").glob("*.yaml"))))
PROFILES = (SMALL_PROFILE, *_texts(*profile_files(BUILT_IN)[::30]))
SMALL_DIARY = """\
--- {date: 2026-01-05, group: oscar, ate: yes, chased: no}
--- {date: 2026-01-06, group: neon tetra, ate: some, chased: often, damage: {grade: 1, place: fins}, note: hides}
---
date: 2026-01-09
group: oscar
length: 21 cm
weight: 180 g
--- {date: 2026-01-12, water: {ammonia: 0.5 mg/L, nitrite: 0.1 mg/L, nitrate: 20 mg/L, ph: 7.2, temperature: 25 C, hardness: 6}}
--- {date: 2026-02-01, group: neon tetra, ate: no, note: "one is missing: eaten?"}
"""
SOURCES = "".join((BUILT_IN / "sources.yaml").read_text(encoding="utf-8").splitlines(keepends=True)[:60])
POSTS = _texts(*sorted((PROJECT / "tests" / "report" / "golden").glob("*.post.bbcode"))) + _texts(
    *sorted((PROJECT / "tests" / "report" / "golden").glob("*.md"))
)


def keys_of(model: type[BaseModel]) -> set[str]:
    """Every key that a document of this model may have, at any depth."""
    schema = model.model_json_schema()
    parts = [schema, *schema.get("$defs", {}).values()]
    return {key for part in parts for key in part.get("properties", {})}


KEYS = tuple(sorted(keys_of(Plan) | keys_of(Profile) | keys_of(DiaryEntry)))
WORDS = tuple(sorted({word for scale in scales.SCALES for word in scale.words}))
HOSTILE = (
    "\x1b]0;owned\x07\x1b[2J", "\x9b31m", "\u202egnp.exe", "\u2066x", "\x00", "\x7f", "\x85", "\u2028", "\ufeff", "\ufffe", "\udcff",
    "金魚", "e\u0301", "\U000e0041", "\U0001f41f", "../../x", "/etc/x", "[/code][url=x]", "<script>", "</pre>", "```", "~~~", "|", "\\",
    "x" * 100, "x" * 3000, "1" * 400, "a@b.example", "http://x.example", "{{7*7}}", "%s%n", "'", '"',
)  # fmt: skip
NUMBERS = (
    "0", "-0", "1", "-1", "0.5", "1e308", "1e-308", "9" * 30, "nan", ".nan", "inf", "-.inf", "1,000", "1.234,5", "1/2", "½", "٣", "0x10",
    "1_000", "007", "1:30", "5-", "-5", "3-2", "2-2", "20 to 25", "45", "45.0001", "0-45", "500 cm", "2000", "10000", "240", "241",
)  # fmt: skip
DAYS = (
    "2026-01-05",
    "0001-01-01",
    "9999-12-31",
    "2026-02-30",
    "20260105",
    "2026-W01-1",
    "1970-01-01",
    "2026-01-05T00:00",
    "today",
)
UNITS = (
    "cm",
    "mm",
    "in",
    "ft",
    "C",
    "F",
    "K",
    "dGH",
    "ppm",
    "%",
    "L/day",
    "months",
    "years",
    "a day",
    "°",
    "kg",
    '"',
    "”",
)
SIGNS = (
    ":", ": ", "- ", "---\n", "...\n", "? ", "# ", "{", "}", "[", "]", ", ", "&a ", "*a", "<<: *a", "!!str ", "!x ", "|\n", ">\n", "|-\n",
    "'", '"', "\t", "\n", "\r\n", "\n\n", "  ", "%YAML 1.2\n", "@", "`", "null", "~", "yes", "no", "true", "[]", "{}", "''", "[" * 300, "{a: " * 60,
    "[code]", "[/code]", "[quote]", "[/quote]", "[quote=x]", "```", "~~~", "<pre>", "</pre>", "> ", "&amp;", "\u200b", "\xa0",
)  # fmt: skip
TOKENS = (*KEYS, *WORDS, *NUMBERS, *DAYS, *UNITS, *SIGNS, *HOSTILE)

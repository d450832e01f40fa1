"""How far coswim, and a keeper's rules of thumb, agree with what keepers say of the pairings beside this file.

`python tests/panel/agreement.py [DRAWS]` prints a line for each panel. The pairings are common practice without a
source, written by someone who saw neither rules nor runs. Those of `peaceful` were drawn at random and are pairings on
which two such people agree. What was looked at while the model was mended is no longer
blind; which panel was blind when stands in `coswim explain trust`.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from coswim.plans.reading import ReadPlan, read_plan
from coswim.profiles.catalog import BUILT_IN, Catalog
from coswim.profiles.profile import Profile
from coswim.screening import Screened, screen
from coswim.simulation.scene import Effort

PANELS = (
    "general",
    "general_third",
    "feeding_first",
    "feeding_second",
    "feeding_third",
    "feeding_fourth",
    "feeding_fifth",
    "feeding_sixth",
    "feeding_seventh",
    "feeding_eighth",
    "feeding_ninth",
    "feeding_development",
    "peaceful",
    "peaceful_fresh",
    "peaceful_second",
    "peaceful_third",
)
GRAVE = ("serious", "high")
A_THIRD, LENGTHS_OF_TANK = 1 / 3, 4.0
"""What a fish may swallow over its own length, and tank over adult length: common practice, no source."""


@dataclass(frozen=True)
class Row:
    """One pairing of a panel as a plan, and what keepers say of it."""

    id: str
    plan: str
    is_bad: bool
    trouble: frozenset[str]


def rows(panel: str) -> Iterator[Row]:
    """The pairings of a panel, in the order of its file."""
    with Path(__file__).with_name(f"{panel}.csv").open(encoding="utf-8", newline="") as file:
        for line in csv.DictReader(file):
            yield Row(line["id"], _plan(line), line["expect"] == "bad", frozenset(line["trouble"].split("|")))


def _plan(line: dict[str, str]) -> str:
    size = line["tank_size_cm"].replace("x", " x ")
    tank = f"size: {size} cm, temperature: {line['temperature_C']} C, ph: {line['ph']}, "
    tank += f"hardness: {line['hardness_dGH']} dGH"
    extra, feeding = (line[name].strip().replace(";", ",") for name in ("tank_extra", "feeding"))
    tank += "" if "hiding_places" in extra else ", hiding_places: 6"
    tank += f", {extra}" if extra else ""
    fed = f"feeding: {{{feeding}}}\n" if feeding else ""
    residents, newcomers = (", ".join(map(_group, line[name].split(" + "))) for name in ("resident", "newcomers"))
    return f"tank: {{{tank}}}\n{fed}residents: [{residents}]\nproposals: [{{name: p, add: [{newcomers}]}}]\n"


def _group(text: str) -> str:
    count, rest = text.strip().split(" ", 1)
    species, length = rest.rsplit(", ", 1)
    return f'{{species: "{species}", count: {count}, length: {length}}}'


def agrees(row: Row, proposal: Screened) -> bool:
    """The verdict, and for a bad pairing one of its two worst hazards, is what keepers say."""
    is_grave = proposal.risk is not None and str(proposal.risk.level) in GRAVE
    worst = {finding.found.hazard for finding in proposal.findings[:2]}
    return (is_grave and bool(worst & row.trouble)) if row.is_bad else not is_grave


def thumb_says_bad(read: ReadPlan) -> bool:
    """A keeper's rules of thumb: mouths, ranges, groups, lengths of tank, known bullies and nippers."""
    plan = read.plan
    fish = [(read.profile(entry), entry) for entry in (*plan.residents, *plan.proposals[0].add)]
    for profile, entry in fish:
        water = profile.water_ranges
        if water and not water.temperature.low <= plan.tank.temperature.middle <= water.temperature.high:
            return True
        if profile.schooling and entry.count < profile.schooling.smallest_group:
            return True
        if LENGTHS_OF_TANK * profile.adult_length.middle > plan.tank.size.length:
            return True
        for other, _ in fish:
            if other is not profile and (_swallows(profile, other) or _bullies(profile, other)):
                return True
    return False


def _swallows(eater: Profile, prey: Profile) -> bool:
    hunts = eater.feeding_style is not None and eater.feeding_style.eats_fish != "no"
    return hunts and prey.adult_length.low < A_THIRD * eater.adult_length.high


def _bullies(doer: Profile, target: Profile) -> bool:
    temper = doer.temperament
    return temper is not None and (
        temper.other_fish == "aggressive" or (temper.nips == "often" and "long-fins" in target.features)
    )


def main(draws: int) -> None:
    """Print the agreement of every panel."""
    catalog = Catalog((BUILT_IN,))
    show = sys.stdout.write
    show(f"{'panel':22}{'pairings':>10}{'coswim':>10}{'bad':>10}{'good':>10}{'thumb':>10}\n")
    for panel in PANELS:
        found = [(row, read_plan(row.plan, row.id, catalog)) for row in rows(panel)]
        right = [agrees(row, screen(read, catalog, Effort(draws), remedies=False).proposals[0]) for row, read in found]
        thumb = sum(thumb_says_bad(read) is row.is_bad for row, read in found)
        bad = [ok for ok, (row, _) in zip(right, found, strict=True) if row.is_bad]
        good = [ok for ok, (row, _) in zip(right, found, strict=True) if not row.is_bad]
        show(
            f"{panel:22}{len(found):>10}{sum(right) / len(found):>10.1%}{f'{sum(bad)}/{len(bad)}':>10}"
            f"{f'{sum(good)}/{len(good)}':>10}{thumb / len(found):>10.1%}\n"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 300)

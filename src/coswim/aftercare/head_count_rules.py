"""Stop rules on fish that are missing, dead, ill, out of the tank, or too large for their company.

Source: common practice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from coswim.aftercare.company import Companion, Company
from coswim.aftercare.concerns import Concern
from coswim.aftercare.signs import Sign
from coswim.aftercare.stop_rule import ACT, PART, Met, StopRule, in_notes, of_any_group
from coswim.aftercare.watched import Noted, Watched
from coswim.text import wording

EATEN_BY = ("gape-fit", "spine-choking")
WITHIN = 14
STRETCH = 1.15
"""How much a mouth and its prey give together, the middle of what the screening draws (1.0 to 1.3)."""
PART_EATER = "Part the eater from the rest today; those that are left will follow"
PART_ATTACKER = "Part whoever did it from the rest today, and test the water all the same"
SEARCH = "Search the floor, the filter and every hiding place, and close the lid's gaps; a dead fish spoils the water"
LOOK_INTO = (
    "Take the dead fish out, test the water, look all others over; if you do not know the cause, ask a veterinarian"
)
VETERINARIAN = "Ask a veterinarian; change water, and keep the fish from being chased meanwhile"


def rules(company: Company, concerns: Sequence[Concern]) -> Iterator[StopRule]:
    """Rules for every company, and for each hunter and each fish that it may outgrow."""
    prey = [concern.target for concern in concerns if concern.hazard in EATEN_BY]
    eaten = "a fish is found in another's mouth, or half eaten"
    yield StopRule("eaten", PART, eaten, PART_EATER, in_notes(Sign.EATEN, within=WITHIN))
    taken = partial(_taken, prey=prey)
    yield of_any_group("missing", PART, "fish are missing beside one that could have eaten them", PART_EATER, taken)
    yield of_any_group("missing", ACT, "a fish is missing", SEARCH, _missing_met)
    yield StopRule("missing", ACT, "a fish has left the tank", SEARCH, in_notes(Sign.OUT, within=WITHIN))
    yield StopRule("dead", PART, "a fish is dead and was bitten or chased", PART_ATTACKER, _killed)
    yield StopRule("dead", ACT, "a fish is dead", LOOK_INTO, in_notes(Sign.DEAD, within=WITHIN))
    yield StopRule(
        "ill", ACT, "a fish is swollen, spotted, woolly, rubs itself or cannot keep its balance", VETERINARIAN,
        in_notes(Sign.ILL, within=WITHIN),
    )  # fmt: skip
    for eater in company.fish:
        for mate in company.fish:
            limit = fits_from(eater, mate, mate.length) if mate is not eater and eater.hunts else None
            if limit is not None and limit > eater.length:
                yield _outgrown(eater, mate, limit)


def missing(seen: Watched, fish: Companion) -> Noted | None:
    """The entry that says some are missing, unless a later one found all of them."""
    found = None
    for noted in seen.about(fish):
        if noted.counted:
            found = noted if noted.counted.seen < (noted.counted.of or fish.number) else None
        elif noted.says(Sign.MISSING):
            found = noted
        elif noted.says(Sign.BETTER):
            found = None
    return found


def _missing_met(seen: Watched, fish: Companion) -> Met | None:
    noted = missing(seen, fish)
    if noted is None:
        return None
    many = f"only {noted.counted.seen} of {noted.counted.of or fish.number}" if noted.counted else "some"
    return Met(f"{fish.label}: {many} {'are there' if noted.counted else 'are missing'}", noted)


def _taken(seen: Watched, fish: Companion, prey: Sequence[Companion]) -> Met | None:
    """Missing, and either the screening feared it or a hunter's belly is full."""
    met = _missing_met(seen, fish)
    hunters = [other for other in seen.company.fish if other is not fish and other.hunts]
    full = [h for h in hunters if any(n.says(Sign.FULL_BELLY) for n in seen.of(h))]
    full = full or [h for h in hunters if met and met.noted.says(Sign.FULL_BELLY)]
    if met is None or not (full or (fish in prey and hunters)):
        return None
    by = f", and {full[0].label} has a full belly" if full else ", and its company can swallow it"
    return Met(met.words + by, met.noted)


def _killed(seen: Watched) -> Met | None:
    noted = seen.standing(Sign.DEAD, within=WITHIN)
    if noted is None:
        return None
    hurt = noted.says(Sign.HURT)
    for fish in seen.company.fish:
        spoken = noted in seen.about(fish)
        past = [n for n in seen.of(fish) if n.entry.chased == "often" or (n.entry.damage and n.entry.damage.grade)]
        if spoken and (past or hurt):
            return Met(f"{fish.label}: dead, after it was bitten or chased", noted)
    return Met(f'dead, "{hurt.words}"', noted) if hurt else None


def fits_from(eater: Companion, mate: Companion, mate_length: float) -> float | None:
    """The eater's length from which the mate goes into its mouth, cm; None where its mouth is not known.

    Equation: girth of the mate / (gape x standard length x give).
    """
    if eater.profile.mouth_gape is None:
        return None
    shape = mate.profile.body
    girth = max(shape.depth.middle, shape.width.middle if shape.width else 0.0) * mate.standard_fraction * mate_length
    return girth / (eater.profile.mouth_gape.middle * STRETCH * eater.standard_fraction)


def _outgrown(eater: Companion, mate: Companion, limit: float) -> StopRule:
    grown, goes = eater.verb("has grown", "have grown"), mate.verb("goes", "go")
    sign = (
        f"{eater.label} {grown} so long that {mate.label} {goes} into the mouth (from {wording.number(limit)} cm, as "
        f"long as {mate.label} {mate.verb('stays', 'stay')} at {mate.length:g} cm)"
    )

    def check(seen: Watched) -> Met | None:
        now, own = measured(seen, eater), measured(seen, mate)
        needed = fits_from(eater, mate, own.entry.length if own and own.entry.length else mate.length)
        if now is None or now.entry.length is None or needed is None or not eater.length < needed <= now.entry.length:
            return None
        return Met(f"{eater.label} {eater.verb('is', 'are')} {now.entry.length:g} cm long; {mate.label} "
                   f"{mate.verb('fits', 'fit')} from {wording.number(needed)} cm", now)  # fmt: skip

    return StopRule("outgrown", ACT, sign, "Find a new home for one of them before the first is missing", check)


def measured(seen: Watched, fish: Companion) -> Noted | None:
    """The last entry that measured its length."""
    return next((noted for noted in reversed(seen.of(fish, ever=True)) if noted.entry.length), None)

"""Stop rules on the water: ammonia, nitrite, nitrate, pH and temperature.

Test kits show ammonia as NH3 and NH4 together. Only NH3, the un-ionised part, is poisonous at once; its share
follows from pH and temperature (Emerson et al. 1975). A kit that shows ammonia as nitrogen reads a fifth too
low (17/14). Bad water is put right, not fled from: the decision is to act.

Sources: harm above 0.05 mg/L of un-ionised ammonia: UF/IFAS FA-16. All other limits: common practice; how fast
a value may move: judgement.
"""

from __future__ import annotations

from coswim.aftercare.company import Company
from coswim.aftercare.diary import WaterTest
from coswim.aftercare.signs import Sign
from coswim.aftercare.stop_rule import Decision, Met, StopRule, in_notes
from coswim.aftercare.watched import Noted, Watched
from coswim.biology import nitrogen
from coswim.text import wording

UN_IONISED = 0.05
TOTAL = 1.0
RISING_FROM = 0.5
NITRITE = 0.2
NITRATE, NITRATE_RISING, NITRATE_STEP = 100.0, 50.0, 10.0
PH_MOVED, PH_FAST, FAST_DAYS = 1.0, 0.6, 3
DEGREES_OFF = 3.0
OUTSIDE = 1.0
WITHIN = 7
CHANGE = (
    "Change a third to a half of the water today, with water free of chlorine and as warm as the tank; feed little; "
    "test daily until it reads zero"
)
LESS_NITRATE = "Change more water more often, feed less, and find out what the tap brings"
GENTLY = "Many small water changes over days, not one large one; test pH and hardness daily"
HEAT = (
    "Look at the heater: plug out with dry hands before you reach in, and a faulty one is replaced, not repaired. "
    "Bring the water back by no more than a degree an hour"
)
AIR = "Test the water, change a third of it, let the outlet break the surface, and see that the filter runs"


def un_ionised(test: WaterTest, company: Company) -> float | None:
    """The poisonous part of the ammonia, mg/L as NH3; None without ammonia or where no pH is known.

    What the test does not state is the plan's value.
    """
    tank = company.plan.tank
    ph = test.ph if test.ph is not None else tank.ph.middle if tank.ph else None
    if test.ammonia is None or ph is None:
        return None
    degrees = test.temperature if test.temperature is not None else tank.temperature.middle
    return test.ammonia * float(nitrogen.un_ionised_fraction(ph, degrees))


def _last(seen: Watched, name: str, *, before: int = 0) -> tuple[Noted, float] | None:
    """The last test of something, or the one so many before it."""
    found = [(noted, value) for noted in seen.tests if (value := getattr(noted.entry.water, name)) is not None]
    return found[-1 - before] if len(found) > before else None


def _poisonous(seen: Watched) -> Met | None:
    last = _last(seen, "ammonia")
    if last is None or last[0].entry.water is None:
        return None
    part = un_ionised(last[0].entry.water, seen.company)
    if part is None or part <= UN_IONISED:
        return None
    return Met(f"un-ionised ammonia {wording.number(part)} mg/L (of {last[1]:g} mg/L in all)", last[0])


def _much(seen: Watched) -> Met | None:
    last, before = _last(seen, "ammonia"), _last(seen, "ammonia", before=1)
    if last is None:
        return None
    doubles = before is not None and last[1] >= RISING_FROM and last[1] >= 2 * before[1] > 0
    return Met(f"total ammonia {last[1]:g} mg/L", last[0]) if last[1] >= TOTAL or doubles else None


def _nitrite(seen: Watched) -> Met | None:
    last = _last(seen, "nitrite")
    return Met(f"nitrite {last[1]:g} mg/L", last[0]) if last and last[1] >= NITRITE else None


def _nitrate(seen: Watched) -> Met | None:
    last, before = _last(seen, "nitrate"), _last(seen, "nitrate", before=1)
    if last is None:
        return None
    rises = before is not None and last[1] >= NITRATE_RISING and last[1] >= before[1] + NITRATE_STEP
    return Met(f"nitrate {last[1]:g} mg/L", last[0]) if last[1] >= NITRATE or rises else None


def _ph(seen: Watched) -> Met | None:
    last, before = _last(seen, "ph"), _last(seen, "ph", before=1)
    if last is None:
        return None
    plan = seen.company.plan.tank.ph
    moved = plan is not None and not plan.low - PH_MOVED < round(last[1], 2) < plan.high + PH_MOVED
    fast = (
        before is not None
        and (last[0].date - before[0].date).days <= FAST_DAYS
        and round(abs(last[1] - before[1]), 2) >= PH_FAST
    )
    return Met(f"pH {last[1]:g}", last[0]) if moved or fast else None


def _temperature(seen: Watched) -> Met | None:
    last = _last(seen, "temperature")
    if last is None:
        return None
    plan = seen.company.plan.tank.temperature
    ranges = [fish.profile.water_ranges.temperature for fish in seen.company.fish if fish.profile.water_ranges]
    off = not plan.low - DEGREES_OFF < last[1] < plan.high + DEGREES_OFF
    moved = not plan.low <= last[1] <= plan.high
    outside = moved and any(not span.low - OUTSIDE <= last[1] <= span.high + OUTSIDE for span in ranges)
    return Met(f"{last[1]:g} C", last[0]) if off or outside else None


def _gasping(seen: Watched) -> Met | None:
    met = in_notes(Sign.GASPING, within=WITHIN)(seen)
    return None if met and met.words.startswith('"gulp') and _breathe_air(seen, met.noted) else met


def _breathe_air(seen: Watched, noted: Noted) -> bool:
    """All fish that the note speaks of come up for air by nature."""
    spoken = [fish for fish in seen.company.fish if noted in seen.about(fish)]
    return bool(spoken) and all("air-breather" in fish.profile.features for fish in spoken)


RULES = tuple(
    StopRule("water", Decision.ACT, sign, do, check)
    for sign, do, check in (
        (f"un-ionised ammonia is above {UN_IONISED:g} mg/L (ask for it: coswim diary show)", CHANGE, _poisonous),
        (f"total ammonia reaches {TOTAL:g} mg/L, or doubles from test to test", CHANGE, _much),
        (f"nitrite reaches {NITRITE:g} mg/L", CHANGE, _nitrite),
        (f"nitrate reaches {NITRATE:g} mg/L, or {NITRATE_RISING:g} mg/L and rising", LESS_NITRATE, _nitrate),
        (f"pH is {PH_MOVED:g} or more from the plan's, or moves {PH_FAST:g} within {FAST_DAYS} days", GENTLY, _ph),
        (
            f"the temperature is {DEGREES_OFF:g} C or more from the plan's, or outside a fish's range",
            HEAT,
            _temperature,
        ),
        ("fish gasp, breathe fast or hang at the surface", AIR, _gasping),
        ("the filter or the power has stopped", AIR, in_notes(Sign.NO_FILTER, within=WITHIN)),
    )
)
"""All ask for action; the last test counts, since a later one clears an earlier one."""

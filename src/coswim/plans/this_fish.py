"""What a keeper knows of one fish; it stands for what its species' profile says.

The annotations are evaluated here, once, as in `profiles/profile.py`.
"""

from collections.abc import Iterator
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field

from coswim.profiles import profile as traits
from coswim.profiles import scales
from coswim.profiles.profile import Profile
from coswim.profiles.sources import OWN_OBSERVATION
from coswim.text.fields import LengthRange, Opening, Strict, Weight, as_list, no_repeats

MEASURES = ("mouth", "depth", "width", "weight")
BLOCK_OF = {
    **dict.fromkeys(("own_kind", "other_fish", "nips", "stamina", "boldness"), "temperament"),
    **dict.fromkeys(("eats_fish", "level", "pace", "active", "settling"), "feeding_style"),
}
"""The block of a profile in which each word stands; the others stand at its top."""


class ThisFish(Strict):
    """Measured on this fish, or known of it."""

    mouth: Opening | None = Field(None, description="widest opening of the mouth, measured, e.g. 41 mm")
    depth: Opening | None = Field(None, description="deepest point of the body, measured, e.g. 48 mm")
    width: Opening | None = Field(None, description="widest point of the body, measured, e.g. 40 mm")
    weight: Weight | None = Field(None, description="measured weight, e.g. 420 g")
    adult_length: LengthRange | None = Field(None, description="what it will reach, e.g. 40-45 cm")
    own_kind: traits.Temperament_ | None = Field(None, description=f"one of {scales.TEMPERAMENT.listed}")
    other_fish: traits.Temperament_ | None = Field(None, description=f"one of {scales.TEMPERAMENT.listed}")
    nips: traits.Nips | None = Field(None, description=f"one of {scales.NIPS.listed}")
    stamina: traits.Stamina | None = Field(None, description=f"one of {scales.STAMINA.listed}")
    boldness: traits.Boldness | None = Field(None, description=f"one of {scales.BOLDNESS.listed}")
    eats_fish: traits.EatsFish | None = Field(None, description=f"one of {scales.EATS_FISH.listed}")
    level: Annotated[tuple[traits.Level, ...], BeforeValidator(as_list)] | None = Field(
        None, description=f"where it feeds: a list of {scales.LEVEL.listed}", min_length=1
    )
    pace: traits.Pace | None = Field(None, description=f"one of {scales.PACE.listed}")
    active: traits.Active | None = Field(None, description=f"one of {scales.ACTIVE.listed}")
    settling: traits.Settling | None = Field(None, description=f"one of {scales.SETTLING.listed}")
    features: Annotated[tuple[traits.Feature, ...], AfterValidator(no_repeats)] | None = Field(
        None, description=f"all features of this fish: any of {scales.FEATURES.listed}"
    )

    def known(self) -> Iterator[tuple[str, Any]]:
        """What stands for the profile: the trait's path there and the value."""
        for name in type(self).model_fields:
            value = getattr(self, name)
            if name not in MEASURES and value is not None:
                yield (f"{BLOCK_OF[name]}.{name}" if name in BLOCK_OF else name), value

    def applied(self, profile: Profile) -> Profile:
        """The profile with what is known of this fish in place of its species' values.

        A word of a block that the profile does not state at all is passed over: the block's other words are unknown.
        """
        changed: dict[str, Any] = {}
        for path, value in self.known():
            block, _, part = path.rpartition(".")
            if not block:
                changed[part] = value
            elif (stated := changed.get(block) or getattr(profile, block)) is not None:
                changed[block] = stated.model_copy(update={part: value})
        if not changed:
            return profile
        if self.adult_length is not None and profile.sexes is not None:
            changed["sexes"] = profile.sexes.model_copy(update={"male_length": None, "female_length": None})
        own = {path: (OWN_OBSERVATION,) for path, _ in self.known()}
        return profile.model_copy(update={**changed, "sources": {**profile.sources, **own}})

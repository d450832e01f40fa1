"""Which futures a diary lets us believe: those in which the fish eat as they were seen to eat.

The plan is simulated from the day they met. In each draw every group has a share of its ration, week by week; a draw
whose shares make the diary's words likely is believed more. All groups are drawn anew together, since one eats what
the other does not.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from coswim.aftercare.company import Companion
from coswim.aftercare.record import STRETCH, Observation, observations
from coswim.aftercare.slowness import word_odds
from coswim.aftercare.watched import Watched
from coswim.arrays import Floats, Indexes
from coswim.plans.plan import Proposal
from coswim.plans.reading import ReadPlan
from coswim.profiles.catalog import Catalog
from coswim.simulation.scene import Effort, Scene, build_scene
from coswim.text.quantities import DAYS_PER_MONTH
from coswim.verdict.record import picked

WORDS_COUNTED = 3.0
"""Words of one week that count in full: the days of a week are much alike. Source: judgement."""


def believed_futures(
    read: ReadPlan, proposal: Proposal | None, seen: Watched, catalog: Catalog, effort: Effort
) -> Mapping[str, Indexes]:
    """The draws believed after a diary, by the key of each group; nothing where it says nothing of meals."""
    scene = build_scene(read, proposal, catalog, effort)
    likelihood = np.zeros(scene.draws.number)
    said = False
    for fish in seen.company.fish:
        index = _group(scene, fish)
        for observation in observations(seen, fish):
            if index is not None and observation.ate_words:
                likelihood += _week(scene, index, observation, (observation.first - seen.company.start).days)
                said = True
    if not said:
        return MappingProxyType({})
    indexes = picked(np.exp(likelihood - likelihood.max()))
    return MappingProxyType({group.key: indexes for group in scene.groups})


def _group(scene: Scene, fish: Companion) -> int | None:
    """The group of the scene that a companion is."""
    for index, group in enumerate(scene.groups):
        same = (group.profile.scientific_name, group.count, group.is_resident)
        if same == (fish.profile.scientific_name, fish.number, fish.is_resident) and group.start_length == fish.length:
            return index
    return None


def _week(scene: Scene, index: int, observation: Observation, days: int) -> Floats:
    """Log likelihood of a week's words in each draw, shape (draws,)."""
    month = (days + STRETCH / 2) / DAYS_PER_MONTH
    time = int(np.argmin(np.abs(scene.course.times - month)))
    shares = scene.course.ration_share[:, time, index]
    words = observation.ate_words
    logs = np.sum([np.log(word_odds(shares, word)) for word in words], axis=0)
    return np.asarray(logs * min(1.0, WORDS_COUNTED / len(words)))

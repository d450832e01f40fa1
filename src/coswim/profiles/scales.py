"""The words of a profile, each with a written meaning and the number behind it.

The numbers are judgement unless a source is named: they order species, they do not measure them.
`coswim explain scales` prints this table.
"""

from __future__ import annotations

from typing import NamedTuple


class Step(NamedTuple):
    """One word of a scale: the number it stands for and what a keeper sees."""

    word: str
    number: float
    meaning: str


class Scale(NamedTuple):
    """A closed set of words with numbers; `measures` says what the number is and `source` where from."""

    name: str
    measures: str
    steps: tuple[Step, ...]
    source: str = "judgement"

    @property
    def words(self) -> tuple[str, ...]:
        """The words, in the scale's order."""
        return tuple(step.word for step in self.steps)

    @property
    def listed(self) -> str:
        """The same, as a reader is told."""
        return ", ".join(self.words)

    def number(self, word: str) -> float:
        """The number behind a word; KeyError for a word that the scale does not have."""
        for step in self.steps:  # asked for every pair of fish, so no table is made each time
            if step.word == word:
                return step.number
        raise KeyError(word)


def _scale(name: str, measures: str, *steps: Step, source: str = "judgement") -> Scale:
    return Scale(name, measures, steps, source)


FORM = _scale(
    "body form",
    "weight in g of a fish of 10 cm total length",
    Step("eel-like", 1.175, "snake-shaped: eels, ropefish, kuhli loaches"),
    Step("elongated", 5.129, "long and low: bichirs, pike-shaped fish, slender loaches and catfish"),
    Step("fusiform", 12.303, "spindle-shaped: most barbs, tetras, bass, corydoras"),
    Step("short-deep", 20.417, "high and flattened: angelfish, discus, silver dollars"),
    source="Froese, Thorson & Reyes 2014, J. Appl. Ichthyol. 30:78-85, table of body shapes",
)
TEMPERAMENT = _scale(
    "temperament",
    "drive to attack, 0 (never) to 1 (whenever it can)",
    Step("peaceful", 0.05, "ignores others; a brief dispute at most"),
    Step("assertive", 0.25, "pushes others aside at food and resting places, no lasting harm"),
    Step("territorial", 0.5, "holds a place and drives others from it"),
    Step("aggressive", 0.8, "seeks out and attacks others anywhere in the tank"),
)
NIPS = _scale(
    "nips",
    "chance that one fish without company to keep it busy nips fins, barbels or eyes within two years",
    Step("never", 0.0, "not known to nip"),
    Step("sometimes", 0.1, "nips when bored, hungry or in too small a group"),
    Step("often", 0.6, "known fin nipper"),
    source="judgement, so that in a group of six somebody nips in about half of the tanks, or in a tenth",
)
STAMINA = _scale(
    "stamina",
    "how much chasing it takes before it fails, relative to an average fish",
    Step("fragile", 0.5, "stops feeding or sickens under mild harassment"),
    Step("average", 1.0, "copes with occasional chasing"),
    Step("tough", 2.0, "robust, bold or quick enough to shrug it off"),
)
BOLDNESS = _scale(
    "boldness",
    "bold, frantic fish of its own length beside which a steady fish of 10 cm loses half of its meal",
    Step("timid", 0.16, "hangs back from bustle and comes to the food when the others have done"),
    Step("ordinary", 0.44, "waits for a gap at most"),
    Step("bold", 6.0, "comes to the food whoever is there"),
)
GUARDS = _scale(
    "guards",
    "fish of a couple that drive others off while eggs or young are guarded",
    Step("no", 0, "scatters or hides its eggs, or carries them without holding a place"),
    Step("pair", 2, "both parents guard"),
    Step("male", 1, "the male guards, as bubble nesters do"),
    Step("female", 1, "the female guards, as many cave spawners do"),
)
TERRITORY = _scale(
    "territory",
    "floor that it holds, over that of an ordinary floor-holder of its length",
    Step("none", 0.0, "holds no place"),
    Step("site", 0.25, "a cave, a shell or a leaf and what lies before it"),
    Step("ground", 1.0, "a patch of the floor"),
    Step("whole tank", 2.0, "all that it can see"),
)
EATS_FISH = _scale(
    "eats fish",
    "longest fish it tries to swallow, as a fraction of its own length",
    Step("no", 0.0, "takes fry at most"),
    Step("small", 0.3, "snaps up small fish when it meets them"),
    Step("any that fit", 0.65, "hunts fish; swallows whatever the mouth allows"),
    source="longest prey of perch 0.59 of the predator: Doerner & Wagner 2003, J. Fish Biol. 62; the rest judgement",
)
DIET = _scale(
    "diet",
    "trophic order, 1 (plants) to 4 (fish)",
    Step("algae", 1.0, "grazes algae and biofilm"),
    Step("herbivore", 1.2, "plants, fruit and algae"),
    Step("omnivore", 2.0, "plant and animal food"),
    Step("plankton", 2.5, "small drifting animals"),
    Step("insectivore", 3.0, "insects and small crustaceans"),
    Step("molluscivore", 3.2, "snails and other shelled animals"),
    Step("carnivore", 3.5, "worms, crustaceans, insects, some fish"),
    Step("piscivore", 4.0, "mainly fish"),
)
LEVEL = _scale(
    "level",
    "height in the water where it feeds, mostly first, 0 (bottom) to 1 (surface)",
    Step("surface", 1.0, "takes food from the surface"),
    Step("mid", 0.5, "takes food in open water"),
    Step("bottom", 0.0, "takes food from the bottom"),
)
PACE = _scale(
    "pace",
    "minutes to eat a day's maintenance with food in front of it, for a fish of 10 g",
    Step("still", 15.0, "waits for food to come, one piece at a time"),
    Step("slow", 10.0, "searches by smell or mouths each piece"),
    Step("steady", 2.9, "feeds without hurry"),
    Step("fast", 1.4, "comes at once and eats quickly"),
    Step("frantic", 1.3, "a feeding frenzy: the food is gone in a minute"),
)
ACTIVE = _scale(
    "active",
    "hour of the day at which it feeds best",
    Step("day", 12.0, "feeds with the lights on"),
    Step("dusk", 19.0, "feeds best as the lights go out"),
    Step("night", 24.0, "feeds in the dark; by day only by smell and slowly"),
)
SETTLING = _scale(
    "settling",
    "days in a new tank until it takes its whole ration",
    Step("quick", 2.0, "feeds on the first or second day"),
    Step("ordinary", 6.0, "feeds warily for some days"),
    Step("slow", 18.0, "may eat nothing for a week or more: shy fish, large hunters"),
    source="common practice",
)
IN_TRADE = _scale(
    "in trade",
    "order of how often it is for sale, 0 to 2",
    Step("everyday", 0, "in most shops for most of the year"),
    Step("regular", 1, "in well-stocked shops, or ordered without trouble"),
    Step("seldom", 2, "now and then, from specialists and breeders, or hardly ever"),
    source="common practice",
)
SWIMMING = _scale(
    "swimming",
    "tank length it needs, in adult lengths",
    Step("still", 3.0, "rests most of the time"),
    Step("local", 3.0, "stays around one place"),
    Step("cruiser", 4.0, "roams the whole tank"),
    Step("open-water", 6.0, "swims up and down without rest"),
    source="3: Swiss Animal Protection Ordinance SR 455.1, Annex 2, Table 8 (legal floor); 4 to 6: common practice",
)
SALINITY = _scale(
    "salinity",
    "highest salt content it keeps well in, g/L",
    Step("fresh", 1.0, "fresh water only"),
    Step("fresh-brackish", 5.0, "fresh water, stands some salt"),
    Step("fresh or brackish", 15.0, "at home in fresh and in brackish water alike"),
    Step("brackish", 15.0, "needs salt when grown"),
)
HARDINESS = _scale(
    "hardiness",
    "what it stands of ammonia, nitrite and nitrate, in parts of the limits for sensitive animals",
    Step("delicate", 1.0, "fails first when the water slips"),
    Step("ordinary", 1.5, "stands a missed water change"),
    Step("hardy", 2.5, "stands what kills others"),
)
CURRENT = _scale(
    "current",
    "order of the current that it wants, 0 to 2",
    Step("still", 0, "ponds, weed beds, backwaters"),
    Step("moderate", 1, "a filter's ordinary flow"),
    Step("strong", 2, "streams and rapids"),
)
JUMPS = _scale(
    "jumps",
    "chance that one fish leaves an open tank in a month in which nothing frightens it",
    Step("rarely", 0.00001, "hardly ever leaves the water"),
    Step("when startled", 0.00015, "leaps when it is chased, new or frightened"),
    Step("habitually", 0.02, "leaps or climbs out sooner or later"),
)
FEATURES = _scale(
    "features",
    "1 where the feature is present",
    Step("barbels", 1, "exposed whiskers"),
    Step("long-fins", 1, "trailing or flowing fins"),
    Step("slow-swimmer", 1, "cannot get out of the way quickly"),
    Step("scaleless", 1, "bare or finely scaled skin, easily wounded and sensitive to medicines"),
    Step("locking-spines", 1, "fin spines that lock upright"),
    Step("armoured", 1, "bony plates or hard scales"),
    Step("venomous-spine", 1, "a spine that injects venom"),
    Step("electric", 1, "gives off electricity, weak or strong"),
    Step("strong-bite", 1, "jaws that take pieces out of other fish or a finger"),
    Step("cheek-spines", 1, "a spine under the eye that it flicks out, as loaches do"),
    Step("air-breather", 1, "must reach the surface for air"),
    Step("sand-sifter", 1, "needs sand to dig or sift"),
    Step("plant-eater", 1, "eats plants"),
    Step("digger", 1, "digs the bottom over and uproots plants"),
    Step("high-oxygen", 1, "needs fast, oxygen-rich water"),
    Step("protruding-eyes", 1, "eyes that stand out and are easily hurt"),
    Step("scale-eater", 1, "bites scales or mucus off other fish"),
)
SCALES = tuple(each for each in [*globals().values()] if isinstance(each, Scale))
"""All of them, in this order."""

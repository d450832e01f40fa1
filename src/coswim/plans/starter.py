"""Commented plans to start from; each screens as it is."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

OPENING = """\
# A coswim plan: one tank, the fish in it, and what might be added. Invented; put your own in.
# Screen it with: coswim screen THIS-FILE
"""
WATER = """\
  ph: {ph}                         # leave out what you have not tested; coswim then says what it cannot judge
  hardness: 8 dGH                 # or 140 ppm
  # salinity: fresh               # fresh | fresh-brackish | brackish
  lid: yes
  hiding_places: {hiding}                # caves, roots, dense plants
  # furnishing: soft plants       # bare | soft plants | hard roots and rocks
  # current: moderate             # still | moderate | strong
  water_change: {{share: 30 %, every: 7 days}}   # more: drip: 10 L/day, nitrate_in: 5 mg/L
  filter: mature                  # new | young | mature

feeding:
  meals: 2 a day
  food: mixed                     # mixed, or of: flakes, floating pellet, sinking pellet, frozen, live, soft, greens
  # amount: as needed             # as needed | 6 g a day | 2 % of their weight a day
  places: 1                       # feeding places far apart
  at: day                         # day | dusk | night

residents:                        # the fish that live there; what coswim protects first
"""
KNOWN = """\
    # this_fish: {mouth: 12 mm, pace: slow}       # what you know of it; it stands for its species' value
    # lived_with: [{species: cherry barb, count: 6, length: 4 cm, time: 8 months, outcome: fine}]
    # private: {note: never leaves your machine in a report}

proposals:                        # what might be added; each is screened on its own
"""
SMALL = f"""{OPENING}title: my small tank

tank:
  size: 60 x 30 x 36 cm           # inside length x width x height; also in: 24 x 12 x 14 in
  temperature: 25 C               # or 77 F; a range such as 23-26 C when it moves with the seasons
{WATER.format(ph="7.0", hiding=5)}\
  - species: Siamese fighting fish   # a common or scientific name: coswim profile list
    count: 1
    length: 5.5 cm                # total length now, snout to tail tip; leave out for the usual size in the trade
{KNOWN}\
  - name: ember tetras
    add:
      - {{species: ember tetra, count: 10, length: 2 cm}}
  - name: dwarf corydoras
    # moves_in: last              # who lives there when the others arrive: last | together | first
    add:
      - {{species: pygmy corydoras, count: 8}}

horizon: 24 months                # how far to look ahead
"""
COMMUNITY = f"""{OPENING}title: my tank

tank:
  size: 120 x 50 x 50 cm          # inside length x width x height; also in: 48 x 20 x 20 in
  temperature: 25 C               # or 77 F; a range such as 23-26 C when it moves with the seasons
{WATER.format(ph="7.0", hiding=4)}\
  - species: pearl gourami        # a common or scientific name: coswim profile list
    count: 2
    length: 9 cm                  # total length now, snout to tail tip; leave out for the usual size in the trade
{KNOWN}\
  - name: a shoal of harlequins
    add:
      - {{species: harlequin rasbora, count: 10, length: 3 cm}}
  - name: a loach and some barbs
    # moves_in: last              # who lives there when the others arrive: last | together | first
    add:
      - {{species: clown loach, count: 1, length: 7 cm}}
      - {{species: tiger barb, count: 6, length: 4 cm}}

horizon: 24 months                # how far to look ahead
"""
SINGLE = f"""{OPENING}title: my big fish

tank:
  size: 180 x 60 x 60 cm          # inside length x width x height; also in: 72 x 24 x 24 in
  temperature: 26 C               # or 79 F; a range such as 24-27 C when it moves with the seasons
{WATER.format(ph="7.0", hiding=3)}\
  - species: oscar                # a common or scientific name: coswim profile list
    count: 1
    length: 25 cm                 # total length now, snout to tail tip; leave out for the usual size in the trade
{KNOWN}\
  - name: silver dollars
    add:
      - {{species: silver dollar, count: 6, length: 10 cm}}
  - name: one pleco
    # moves_in: last              # who lives there when the others arrive: last | together | first
    add:
      - {{species: sailfin pleco, count: 1, length: 18 cm}}

horizon: 36 months                # how far to look ahead
"""
STARTERS: Mapping[str, str] = MappingProxyType({"community": COMMUNITY, "small": SMALL, "single": SINGLE})
"""By name: a usual community, a small tank, a single large fish."""

"""A commented plan to start from; it screens as it is."""

STARTER = """\
# A coswim plan: one tank, the fish in it, and what might be added. Invented; put your own in.
# Screen it with: coswim screen THIS-FILE
title: my tank

tank:
  size: 120 x 50 x 50 cm          # inside length x width x height; also in: 48 x 20 x 20 in
  temperature: 25 C               # or 77 F; a range such as 23-26 C when it moves with the seasons
  ph: 7.0                         # leave out what you have not tested; coswim then says what it cannot rate
  hardness: 8 dGH                 # or 140 ppm
  # salinity: fresh               # fresh | fresh-brackish | brackish
  lid: yes
  hiding_places: 4                # caves, roots, dense plants
  water_change: {share: 30 %, every: 7 days}   # more: drip: 10 L/day, nitrate_in: 5 mg/L
  filter: mature                  # new | young | mature

feeding:
  meals: 2 a day
  food: mixed                     # mixed | floating pellet | sinking pellet | frozen | live | soft
  places: 1                       # feeding places far apart
  at: day                         # day | dusk | night

residents:                        # the fish that live there; what coswim protects first
  - species: pearl gourami        # a common or scientific name: coswim profile list
    count: 2
    length: 9 cm                  # total length now, snout to tail tip
    # this_fish: {mouth: 12 mm, pace: slow}       # what you know of it; it stands for its species' value
    # lived_with: [{species: cherry barb, count: 6, length: 4 cm, time: 8 months, outcome: fine}]
    # private: {note: never leaves your machine in a report}

proposals:                        # what might be added; each is screened on its own
  - name: a shoal of harlequins
    add:
      - {species: harlequin rasbora, count: 10, length: 3 cm}
  - name: a loach and some barbs
    add:
      - {species: clown loach, count: 1, length: 7 cm}
      - {species: tiger barb, count: 6, length: 4 cm}

horizon: 24 months                # how far to look ahead
"""

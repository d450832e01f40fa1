"""The colours of the page, light and dark.

The look is ink on paper with one accent. No colour means good or bad, and none carries meaning alone:
curves differ by dash and by marker, levels are words.
"""

from __future__ import annotations

from dataclasses import dataclass

BAND_OPACITY = 0.18
"""How much of a curve's colour its band shows. Source: judgement."""


@dataclass(frozen=True)
class Palette:
    """The colours of one scheme, each `#rrggbb`.

    Text in `ink`, `quiet` or `accent` stands on `paper` or `panel`; `rule` only divides; `series` are the
    colours of curves, bars and bands.
    """

    paper: str
    panel: str
    ink: str
    quiet: str
    accent: str
    rule: str
    series: tuple[str, ...]


LIGHT = Palette(
    paper="#fcfaf5",
    panel="#f3efe5",
    ink="#20262a",
    quiet="#565d5c",
    accent="#0b5460",
    rule="#cfc8b8",
    series=("#0b5c86", "#974a12", "#5d4a8c", "#4c5c2c"),
)
DARK = Palette(
    paper="#15191b",
    panel="#1e2527",
    ink="#e9e6dd",
    quiet="#aab2af",
    accent="#93d0d4",
    rule="#414b4d",
    series=("#82c4ea", "#eda96c", "#c3b3ef", "#bccb8e"),
)

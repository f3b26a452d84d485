"""Two metals that touch in the wet: which one is eaten, and how far apart they stand.

The figures are rounded potentials against a gold cell in sea water, as anodic index tables in
design handbooks print them, and the 0.15 V for a wet place too: **from memory, no source
checked**. They rank a pair; the approved data and its sealant decide.
"""

from __future__ import annotations

from typing import NamedTuple

# V; the more negative one is eaten.
METALS = {
    "magnesium alloy": -1.75,
    "zinc": -1.25,
    "aluminium alloy": -0.90,
    "cadmium plate": -0.80,
    "plain steel": -0.85,
    "lead": -0.70,
    "tin": -0.65,
    "stainless steel": -0.50,
    "brass or bronze": -0.40,
    "copper": -0.35,
    "titanium": -0.30,
    "carbon fibre": 0.00,
}
WET = 0.15
SOURCE = "from memory"


class Pair(NamedTuple):
    """Two metals in contact."""

    eaten: str
    other: str
    apart: float

    @property
    def is_warned_of(self) -> bool:
        """Whether they stand further apart than is common in a wet place."""
        return self.apart > WET


def pair_of(one: str, other: str) -> Pair | None:
    """Compare two metals; None where one is not in the table."""
    if one not in METALS or other not in METALS:
        return None
    eaten, rest = sorted((one, other), key=METALS.__getitem__)
    return Pair(eaten, rest, round(METALS[rest] - METALS[eaten], 2))

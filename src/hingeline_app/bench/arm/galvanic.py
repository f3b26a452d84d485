"""Two metals that touch in the wet: which one is eaten, and how far apart they stand.

The figures are the anodic index (potential against gold, V) as design handbooks print it: from
memory, and the same as in a table on a private page (vk6ysf.com/galvanic_table.htm); titanium and
carbon fibre are from memory alone. The standard on the matter, MIL-STD-889, was not read. They say
which of two is eaten and rank a pair; no distance is small enough to leave the barrier out.
"""

from __future__ import annotations

from typing import NamedTuple

# V; the more negative one is eaten.
METALS = {
    "magnesium alloy": -1.75,
    "zinc": -1.25,
    "cadmium plate": -0.95,
    "aluminium alloy": -0.90,
    "plain steel": -0.85,
    "aluminium alloy, 2000 series": -0.75,
    "lead": -0.70,
    "tin": -0.65,
    "stainless steel": -0.50,
    "brass or bronze": -0.40,
    "copper": -0.35,
    "titanium": -0.30,
    "carbon fibre": 0.00,
}
SOURCE = "handbook tables"


class Pair(NamedTuple):
    """Two metals in contact."""

    eaten: str
    other: str
    apart: float


def pair_of(one: str, other: str) -> Pair | None:
    """Compare two metals; None where they are the same, or one is not in the table."""
    if one == other or one not in METALS or other not in METALS:
        return None
    eaten, rest = sorted((one, other), key=METALS.__getitem__)
    return Pair(eaten, rest, round(METALS[rest] - METALS[eaten], 2))

"""Which part of a sentence is data that no language changes: numbers, units, signs, codes."""

from __future__ import annotations

import re

# Units and signs as results write them. "in" is left out: it is a word of English more often than a length.
_WRITTEN = (
    "N·m mN·m N·cm N·mm daN·m lbf·in lbf·ft lb·in in·lb kg·m² kg/m³ kg/m² g/m² kg/m m/s² m/s rad/s N/m N·m/rad "
    "N·m·s/rad 1/s /s fps px mrad rad deg MPa GPa kPa Pa MHz kHz Hz mm² cm² mm³ cm³ mm cm km ml kn mN kN kg lbf lb "
    "dB oz ft ms µm min m² m³ m g N s h K V °C l k U x n p EAS TAS CAS IAS r/min kg/m^3 m^2 m^3 m/rad ¼ ½ ¾ "
    "rad/s² rad/s^2 rad/(N in-lb lb-in in-lbf lbf-in ft-lb lb-ft ft-lbf lbf-ft oz-in in-oz ozf-in in-ozf daN kgf kp gf "
    "ozf mg"
)
UNITS = frozenset(_WRITTEN.split())
SENSES = ("tail-heavy", "nose-heavy", "balanced")
# A number with what is written close to it, or the code of a part: no word of three small letters.
_CODE = re.compile(r"(?=.*[0-9])(?!.*[a-z]{3}).+")
_WORDS = re.compile(r"[^\W\d_]")
AROUND = "(),;:.\"'"


def is_data(text: str) -> bool:
    """Tell whether a text holds nothing that a language would say otherwise."""
    return all(_is_datum(word.strip(AROUND)) for word in text.split())


def _is_datum(word: str) -> bool:
    return word in UNITS or word in SENSES or not _WORDS.search(word) or _CODE.fullmatch(word) is not None

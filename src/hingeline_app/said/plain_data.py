"""Which part of a sentence is data that no language changes: numbers, units, signs, codes."""

from __future__ import annotations

import re

# Units and signs as results write them; longer ones first so that none is cut in two.
UNITS = (
    "N·m", "mN·m", "N·cm", "N·mm", "N m", "daN·m", "lbf·in", "lbf in", "lbf·ft", "lb·in", "in·lb", "kg·m²", "kg m²",
    "kg/m³", "kg/m²", "g/m²", "kg/m", "m/s²", "m/s", "rad/s", "N/m", "N·m/rad", "N·m·s/rad", "1/s", "/s", "fps", "px",
    "mrad", "rad", "deg", "MPa", "GPa", "kPa", "Pa", "MHz", "kHz", "Hz", "mm²", "cm²", "mm³", "cm³", "mm", "cm", "km",
    "ml", "kn", "mN", "kN", "kg", "lbf", "lb", "oz", "ft", "in", "ms", "µm", "min", "m²", "m³", "m", "g", "N", "s",
    "h", "K", "V", "°C", "l", "k", "U", "x", "n", "p", "±", "EAS", "TAS", "CAS", "IAS", "r/min", "sqrt",
)  # fmt: skip
SENSES = ("tail-heavy", "nose-heavy", "balanced")
_GAP = "[ \u00a0\u202f]"
_NUMBER = r"[+−-]?[0-9][0-9.,:/\u202f²³^×eE+-]*%?"
_SIGNS = "[-−+±×·…<>=≈≤≥%°/()'\"*|◂▸–—√]+"
_CODE = r"[A-Z]*[0-9][A-Za-z0-9./-]*"
_UNIT = "|".join(re.escape(each) for each in sorted(UNITS, key=len, reverse=True))
_TOKEN = rf"\(?(?:{_NUMBER}|{_CODE}|(?:{_UNIT})(?![A-Za-z])|{'|'.join(SENSES)}|{_SIGNS})[,;)]*"
DATA = rf"{_TOKEN}(?:{_GAP}?{_TOKEN})*?"
_WHOLE = re.compile(rf"{_TOKEN}(?:{_GAP}?{_TOKEN})*")


def is_data(text: str) -> bool:
    """Tell whether a text holds nothing that a language would say otherwise."""
    return not text.strip() or _WHOLE.fullmatch(text.strip()) is not None

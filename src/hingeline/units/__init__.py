"""Text to SI and back: the only place that knows units.

Files
-----
grammar    what a number may look like
faults     what is wrong with one that was refused
catalogue  the units, from table.toml
typed      an SI value that remembers how it was typed
reading    text to SI
writing    SI to text, and the word for a moment's sense
"""

from __future__ import annotations

from hingeline.units.catalogue import STANDARD_GRAVITY, units_of
from hingeline.units.grammar import number_text
from hingeline.units.reading import read
from hingeline.units.typed import Typed
from hingeline.units.writing import express, sense_word, write

__all__ = [
    "STANDARD_GRAVITY",
    "Typed",
    "express",
    "number_text",
    "read",
    "sense_word",
    "units_of",
    "write",
]

"""What stays on one line wherever it is read: a ± with its number, a number with its unit, ``k = 2``.

The wording of numbers joins a value to its unit already; sentences of results, of catalogues and of kept records have
plain spaces, which can be typed and searched. The space that holds is put in where a page shows them. A line may still
break before a ±, so that a narrow column has a place to break at.
"""

from __future__ import annotations

import re

NO_BREAK_SPACE = "\u00a0"
_UNITS = r"N·m|N m|N|kg m²|kg cm|kg|g|mm|cm|m/s²|m/s|m|kn|km/h|Hz|rad|MPa|ml|MB|Mo|h|min|s|%|°|deg|in-lb|lb"
UNIT = rf"(?:{_UNITS})(?![\w·/²])"
HELD = re.compile(rf"(?<=±) (?=\d)|(?<=\bk) (?== \d)|(?<=\bk =) (?=\d)|(?<=\d) (?={UNIT})")


def unbroken(text: str) -> str:
    """Give a text with the spaces that hold."""
    return HELD.sub(NO_BREAK_SPACE, text)

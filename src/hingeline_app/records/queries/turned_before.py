"""Which rows of limits may have been turned: typed before a word for the sense beside a number was refused.

Such a word put a minus before the number ("3 in-lb nose-heavy" was kept as -3 in-lb), and in a row whose plus is
nose-heavy it was turned once more. What was kept cannot be told from a printed minus, so no row is turned by a
program: it is said, until a person who did not type it first has compared it with its document.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from hingeline_app.records.models import RowReading

# A part of every phrase that says nose-heavy, and of none that says tail-heavy; a test compares it with the phrases.
_NOSE = re.compile(
    r"nose|leading|over.?balanc|\bl\.? ?e\.?[ -](?:heavy|down)|kopflastig|buglastig|nase|vorder|avant|attaque"
)


def may_be_turned(first: RowReading | None, second: RowReading | None, *, differ: bool) -> bool:
    """Whether the numbers of a nose-heavy row may stand on the wrong side, from the readings that count.

    One that was typed since, and says the same as the other, ends the doubt: it could not have been turned.
    """
    counting = [each for each in (first, second) if each is not None]
    if not any(_could_be(each.printed) for each in counting):
        return False
    return differ or not any(each.numbers_are_bare for each in counting)


def says_nose_heavy(words: str) -> bool:
    """Whether the words over a column say nose-heavy, or may: rather one word too many is asked."""
    return bool(_NOSE.search(words.lower()))


def _could_be(printed: Mapping[str, Any]) -> bool:
    return says_nose_heavy(str(printed.get("positive") or "")) and any(_moments(printed))


def _moments(printed: Mapping[str, Any]) -> Iterator[Any]:
    for name in ("moment", "second_unit"):
        yield from printed.get(name) or ()
    for band in printed.get("bands") or ():
        yield from band.get("moment") or ()

"""What a form may set by naming its place, and what may stand there.

A page names the place of a detail in a field of its form, which comes over the wire like any other. A row of a step,
which says who entered it, and the state of a step, which asks what is lacking, have kinds of their own: no place of
theirs is here. What a page knows a word for is one of its words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from hingeline.errors import InputRefused
from hingeline_app.bench.arm.arm_estimate import ASKED, OF_A_CRACK
from hingeline_app.bench.arm.galvanic import METALS
from hingeline_app.bench.arriving.as_fitted import ITEMS, STATES
from hingeline_app.bench.steps import DONE
from hingeline_app.records.legible import remark

TICKS = frozenset({"arrive.drains", "arrive.dry", "arrive.no_loose_matter"})
CHOSEN: Mapping[str, Iterable[str]] = {
    "arrive.state": (DONE,),
    **{f"arrive.fitted.{item}": STATES for item in ITEMS},
    "arm.pair.metal": METALS,
    "arm.pair.other_metal": METALS,
}
TYPED: Mapping[str, int] = {
    "arrive.remarks": 1900,
    "limits.version": 120,
    "limits.option": 120,
    **{f"arm.model.{each.name}": 120 for each in (*ASKED, *OF_A_CRACK)},
}
OF_A_SET_UP = re.compile(
    r"surface\.(mass|vertical_offset)|support\.[0-9]{1,2}\.(arm|side|pushes|tare)|hung\.[0-9]{1,2}\.(mass|arm|side)"
)


def refuse_no_tick(place: str) -> None:
    """Refuse a place that has no tick."""
    if place not in TICKS:
        raise _no_place(place)


def refuse_no_detail(place: str, value: str) -> None:
    """Refuse a place that no page sets by itself, a choice that it does not offer, or a text that cannot be read.

    Raises
    ------
    InputRefused
        With what may stand there.
    """
    if place in CHOSEN:
        _refuse_no_choice(place, value, tuple(CHOSEN[place]))
    elif place in TYPED:
        _refuse_long(place, remark(place, value), TYPED[place])
    else:
        raise _no_place(place)


def refuse_no_set_up(place: str) -> None:
    """Refuse what is no value of a set-up that is typed by itself."""
    if not OF_A_SET_UP.fullmatch(place):
        raise _no_place(place)


def _refuse_no_choice(place: str, value: str, choices: tuple[str, ...]) -> None:
    if value and value not in choices:
        raise InputRefused.of(place, value[:60], " or ".join(choices), "Choose one of them.")


def _refuse_long(place: str, text: str, longest: int) -> None:
    if len(text) > longest:
        raise InputRefused.of(place, f"{len(text)} characters", f"at most {longest}", "Shorten it.")


def _no_place(place: str) -> InputRefused:
    return InputRefused.of("place", place[:60], "a place of this page's form", "Load the page again.")

"""In which order the surfaces of one visit are worked: a tab before its surface, joined halves one after the other.

A tab is weighed first because its surface is weighed with the tab fitted as the document asks; joined halves are
balanced as one, so that one half's correction is not undone by the other's. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

from hingeline_app.bench.arriving.surface_kinds import AILERON, ELEVATOR, FLAP, LEFT, MIDDLE, RUDDER, TAB, TAIL, kind_of

Thing = TypeVar("Thing")
TURN = (AILERON, FLAP, ELEVATOR, TAIL, RUDDER)


def in_order_of_work(things: Iterable[tuple[str, Thing]]) -> list[Thing]:
    """Sort things by the name of the surface that each belongs to; what has no known kind comes last, as it was."""
    named = list(things)
    return [thing for _key, _place, thing in sorted(_keyed(named), key=lambda each: each[:2])]


def advice(names: Sequence[str]) -> list[str]:
    """Say what the order is for: which of the rules these surfaces ask for, by name."""
    kinds = [kind for name in names if (kind := kind_of(name))]
    tabs = [kind for kind in kinds if kind.kind == TAB]
    carriers = {kind.kind for kind in kinds if kind.kind != TAB}
    said = []
    if any(tab.carrier in carriers or (not tab.carrier and carriers) for tab in tabs):
        said.append("tab first")
    if len([kind for kind in kinds if kind.kind == ELEVATOR]) > 1:
        said.append("halves together")
    return said


def _keyed(named: list[tuple[str, Thing]]) -> list[tuple[tuple[int, int, int], int, Thing]]:
    return [(_key(name), place, thing) for place, (name, thing) in enumerate(named)]


def _key(name: str) -> tuple[int, int, int]:
    kind = kind_of(name)
    if kind is None:
        return len(TURN), 0, 0
    of = kind.carrier or (ELEVATOR if kind.kind == TAB else kind.kind)
    side = {LEFT: 0, MIDDLE: 1}.get(kind.side, 2)
    return TURN.index(of) if of in TURN else len(TURN), 0 if kind.kind == TAB else 1, side

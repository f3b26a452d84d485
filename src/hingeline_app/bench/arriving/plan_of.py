"""The surfaces of an aircraft as places in its picture, each with the number of its row in the list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hingeline_app.bench.arriving.surface_kinds import ELEVATOR, TAB, kind_of
from hingeline_app.figures.hangar.aeroplane_plan import PlanPlace, has_place


def place_of(name: str, number: int, *, chosen: bool = False, address: str = "", key: str = "") -> PlanPlace | None:
    """Give the place of a surface in the picture; None where its name says no kind that the picture has."""
    kind = kind_of(name)
    if kind is None:
        return None
    drawn = f"{kind.carrier or ELEVATOR} {TAB}" if kind.kind == TAB else kind.kind
    if not has_place(drawn, kind.side):
        return None
    return PlanPlace(drawn, kind.side, number, name, chosen, address, key)


def places_of(
    names: Sequence[str], chosen: frozenset[str] = frozenset(), addresses: Mapping[str, str] | None = None
) -> tuple[PlanPlace, ...]:
    """Give the places of several surfaces, numbered as they are listed."""
    found = (
        place_of(name, number, chosen=name in chosen, address=(addresses or {}).get(name, ""))
        for number, name in enumerate(names, 1)
    )
    return tuple(each for each in found if each is not None)

"""What can carry a label: surfaces, scales and stands, each by an identifier that says nothing."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from hingeline_app.records.models import Person, Scale, Stand, Surface
from hingeline_app.records.queries.visible import visible_to

SURFACE, SCALE, STAND = "surface", "scale", "stand"
KINDS = (SURFACE, SCALE, STAND)


@dataclass(frozen=True)
class Labelled:
    """Something that can carry a label."""

    kind: str
    identifier: UUID
    name: str
    belongs_to: str
    # Hinge line to trailing edge of a surface, as typed.
    depth: str = ""

    @property
    def short(self) -> str:
        """Give the first signs of the identifier, to be read aloud."""
        signs = self.identifier.hex.upper()
        return f"{signs[:4]}-{signs[4:8]}"


def labelled(viewer: Person) -> list[Labelled]:
    """Give what a person may label: surfaces by aircraft, scales and stands in use; three queries."""
    surfaces = visible_to(viewer, Surface).select_related("aircraft").order_by("aircraft__registration", "name")
    scales = visible_to(viewer, Scale).filter(withdrawn_on=None).order_by("name")
    stands = visible_to(viewer, Stand).filter(withdrawn_on=None).order_by("name")
    return [
        *(Labelled(SURFACE, row.pk, row.name, _aircraft(row), row.hinge_to_trailing_edge) for row in surfaces),
        *(Labelled(SCALE, row.pk, row.name, "") for row in scales),
        *(Labelled(STAND, row.pk, row.name, "") for row in stands),
    ]


def is_equipment(viewer: Person, identifier: UUID) -> bool:
    """Whether an identifier is that of a scale or a stand that this person may see."""
    return any(visible_to(viewer, table).filter(pk=identifier).exists() for table in (Scale, Stand))


def _aircraft(row: Surface) -> str:
    return f"{row.aircraft.type_name} · {row.aircraft.registration}"

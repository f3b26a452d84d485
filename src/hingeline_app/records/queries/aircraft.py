"""Aircraft with their surfaces and the parts fitted to them, as pages show them to one person."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from django.db.models import Count, Prefetch

from hingeline.errors import InputRefused
from hingeline_app.records.legible import mark
from hingeline_app.records.models import (
    Aircraft,
    Attachment,
    Fitting,
    Material,
    PaperRecord,
    Part,
    Person,
    Stand,
    Surface,
)
from hingeline_app.records.queries.visible import Nowhere, found, visible_to


@dataclass(frozen=True)
class SurfaceRecord:
    """A movable surface."""

    identifier: UUID
    name: str
    serial_number: str
    hinge_to_trailing_edge: str
    jobs: int


@dataclass(frozen=True)
class FittingRecord:
    """A stretch of a part's life on an aircraft."""

    part: UUID
    name: str
    part_number: str
    serial_number: str
    aircraft: str
    surface: str
    fitted_on: date
    fitted_at_hours: Decimal | None
    removed_on: date | None
    removed_at_hours: Decimal | None
    removed_because: str

    @property
    def hours_on_it(self) -> Decimal | None:
        """Give the hours flown with it there, where the counter was read at both ends."""
        if self.fitted_at_hours is None or self.removed_at_hours is None:
            return None
        return self.removed_at_hours - self.fitted_at_hours


@dataclass(frozen=True)
class LifeOfPart:
    """Where a part was from its first fitting on, in the order of time; hours on it when it was first fitted here."""

    name: str
    part_number: str
    serial_number: str
    hours_before: Decimal | None
    landings_before: int | None
    stretches: tuple[FittingRecord, ...]


@dataclass(frozen=True)
class PartRecord:
    """A part that is fitted nowhere now."""

    identifier: UUID
    words: str


@dataclass(frozen=True)
class PaperOnPage:
    """What was transcribed from paper."""

    identifier: UUID
    surface: str
    original_date: date
    original_signer: str
    original_licence: str
    says: str
    moment: str
    transcribed_by: str
    photograph: UUID | None


@dataclass(frozen=True)
class AircraftRecord:
    """An aircraft with its surfaces."""

    identifier: UUID
    type_name: str
    registration: str
    serial_number: str
    built_on: date | None
    owner: UUID | None
    owner_name: str
    owner_language: str
    came_from: str
    surfaces: tuple[SurfaceRecord, ...]


def aircraft_on_page(viewer: Person) -> list[AircraftRecord]:
    """Give the aircraft that a person may see, by registration; two queries beside the person's own."""
    return [_aircraft(row) for row in _rows(viewer).order_by("registration")]


def one_aircraft(viewer: Person, aircraft: UUID) -> AircraftRecord:
    """Give one aircraft.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    row = _rows(viewer).filter(pk=aircraft).first()
    if row is None:
        raise Nowhere("there is no such aircraft")
    return _aircraft(row)


def aircraft_by_mark(viewer: Person, registration: str) -> UUID:
    """Find an aircraft by its registration.

    Raises
    ------
    InputRefused
        There is none for this person.
    """
    wanted = mark("registration", registration)
    known = visible_to(viewer, Aircraft).filter(registration=wanted).values_list("pk", flat=True).first()
    if known is None:
        raise InputRefused.of("--aircraft", registration, "an aircraft of this workshop", "Check the registration.")
    return known


def fittings_of(viewer: Person, aircraft: UUID) -> list[FittingRecord]:
    """Give what is fitted to an aircraft and what was, fitted ones first."""
    rows = visible_to(viewer, Fitting).filter(aircraft=aircraft).select_related("part", "surface", "aircraft")
    listed = [_fitting(row) for row in rows.order_by("part__name", "-fitted_on")]
    return sorted(listed, key=lambda each: each.removed_on is not None)


def life_of_part(viewer: Person, part: UUID) -> LifeOfPart:
    """Give the whole life of a part, over all aircraft that this person may see.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    rows = visible_to(viewer, Fitting).filter(part=part).select_related("part", "surface", "aircraft")
    stretches = tuple(_fitting(each) for each in rows.order_by("fitted_on", "pk"))
    # An owner sees no part of the workshop's, but what was fitted to an aircraft of the owner's.
    row = rows[0].part if stretches else found(viewer, Part, part)
    return LifeOfPart(
        row.name,
        row.part_number,
        row.serial_number,
        row.hours_when_new_fitted,
        row.landings_when_new_fitted,
        stretches,
    )


def loose_parts(viewer: Person) -> list[PartRecord]:
    """Give the parts that are fitted nowhere now."""
    rows = visible_to(viewer, Part).exclude(fittings__in=Fitting.objects.filter(removed_on__isnull=True))
    return [PartRecord(row.pk, str(row)) for row in rows.order_by("name", "serial_number")]


def paper_of(viewer: Person, aircraft: UUID) -> list[PaperOnPage]:
    """Give what was transcribed from paper for an aircraft, the latest first."""
    rows = visible_to(viewer, PaperRecord).filter(aircraft=aircraft).select_related("surface", "transcribed_by")
    return [_paper(row) for row in rows.order_by("-original_date", "pk")]


def preview_of(viewer: Person, attachment: UUID) -> str:
    """Give the digest of the copy of an attachment that may be shown.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    digest = visible_to(viewer, Attachment).filter(pk=attachment).values_list("preview_digest", flat=True).first()
    if not digest:
        raise Nowhere("there is no such picture")
    return digest


def stands_on_page(viewer: Person) -> list[Stand]:
    """Give the stands, those in use first."""
    return list(visible_to(viewer, Stand).order_by("withdrawn_on", "name"))


def materials_on_page(viewer: Person) -> list[Material]:
    """Give the batches of material, those not withdrawn first."""
    return list(visible_to(viewer, Material).order_by("withdrawn_because", "name", "batch"))


def _rows(viewer: Person):  # type: ignore[no-untyped-def]
    surfaces = Surface.objects.annotate(many=Count("jobs")).order_by("name")
    return visible_to(viewer, Aircraft).select_related("owner").prefetch_related(Prefetch("surfaces", surfaces))


def _aircraft(row: Aircraft) -> AircraftRecord:
    surfaces = tuple(
        SurfaceRecord(each.pk, each.name, each.serial_number, each.hinge_to_trailing_edge, each.many)  # type: ignore[attr-defined]
        for each in row.surfaces.all()
    )
    return AircraftRecord(
        row.pk,
        row.type_name,
        row.registration,
        row.serial_number,
        row.built_on,
        row.owner_id,
        row.owner.name if row.owner else "",
        row.owner_language,
        row.came_from,
        surfaces,
    )


def _fitting(row: Fitting) -> FittingRecord:
    return FittingRecord(
        row.part_id,
        row.part.name,
        row.part.part_number,
        row.part.serial_number,
        row.aircraft.registration,
        row.surface.name if row.surface else "",
        row.fitted_on,
        row.fitted_at_hours,
        row.removed_on,
        row.removed_at_hours,
        row.removed_because,
    )


def _paper(row: PaperRecord) -> PaperOnPage:
    return PaperOnPage(
        row.pk,
        row.surface.name if row.surface else "",
        row.original_date,
        row.original_signer,
        row.original_licence,
        row.says,
        row.moment,
        row.transcribed_by.name,
        row.photograph_id,
    )

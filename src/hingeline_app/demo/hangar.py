"""What stands in the invented hangar: four Merle T2, their surfaces and weight arms, scales, a stand, materials."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import NamedTuple
from uuid import UUID

from hingeline_app.demo.cast import Workshop
from hingeline_app.records.actions.aircraft import add_aircraft, add_surface
from hingeline_app.records.actions.attaching import transcribe
from hingeline_app.records.actions.counters import read_counter
from hingeline_app.records.actions.equipment import add_material, add_scale, add_stand, check_scale
from hingeline_app.records.actions.parts import add_part, fit_part
from hingeline_app.records.dates import today

TYPE = "Merle T2"
# Registration, serial number, built in, hours and landings a month ago and now.
FLEET = (
    ("T2-03", "0003", 2009, ("3120.4", "3148.9"), (8204, 8281)),
    ("T2-07", "0007", 2011, ("2411.7", "2436.2"), (5120, 5177)),
    ("T2-11", "0011", 2014, ("1690.0", "1702.3"), (4015, 4043)),
    ("T2-15", "0015", 2018, ("846.5", "871.0"), (2210, 2291)),
)
# Name, serial number's ending, hinge line to trailing edge.
SURFACES = (
    ("Elevator, left half", "EL", "270 mm"),
    ("Elevator, right half", "ER", "270 mm"),
    ("Rudder", "R", "410 mm"),
    ("Aileron, left", "AL", "240 mm"),
)
# The moment of one elevator half over the years, as its paper records say: it grows where no paint was put on.
DRIFT = (
    ("2012-05-04", "0.62 N m tail-heavy at delivery", "0.62 N m"),
    ("2015-09-18", "0.71 N m tail-heavy, annual check", "0.71 N m"),
    ("2018-03-02", "Stripped and painted; 1.18 N m tail-heavy after painting", "1.18 N m"),
    ("2020-08-21", "1.33 N m tail-heavy, no work on it since the last weighing", "1.33 N m"),
    ("2023-06-09", "1.52 N m tail-heavy, no work on it since the last weighing", "1.52 N m"),
)
SCALE_UNCERTAINTY = {"calibration": {"expanded": "10 g", "k": 2}}
FINER = {"calibration": {"expanded": "2 g", "k": 2}}
STAND_UNCERTAINTY = {"arm": {"limit": "2 mm"}, "friction": {"limit": "10 g"}, "level": {"limit": "0.5 deg"}}


class Hangar(NamedTuple):
    """What the jobs of the story need: identifiers by name."""

    aircraft: dict[str, UUID]
    surfaces: dict[tuple[str, str], UUID]
    scale: UUID
    expired: UUID
    stand: UUID


def fill_hangar(shop: Workshop) -> Hangar:
    """Enter aircraft, surfaces, arms, counters, scales, the stand and a batch of paint."""
    aircraft: dict[str, UUID] = {}
    surfaces: dict[tuple[str, str], UUID] = {}
    for registration, serial, year, hours, landings in FLEET:
        owner = shop.person("dora") if registration in ("T2-07", "T2-11") else None
        kept = add_aircraft(shop.mara, TYPE, registration, serial, built_on=date(year, 4, 12), owner=owner)
        aircraft[registration] = kept.pk
        for name, ending, depth in SURFACES:
            surface = add_surface(
                shop.mara, kept.pk, name, serial_number=f"{serial}-{ending}", hinge_to_trailing_edge=depth
            )
            surfaces[registration, name] = surface.pk
        _count(shop, kept.pk, hours, landings)
        _fit_arms(shop, registration, kept.pk, surfaces, date(year, 4, 12))
    _transcribe_drift(shop, aircraft["T2-03"], surfaces["T2-03", "Elevator, left half"])
    return Hangar(aircraft, surfaces, *_equipment(shop))


def _count(shop: Workshop, aircraft: UUID, hours: tuple[str, str], landings: tuple[int, int]) -> None:
    day = today(shop.mara.workshop)
    for number, on in enumerate((day - timedelta(days=31), day - timedelta(days=1))):
        read_counter(shop.mara, aircraft, "hours", Decimal(hours[number]), on)
        read_counter(shop.mara, aircraft, "landings", Decimal(landings[number]), on)


def _fit_arms(
    shop: Workshop, registration: str, aircraft: UUID, surfaces: dict[tuple[str, str], UUID], on: date
) -> None:
    for name, ending in (("Elevator, left half", "L"), ("Rudder", "R")):
        serial = f"A{registration[-2:]}{ending}"
        arm = add_part(
            shop.mara, f"Weight arm, {name.split(',')[0].lower()}", serial, part_number="T2-34-110",
            hours_when_new_fitted=Decimal(0),
        )  # fmt: skip
        fit_part(shop.mara, arm.pk, aircraft, on, surface=surfaces[registration, name], at_hours=Decimal(0))


def _equipment(shop: Workshop) -> tuple[UUID, UUID, UUID]:
    day = today(shop.mara.workshop)
    scale = add_scale(
        shop.mara, "HL-3", step="5 g", largest="15 kg", certificate="K 2291", uncertainty=SCALE_UNCERTAINTY,
        certificate_begins=day - timedelta(days=151), certificate_expires=day + timedelta(days=214),
        check_weight="2 kg", check_tolerance="5 g",
    )  # fmt: skip
    check_scale(shop.jon, scale.pk, "2.000 kg")
    expired = add_scale(
        shop.mara, "HL-5", step="1 g", largest="6 kg", certificate="K 1874", uncertainty=FINER,
        certificate_begins=day - timedelta(days=377), certificate_expires=day - timedelta(days=12),
        check_weight="1 kg", check_tolerance="2 g",
    )  # fmt: skip
    stand = add_stand(
        shop.mara, "Knife edge 1", masses=[{"name": "prop", "mass": "86 g"}], uncertainty=STAND_UNCERTAINTY
    )
    add_material(shop.mara, "Primer, epoxy", "B 1140", "FC 20771", day - timedelta(days=90))
    add_material(shop.mara, "Lead shot, 2 mm", "L 07", "FC 20652", day - timedelta(days=400))
    return scale.pk, expired.pk, stand.pk


def _transcribe_drift(shop: Workshop, aircraft: UUID, surface: UUID) -> None:
    for day, says, moment in DRIFT:
        transcribe(
            shop.mara, aircraft, original_date=date.fromisoformat(day), original_signer="P. Orme",
            original_licence="FH.66.003", says=says, moment=moment, surface=surface,
        )  # fmt: skip

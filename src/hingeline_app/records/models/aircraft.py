"""Aircraft and their movable surfaces."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.workshop import Workshop


class Aircraft(KeptRow):
    """An aircraft that the workshop looks after."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="aircraft")
    type_name = models.CharField(max_length=60)
    registration = models.CharField(max_length=60)
    serial_number = models.CharField(max_length=60)
    built_on = models.DateField(null=True, blank=True)
    owner = models.ForeignKey(Person, models.PROTECT, related_name="aircraft", null=True, blank=True)
    # In which language the owner reads the sheet; empty: that of the workshop.
    owner_language = models.CharField(max_length=5, blank=True)
    # Where the record came from, when another workshop kept it before.
    came_from = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["workshop", "type_name", "serial_number"], name="one_aircraft_a_serial")
        ]

    def __str__(self) -> str:
        return self.registration


class Surface(KeptRow):
    """A movable surface of an aircraft."""

    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="surfaces")
    name = models.CharField(max_length=120)
    serial_number = models.CharField(max_length=60, blank=True)
    # As typed, with its unit.
    hinge_to_trailing_edge = models.CharField(max_length=40, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["aircraft", "name"], name="one_surface_a_name"),
        ]

    def __str__(self) -> str:
        return self.name

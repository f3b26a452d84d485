"""Parts that move between aircraft and surfaces and keep their history."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.aircraft import Aircraft, Surface
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.workshop import Workshop


class Part(KeptRow):
    """A part with a number of its own, such as a weight arm."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="parts")
    name = models.CharField(max_length=120)
    part_number = models.CharField(max_length=60, blank=True)
    serial_number = models.CharField(max_length=60)
    hours_when_new_fitted = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    landings_when_new_fitted = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["workshop", "part_number", "serial_number"], name="one_part_a_serial"),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.serial_number}"


class Fitting(KeptRow):
    """A stretch of a part's life on one aircraft; totals of the aircraft at its ends."""

    part = models.ForeignKey(Part, models.PROTECT, related_name="fittings")
    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="fittings")
    surface = models.ForeignKey(Surface, models.PROTECT, related_name="fittings", null=True, blank=True)
    fitted_on = models.DateField()
    fitted_at_hours = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    fitted_at_landings = models.PositiveIntegerField(null=True, blank=True)
    removed_on = models.DateField(null=True, blank=True)
    removed_at_hours = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    removed_at_landings = models.PositiveIntegerField(null=True, blank=True)
    removed_because = models.CharField(max_length=2000, blank=True)

    class Meta:
        ordering: ClassVar = ["part", "fitted_on", "pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["part"], condition=models.Q(removed_on__isnull=True), name="a_part_is_in_one_place"
            ),
        ]

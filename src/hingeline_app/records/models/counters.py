"""Counters of an aircraft: what the meter showed, and when a meter was changed."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.aircraft import Aircraft
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Person


class CounterReading(KeptRow):
    """What a meter showed on a day; withdrawn, never erased."""

    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="counter_readings")
    # hours | landings
    counter = models.CharField(max_length=12)
    read_on = models.DateField()
    # How many meters there were before this one.
    meter = models.PositiveIntegerField(default=0)
    shown = models.DecimalField(max_digits=12, decimal_places=2)
    read_by = models.ForeignKey(Person, models.PROTECT, related_name="counter_readings")
    withdrawn_because = models.CharField(max_length=2000, blank=True)

    class Meta:
        ordering: ClassVar = ["aircraft", "counter", "read_on", "shown", "pk"]


class MeterChange(KeptRow):
    """A meter was changed: the total goes on, total = shown + sum of (old - new)."""

    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="meter_changes")
    counter = models.CharField(max_length=12)
    changed_on = models.DateField()
    old_shown = models.DecimalField(max_digits=12, decimal_places=2)
    new_shown = models.DecimalField(max_digits=12, decimal_places=2)

    class Meta:
        ordering: ClassVar = ["aircraft", "counter", "changed_on", "pk"]

"""What is asked of a task of the approved programme: whose, how often, from when, counted how."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, get_args
from uuid import UUID

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy

from hingeline import due
from hingeline.due.model import CountsFrom
from hingeline.errors import InputRefused
from hingeline_app.files.arm_file import read_arm
from hingeline_app.records.actions.tasks import LONGEST_ARM_FILE, Line
from hingeline_app.records.queries.hangar_choices import Choice
from hingeline_app.records.queries.task_history import TaskInFull
from hingeline_app.web.forms.hangar import NOTHING, CountField
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.people import DAY
from hingeline_app.web.forms.refusals import sentence
from hingeline_app.web.saying import said_later

SOURCES = [
    NOTHING,
    ("directive", gettext_lazy("directive")),
    ("limitation", gettext_lazy("limitation")),
    ("manual", gettext_lazy("manual")),
    ("programme", gettext_lazy("approved programme")),
    ("own", gettext_lazy("our own")),
]
JOINS = [NOTHING, ("first", gettext_lazy("whichever comes first")), ("later", gettext_lazy("whichever comes later"))]
MONTHS = [
    NOTHING,
    ("anniversary", gettext_lazy("to the same day")),
    ("calendar", gettext_lazy("to the end of the month")),
]
# The rules' own words, said in the reader's language when the page is shown.
# "done" by itself is the word of a finished step too, and other languages have two words there.
FROM_DONE = {"done": gettext_lazy("the day it was done")}
RULES = [NOTHING, *((rule, FROM_DONE.get(rule) or said_later(rule)) for rule in get_args(CountsFrom))]


def _whole(label: Any) -> CountField:
    return CountField(label=label, whole=True, required=False)


def _hours(label: Any) -> CountField:
    return CountField(label=label, required=False)


def _day(label: Any) -> forms.DateField:
    return forms.DateField(label=label, required=False, widget=DAY)


class TaskForm(PageForm):
    """A line of the approved programme."""

    owners = forms.MultipleChoiceField(label=gettext_lazy("Whose check it is"), widget=forms.CheckboxSelectMultiple)
    name = forms.CharField(label=gettext_lazy("Name of the task"), max_length=200)
    source = forms.ChoiceField(label=gettext_lazy("Source"), choices=SOURCES, required=False)
    issue = forms.ChoiceField(label=gettext_lazy("Approved document and issue"), required=False)
    reference = forms.CharField(
        label=gettext_lazy("Reference: document, issue, page"), max_length=200, required=False
    )  # fmt: skip
    applies_to = forms.CharField(label=gettext_lazy("Applies to"), max_length=200, required=False)
    does_not_apply = forms.BooleanField(label=gettext_lazy("It does not apply here"), required=False)

    every_hours = _hours(gettext_lazy("Every, hours"))
    every_landings = _whole(gettext_lazy("Every, landings"))
    every_months = _whole(gettext_lazy("Every, months"))
    every_days = _whole(gettext_lazy("Every, days"))
    join = forms.ChoiceField(label=gettext_lazy("Of several limits"), choices=JOINS, required=False)
    months_are = forms.ChoiceField(label=gettext_lazy("Months run"), choices=MONTHS, required=False)
    counts_from = forms.ChoiceField(label=gettext_lazy("The next counts from"), choices=RULES, required=False)

    start_total_hours = _hours(gettext_lazy("First at, total hours"))
    start_total_landings = _whole(gettext_lazy("First at, total landings"))
    start_within_hours = _hours(gettext_lazy("First within, hours"))
    start_within_landings = _whole(gettext_lazy("First within, landings"))
    start_within_months = _whole(gettext_lazy("First within, months"))
    start_within_days = _whole(gettext_lazy("First within, days"))
    start_effective = _day(gettext_lazy("Counted from the effective date"))
    start_hours_at_effective = _hours(gettext_lazy("Total hours on that day"))
    start_not_later_than = _day(gettext_lazy("In any case not later than"))
    start_join = forms.ChoiceField(label=gettext_lazy("Of several first limits"), choices=JOINS, required=False)

    tolerance_hours = _hours(gettext_lazy("Tolerance, hours"))
    tolerance_landings = _whole(gettext_lazy("Tolerance, landings"))
    tolerance_months = _whole(gettext_lazy("Tolerance, months"))
    tolerance_days = _whole(gettext_lazy("Tolerance, days"))
    tolerance_percent = _hours(gettext_lazy("Tolerance, percent of the interval"))
    tolerance_at_most_hours = _hours(gettext_lazy("At most, hours"))
    tolerance_at_most_landings = _whole(gettext_lazy("At most, landings"))
    tolerance_at_most_days = _whole(gettext_lazy("At most, days"))
    allows_tolerance = forms.BooleanField(
        label=gettext_lazy("The text of this directive or limitation itself allows it"), required=False
    )

    before_next_flight = forms.BooleanField(
        label=gettext_lazy("Before the next flight, until it is done"), required=False
    )
    event_date = _day(gettext_lazy("It follows what happened on"))
    event_what = forms.CharField(label=gettext_lazy("What happened"), max_length=200, required=False)
    event_hours = _hours(gettext_lazy("At, total hours"))

    check_points = forms.CharField(
        label=gettext_lazy("Places to look at, one a line"), required=False, max_length=4000, widget=forms.Textarea
    )  # fmt: skip
    arm_file = forms.CharField(
        label=gettext_lazy("Arm file, where it is the weight arm's (its text)"),
        required=False,
        max_length=LONGEST_ARM_FILE,
        widget=forms.Textarea,
    )
    reason = forms.CharField(label=gettext_lazy("Why it is corrected"), max_length=2000, required=False)

    GROUPS = (
        (gettext_lazy("The line of the programme"),
         ("owners", "name", "source", "issue", "reference", "applies_to", "does_not_apply")),
        (gettext_lazy("How often"), ("every_", "join", "months_are", "counts_from")),
        (gettext_lazy("The first time"), ("start_",)),
        (gettext_lazy("Tolerance"), ("tolerance_", "allows_tolerance")),
        (gettext_lazy("Before the next flight"), ("before_next_flight", "event_")),
        (gettext_lazy("Places to look at, and the arm"), ("check_points", "arm_file")),
    )  # fmt: skip

    def __init__(
        self, *arguments: Any, owners: Sequence[Choice] = (), issues: Sequence[Choice] = (), **options: Any
    ) -> None:
        super().__init__(*arguments, **options)
        if owners:
            self.fields["owners"].choices = [(str(each.identifier), each.words) for each in owners]  # type: ignore[attr-defined]
        else:
            del self.fields["owners"]
        self.fields["issue"].choices = [NOTHING, *((str(each.identifier), each.words) for each in issues)]  # type: ignore[attr-defined]
        if owners:
            del self.fields["reason"]

    def groups(self) -> list[tuple[Any, list[forms.BoundField], bool]]:
        """Give the fields in their groups, and whether a group has something in it: an empty one stays folded."""
        found = []
        for title, names in self.GROUPS:
            fields = [self[name] for name in self.fields if name.startswith(names)]
            found.append((title, fields, any(field.errors or _holds(field.value()) for field in fields)))
        return found

    def clean(self) -> dict[str, Any]:
        """Refuse what happened without its day: it would not be kept, and no check would follow from it."""
        said = super().clean() or {}
        told = said.get("event_what") or said.get("event_hours") is not None
        if told and said.get("event_date") is None and "event_date" not in self.errors:
            self.add_error("event_date", gettext_lazy("Enter the day too, or empty what happened and its hours."))
        return said

    def clean_arm_file(self) -> str:
        """Refuse an arm file that does not read."""
        text = str(self.cleaned_data["arm_file"]).replace("\r\n", "\n")
        try:
            if text.strip():
                read_arm(text.encode())
        except InputRefused as refused:
            raise ValidationError([f"{one.field}: {sentence(one)}" for one in refused.refusals]) from None
        return text if text.strip() else ""

    def line(self, ending: due.Ending | None = None) -> Line:
        """Give the line as the records take it."""
        said = self.cleaned_data
        task = due.Task(
            said["name"],
            source=said["source"] or None,
            reference=said["reference"],
            applies_to=said["applies_to"],
            applies=not said["does_not_apply"],
            start=self._record(due.Start, "start_"),
            every=self._record(due.Interval, "every_"),
            months_are=said["months_are"] or None,
            join=said["join"] or None,
            tolerance=self._record(due.Tolerance, "tolerance_"),
            allows_tolerance=said["allows_tolerance"],
            counts_from=said["counts_from"] or None,
            ends_with=ending,
            before_next_flight=said["before_next_flight"],
            event=self._event(),
        )
        issue = UUID(said["issue"]) if said["issue"] else None
        return Line(task, issue, tuple(said["check_points"].splitlines()), said["arm_file"])

    def _record(self, kind: Any, prefix: str) -> Any:
        names = [name for name in self.fields if name.startswith(prefix)]
        given = {name.removeprefix(prefix): self.cleaned_data[name] or _zero(self.cleaned_data[name]) for name in names}
        return kind(**given) if any(value is not None for value in given.values()) else None

    def _event(self) -> due.Happening | None:
        said = self.cleaned_data
        if said["event_date"] is None:
            return None
        return due.Happening(said["event_date"], said["event_what"], said["event_hours"])


def _zero(value: Any) -> Any:
    """Keep a number that is 0; a choice that was not made is none."""
    return value if isinstance(value, int | Decimal) else None


def _holds(value: Any) -> bool:
    return value not in (None, "", [], False)


def written(found: TaskInFull) -> Mapping[str, Any]:
    """Give the fields of a task as its form shows them."""
    task = found.check.task
    given: dict[str, Any] = {
        "name": task.name, "source": task.source, "reference": task.reference, "applies_to": task.applies_to,
        "does_not_apply": not task.applies, "join": task.join, "months_are": task.months_are,
        "counts_from": task.counts_from, "allows_tolerance": task.allows_tolerance,
        "before_next_flight": task.before_next_flight, "issue": str(found.issue_of or ""),
        "check_points": "\n".join(found.check_points), "arm_file": found.arm_file,
    }  # fmt: skip
    parts = {"start": task.start, "every": task.every, "tolerance": task.tolerance, "event": task.event}
    for prefix, record in parts.items():
        if record is not None:
            given |= {f"{prefix}_{name}": _shown(getattr(record, name)) for name in record.__dataclass_fields__}
    return given


def _shown(value: Any) -> Any:
    if isinstance(value, date):
        return value.isoformat()
    return value if value is None else str(value)

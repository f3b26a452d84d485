"""What is asked in the hangar: hours, a meter's change, a task of the programme, that a check was done or put off."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from hingeline_app.records.queries.hangar_choices import Choice
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.people import DAY

COUNT = re.compile(r"[0-9]{1,7}(?:[.,][0-9]{1,2})?")
NOTHING = ("", "–")


class CountField(forms.CharField):
    """What a counter shows: digits, point or comma, two decimals at most; whole where it counts landings."""

    def __init__(self, *, whole: bool = False, **options: Any) -> None:
        keys = "numeric" if whole else "decimal"
        super().__init__(max_length=12, widget=forms.TextInput({"inputmode": keys, "autocomplete": "off"}), **options)
        self.whole = whole

    def clean(self, value: Any) -> Any:
        """Give the number, exactly as typed; None where nothing was."""
        text = str(super().clean(value)).strip().replace("\u00a0", "").replace(" ", "")
        if not text:
            return None
        if not COUNT.fullmatch(text) or (self.whole and not text.isdigit()):
            wanted = _("a whole number") if self.whole else _("a number such as 613.4, two decimals at most")
            raise ValidationError(_('"%(text)s" is refused. Expected %(wanted)s.') % {"text": text, "wanted": wanted})
        return int(text) if self.whole else Decimal(text.replace(",", "."))


class HoursForm(PageForm):
    """What the counters of an aircraft show."""

    shown = CountField(label=gettext_lazy("The hour meter shows [h]"))
    landings = CountField(label=gettext_lazy("Landings, in all on the counter"), whole=True, required=False)
    read_on = forms.DateField(label=gettext_lazy("Read on"), widget=DAY)
    looked_again = forms.BooleanField(
        label=gettext_lazy("I looked again: it is as typed"), required=False, widget=forms.CheckboxInput
    )


class MeterForm(PageForm):
    """A meter was changed."""

    counter = forms.ChoiceField(
        label=gettext_lazy("Counter"),
        choices=[("hours", gettext_lazy("hours")), ("landings", gettext_lazy("landings"))],
    )
    old_shown = CountField(label=gettext_lazy("The old meter showed last"))
    new_shown = CountField(label=gettext_lazy("The new meter shows first"))
    changed_on = forms.DateField(label=gettext_lazy("Changed on"), widget=DAY)


class SignOffForm(PageForm):
    """A check was done."""

    job = forms.ChoiceField(
        label=gettext_lazy("Done in a job that was released here"), required=False,
        help_text=gettext_lazy("Its day is the day of the release. Otherwise name the paper."),
    )  # fmt: skip
    done_on = forms.DateField(label=gettext_lazy("Day of the release on paper"), required=False, widget=DAY)
    paper = forms.CharField(
        label=gettext_lazy("Paper it stands on, with its number"), required=False, max_length=200
    )  # fmt: skip
    signer = forms.CharField(label=gettext_lazy("Who signed it"), required=False, max_length=120)
    hours = CountField(label=gettext_lazy("The hour meter showed then [h]"), required=False)
    landings = CountField(label=gettext_lazy("The landing counter showed then"), whole=True, required=False)
    due_hours = CountField(
        label=gettext_lazy("It was due at, total hours, if the paper says so"), required=False
    )  # fmt: skip
    due_date = forms.DateField(label=gettext_lazy("It was due on, if the paper says so"), required=False, widget=DAY)

    def __init__(self, *arguments: Any, jobs: Sequence[Choice] = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.fields["job"].choices = [NOTHING, *_pairs(jobs)]  # type: ignore[attr-defined]
        # One or the other is needed: none of them may be left out by itself.
        for name in ("job", "done_on", "paper", "signer", "hours"):
            self.fields[name].always = True  # type: ignore[attr-defined]


class PutOffForm(PageForm):
    """An approval lets a check wait."""

    approval = forms.CharField(label=gettext_lazy("Approval, with its number"), max_length=200)
    reason = forms.CharField(label=gettext_lazy("Reason"), max_length=2000)
    until_date = forms.DateField(label=gettext_lazy("May wait until"), required=False, widget=DAY)
    until_hours = CountField(label=gettext_lazy("May wait until, total hours"), required=False)
    until_landings = CountField(label=gettext_lazy("May wait until, landings"), whole=True, required=False)


class EndForm(PageForm):
    """Something ended a task for good."""

    on = forms.DateField(label=gettext_lazy("Ended on"), widget=DAY)
    by = forms.CharField(label=gettext_lazy("By what"), max_length=200, help_text=gettext_lazy(
        "For instance: new arm of issue C fitted, job 412."))  # fmt: skip


class DueFileForm(PageForm):
    """A due file."""

    file = forms.FileField(label=gettext_lazy("Due file (.toml)"), max_length=200)
    word = forms.CharField(
        label=gettext_lazy("Where its history was typed from"),
        max_length=200,
        help_text=gettext_lazy("For instance: logbook 3 of T2-03, pages 40 to 61."),
    )


def _pairs(choices: Sequence[Choice]) -> list[tuple[str, str]]:
    return [(str(each.identifier), each.words) for each in choices]

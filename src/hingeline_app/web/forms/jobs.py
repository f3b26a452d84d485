"""What is asked when a job is opened, or goes on at another surface."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.records.queries.surfaces import OrderChoice, SurfaceChoice
from hingeline_app.web.forms.page_form import PageForm

OTHER, VIBRATION = "other", "vibration"
WHY = {
    "painted": _("Painted"),
    "repaired": _("Repaired"),
    "corrosion": _("Corrosion treated"),
    "weight off": _("Weight or arm off"),
    VIBRATION: _("Vibration reported"),
    OTHER: _("Other"),
}


class NewJobForm(PageForm):
    """Which surfaces, and why they are here."""

    surfaces = forms.MultipleChoiceField(label=_("Surfaces"), widget=forms.CheckboxSelectMultiple)
    why = forms.ChoiceField(label=_("Why it is here"), choices=list(WHY.items()), widget=forms.RadioSelect)
    words = forms.CharField(label=_("In your own words"), max_length=1000, required=False)
    order = forms.ChoiceField(label=_("Work order"), required=False)
    task = forms.UUIDField(widget=forms.HiddenInput, required=False)

    def __init__(
        self, *arguments: Any, surfaces: Sequence[SurfaceChoice], orders: Sequence[OrderChoice], **options: Any
    ):
        super().__init__(*arguments, **options)
        free = [(str(each.identifier), each.name) for each in surfaces if each.open_job is None]
        self.fields["surfaces"].choices = free  # type: ignore[attr-defined]
        joins = [(str(each.identifier), f"{each.number}: {each.title}") for each in orders]
        self.fields["order"].choices = [("", _("new, where there are several")), *joins]  # type: ignore[attr-defined]
        if not joins:
            self.fields["order"].widget = forms.HiddenInput()

    def clean(self) -> dict[str, Any]:
        """Ask for words where the list has none."""
        said = super().clean() or {}
        if said.get("why") == OTHER and not said.get("words"):
            self.add_error("words", _("Say why it is here."))
        return said

    @property
    def why_here(self) -> str:
        """Give why it is here, in words that stay readable."""
        why, said = self.cleaned_data["why"], " ".join(self.cleaned_data["words"].split())
        if why == OTHER:
            return said
        return f"{WHY[why]}: {said}" if said else str(WHY[why])

    @property
    def details(self) -> dict[str, Any]:
        """Give what the jobs begin with."""
        task = self.cleaned_data.get("task")
        return {"why": self.cleaned_data["why"]} | ({"task": str(task)} if task else {})


class ElsewhereForm(PageForm):
    """The right surface."""

    surface = forms.ChoiceField(label=_("The right surface"))
    reason = forms.CharField(label=_("Reason"), max_length=200)

    def __init__(self, *arguments: Any, surfaces: Sequence[tuple[str, str]], **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.fields["surface"].choices = [("", _("choose")), *surfaces]  # type: ignore[attr-defined]


class SwapForm(PageForm):
    """The piece that was fitted in its place."""

    serial_number = forms.CharField(label=_("Serial number of the piece fitted in its place"), max_length=60)
    reason = forms.CharField(label=_("Reason"), max_length=200, help_text=_("For instance: scrapped, corroded."))


class VoidForm(PageForm):
    """Nothing is to be done."""

    reason = forms.CharField(label=_("Reason"), max_length=200, help_text=_(
        "For instance: opened by mistake; scrapped, nothing fitted yet."))  # fmt: skip

"""What is asked of a series: which recordings at which airspeed or weight, and what is known of the surface."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline.units import Typed, read
from hingeline_app.evidence.series import DIMENSIONS, AskedSeries, Member, field_of, member_of
from hingeline_app.records.queries.series import Offered
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.refusals import sentence


class SeriesForm(PageForm):
    """A new series: a recording stands in it where its airspeed or its weight is typed."""

    against = forms.ChoiceField(label=_("What was changed between the recordings"), widget=forms.RadioSelect, choices=[
        ("airspeed", _("the airspeed (equivalent), of knocks")),
        ("weight", _("the weight fitted, on the bench")),
    ], initial="airspeed")  # fmt: skip
    rest = forms.ChoiceField(label=_("Mass, fuel, weight, altitude, support"), widget=forms.RadioSelect, choices=[
        ("not stated", _("not stated")),
        ("the same", _("the same in all, beside what is named above")),
        ("changed", _("something else changed too")),
    ], initial="not stated")  # fmt: skip
    play = forms.ChoiceField(label=_("Free play of the surface"), widget=forms.RadioSelect, choices=[
        ("not stated", _("not stated")),
        ("within its limits", _("measured, within its limits")),
        ("above its limits", _("above its limits")),
    ], initial="not stated")  # fmt: skip
    remark = forms.CharField(label=_("Remark"), max_length=2000, required=False)

    def __init__(self, *arguments: Any, offered: Sequence[Offered] = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.offered = offered
        for name in ("against", "rest", "play", "remark"):
            # They stand beside the form's own element.
            self.fields[name].widget.attrs["form"] = "the-form"
        for each in offered:
            label = _now("Recording %(number)s: airspeed or weight") % {"number": each.number}
            widget = forms.TextInput({"aria-label": label, "autocomplete": "off"})
            self.fields[field_of(each.number)] = forms.CharField(
                label=label, required=False, max_length=40, widget=widget
            )

    @property
    def rows(self) -> list[tuple[Offered, Any]]:
        """Give each recording with its field."""
        return [(each, self[field_of(each.number)]) for each in self.offered]

    @property
    def settings(self) -> list[Any]:
        """Give the fields beside them."""
        return [self[name] for name in ("against", "rest", "play", "remark")]

    def clean(self) -> dict[str, Any]:
        """Read each airspeed or weight; all recordings are of one aircraft."""
        said = super().clean() or {}
        if "against" not in said:
            return said
        chosen = [each for each in self.offered if said.get(field_of(each.number))]
        for each in chosen:
            self._read(field_of(each.number), said)
        if not chosen:
            self.add_error(None, _("No recording was chosen: write an airspeed or a weight beside those that belong."))
        elif len({each.aircraft_identifier for each in chosen}) > 1:
            self.add_error(None, _("They are of several aircraft: a series is of one."))
        said["chosen"] = chosen
        return said

    def _read(self, name: str, said: dict[str, Any]) -> None:
        try:
            quantity = read(said[name], DIMENSIONS[said["against"]], field=name, page=True)
        except InputRefused as refused:
            self.add_error(name, ValidationError([sentence(each) for each in refused.refusals]))
            return
        assert isinstance(quantity, Typed), "the reader gives what was typed"
        said[name] = f"{quantity.number} {quantity.unit}"

    @property
    def members(self) -> list[Member]:
        """Give the recordings that were chosen."""
        return [member_of(each, self.cleaned_data[field_of(each.number)]) for each in self.cleaned_data["chosen"]]

    @property
    def asked(self) -> AskedSeries:
        """Give what is asked."""
        return AskedSeries(**self.said("against", "rest", "play"))

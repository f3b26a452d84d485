"""What is asked about a scale: each ± once, here."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.web.forms.fields import QuantityField
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.people import DAY


class ScaleForm(PageForm):
    """A scale with its certificate."""

    name = forms.CharField(label=_("Name of the scale"), max_length=60)
    step = QuantityField("mass", label=_("Step of the display"), help_text=_("With its unit, for instance 5 g."))
    largest = QuantityField("mass", label=_("Largest mass"))
    certificate = forms.CharField(label=_("Certificate"), max_length=120, required=False)
    certificate_expires = forms.DateField(label=_("Last day on which it holds"), required=False, widget=DAY,
                                          help_text=_("Without it no release rests on this scale."))  # fmt: skip
    expanded = QuantityField("mass", label=_("Expanded uncertainty on the certificate"), required=False)
    coverage_factor = forms.ChoiceField(label=_("Its coverage factor k"), choices=[("2", "2"), ("3", "3"), ("1", "1")])
    check_weight = QuantityField("mass", label=_("Daily check weight"), required=False)
    check_tolerance = QuantityField("mass", label=_("How far it may be off"), required=False)

    def uncertainty(self) -> dict[str, Any]:
        """Give the certificate's uncertainty as a job file states it."""
        expanded = self.cleaned_data["expanded"]
        return (
            {"calibration": {"expanded": expanded, "k": int(self.cleaned_data["coverage_factor"])}} if expanded else {}
        )


class CheckForm(PageForm):
    """A daily check."""

    shown = QuantityField("mass", label=_("What it shows under the check weight"))

"""What is asked about a scale: each ± once, here."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.web.forms.fields import QuantityField
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.people import DAY, reason_field


class CertificateForm(PageForm):
    """A scale's certificate."""

    certificate = forms.CharField(label=_("Certificate"), max_length=120)
    certificate_begins = forms.DateField(label=_("Day from which it counts"), widget=DAY,
                                         help_text=_("The day on which the scale was calibrated."))  # fmt: skip
    certificate_expires = forms.DateField(label=_("Last day on which it holds"), widget=DAY)
    expanded = QuantityField("mass", label=_("Expanded uncertainty on the certificate"), required=False)
    coverage_factor = forms.ChoiceField(label=_("Its coverage factor k"), choices=[("2", "2"), ("3", "3"), ("1", "1")])

    def uncertainty(self) -> dict[str, Any]:
        """Give the certificate's uncertainty as a job file states it."""
        expanded = self.cleaned_data["expanded"]
        return (
            {"calibration": {"expanded": expanded, "k": int(self.cleaned_data["coverage_factor"])}} if expanded else {}
        )


class ScaleForm(CertificateForm):
    """A scale with its certificate, which may not be at hand yet."""

    name = forms.CharField(label=_("Name of the scale"), max_length=60)
    step = QuantityField("mass", label=_("Step of the display"), help_text=_("With its unit, for instance 5 g."))
    largest = QuantityField("mass", label=_("Largest mass"))
    certificate = forms.CharField(label=_("Certificate"), max_length=120, required=False)
    certificate_begins = forms.DateField(label=_("Day from which it counts"), required=False, widget=DAY,
                                         help_text=_("The day on which the scale was calibrated."))  # fmt: skip
    certificate_expires = forms.DateField(label=_("Last day on which it holds"), required=False, widget=DAY,
                                          help_text=_("Without it no release rests on this scale."))  # fmt: skip
    check_weight = QuantityField("mass", label=_("Daily check weight"), required=False)
    check_tolerance = QuantityField("mass", label=_("How far it may be off"), required=False)
    field_order = ("name", "step", "largest", "certificate", "certificate_begins", "certificate_expires", "expanded",
                   "coverage_factor", "check_weight", "check_tolerance")  # fmt: skip


class CorrectedScaleForm(PageForm):
    """A scale's plate and check weight, entered anew."""

    name = forms.CharField(label=_("Name of the scale"), max_length=60)
    step = QuantityField("mass", label=_("Step of the display"), help_text=_("With its unit, for instance 5 g."))
    largest = QuantityField("mass", label=_("Largest mass"))
    check_weight = QuantityField("mass", label=_("Daily check weight"), required=False)
    check_tolerance = QuantityField("mass", label=_("How far it may be off"), required=False)
    reason = reason_field()


class CheckForm(PageForm):
    """A daily check."""

    shown = QuantityField("mass", label=_("What it shows under the check weight"))

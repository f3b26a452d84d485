"""What a new workshop is asked for."""

from __future__ import annotations

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.conf import settings
from django.utils.translation import gettext_lazy as _

from hingeline_app.records.set_up_code import is_set_up_code
from hingeline_app.web.forms.fields import QuantityField
from hingeline_app.web.forms.page_form import PageForm

NEW = {"autocomplete": "new-password"}


def zones() -> list[tuple[str, str]]:
    """Name the zones that clocks know by region and place, UTC first; short names of old are left out."""
    return [(zone, zone) for zone in ["UTC", *sorted(each for each in available_timezones() if "/" in each)]]


SECTIONS = (
    (_("Once, for this folder of records"), ("code",)),
    (_("The workshop"), ("workshop", "authority", "approval_number", "local_gravity", "zone", "language")),
    (_("First administrator"), ("name", "initials", "sign_in_name", "password", "pin", "works_here")),
    (_("Second administrator"), ("second_name", "second_initials", "second_sign_in_name", "second_password")),
    (_("This device"), ("tablet",)),
)


class WorkshopForm(PageForm):
    """The workshop itself."""

    workshop = forms.CharField(label=_("Name of the workshop"), max_length=120)
    authority = forms.CharField(label=_("Authority"), max_length=120, required=False,
                                help_text=_("Who approved it."))  # fmt: skip
    approval_number = forms.CharField(label=_("Approval number"), max_length=60, required=False)
    local_gravity = QuantityField("acceleration", label=_("Local gravity"), initial="9.80665 m/s²", help_text=_(
        "As a scale's certificate or a survey gives it for this place, with its unit."))  # fmt: skip
    zone = forms.ChoiceField(label=_("Zone of the clock"), choices=zones, initial="UTC",
                             widget=forms.Select({"data-own-zone": "yes"}))  # fmt: skip
    language = forms.ChoiceField(label=_("Language"), choices=settings.LANGUAGES, initial="en")


class SetUpForm(WorkshopForm):
    """A new workshop with its first administrator, perhaps a second, and its first tablet."""

    code = forms.CharField(label=_("Set-up code"), max_length=40, help_text=_(
        "As the server printed it when it started."), widget=forms.TextInput({"autocomplete": "off"}))  # fmt: skip
    name = forms.CharField(label=_("First administrator: name"), max_length=120)
    initials = forms.CharField(label=_("Initials"), max_length=6)
    sign_in_name = forms.CharField(label=_("Sign-in name"), max_length=60,
                                   widget=forms.TextInput({"autocomplete": "username"}))  # fmt: skip
    password = forms.CharField(label=_("Password"), widget=forms.PasswordInput(NEW), help_text=_(
        "At least 12 characters; several words make a good one."))  # fmt: skip
    pin = forms.CharField(label=_("PIN for work on a tablet"), required=False, max_length=12,
                          widget=forms.PasswordInput({"inputmode": "numeric", "autocomplete": "off"}),
                          help_text=_("6 to 12 digits."))  # fmt: skip
    works_here = forms.BooleanField(label=_("I work at the bench too: weigh, correct, refit (engineer)"), initial=True,
                                    required=False)  # fmt: skip
    second_name = forms.CharField(label=_("Second administrator: name"), max_length=120, required=False, help_text=_(
        "With two, one can leave, and the certifying role can be given: two administrators agree to it."))  # fmt: skip
    second_initials = forms.CharField(label=_("Their initials"), max_length=6, required=False)
    second_sign_in_name = forms.CharField(label=_("Their sign-in name"), max_length=60, required=False,
                                          widget=forms.TextInput({"autocomplete": "off"}))  # fmt: skip
    second_password = forms.CharField(label=_("Their first password"), required=False,
                                      widget=forms.PasswordInput(NEW))  # fmt: skip
    tablet = forms.CharField(label=_("Name of this tablet"), max_length=60, required=False, help_text=_(
        "Enrols the device you hold: people sign in with a PIN here. Leave it out on an office machine."))  # fmt: skip

    def sections(self) -> list[tuple[Any, list[Any]]]:
        """Give the fields as the page groups them."""
        return [(caption, [self[name] for name in names]) for caption, names in SECTIONS]

    def clean_code(self) -> str:
        """Compare the code."""
        code = str(self.cleaned_data["code"])
        if not is_set_up_code(code):
            raise forms.ValidationError(_("This is not the code that the server printed."))
        return code

    def clean(self) -> dict[str, Any]:
        """Refuse half a second administrator."""
        said = super().clean() or {}
        parts = [f"second_{part}" for part in ("name", "initials", "sign_in_name", "password")]
        if any(said.get(part) for part in parts):
            for part in parts:
                if not said.get(part):
                    self.add_error(part, _("Fill in all four of the second administrator, or none."))
        own, other = said.get("sign_in_name", ""), said.get("second_sign_in_name", "")
        if own and own.casefold() == other.casefold():
            self.add_error("second_sign_in_name", _("Both cannot have the same sign-in name."))
        return said

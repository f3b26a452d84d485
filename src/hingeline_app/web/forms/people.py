"""What is asked about people, their ways in and their roles."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.records.roles import ROLES
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.sign_in import pin_field

DAY = forms.DateInput({"type": "date"})
OFF = {"autocomplete": "off"}


def reason_field() -> forms.CharField:
    """Give the field of a reason, which the ledger keeps."""
    return forms.CharField(label=_("Reason"), max_length=200, help_text=_("It stands in the ledger."))


class PersonForm(PageForm):
    """A person, or a guest who inspects by licence number."""

    name = forms.CharField(label=_("Name"), max_length=120)
    initials = forms.CharField(label=_("Initials"), max_length=6)
    licence_number = forms.CharField(label=_("Licence or authorisation number"), max_length=60, required=False,
                                     help_text=_("Signatures need one. A person is entered once."))  # fmt: skip
    licence_expires = forms.DateField(label=_("Licence no longer holds from"), required=False, widget=DAY)


class NewPersonForm(PersonForm):
    """A person who comes."""

    is_guest = forms.BooleanField(label=_("Guest: inspects by licence number, has no account"), required=False)
    although_alike = forms.BooleanField(label=_("The name looks like another's, but these are two people"),
                                        required=False)  # fmt: skip


class CorrectedPersonForm(PersonForm):
    """A person's details, entered anew."""

    reason = reason_field()


class AccountForm(PageForm):
    """A way to sign in."""

    sign_in_name = forms.CharField(label=_("Sign-in name"), max_length=60, widget=forms.TextInput(OFF))
    password = forms.CharField(label=_("First password"), max_length=400, widget=forms.PasswordInput(
        {"autocomplete": "new-password"}), help_text=_("At least 12 characters. The person changes it."))  # fmt: skip


class RightForm(PageForm):
    """A role."""

    role = forms.ChoiceField(label=_("Role"), choices=[(role, role) for role in ROLES], widget=forms.RadioSelect)


class OneTimePinForm(PageForm):
    """A PIN for somebody who forgot theirs: good once, to choose one's own."""

    account = forms.UUIDField(widget=forms.HiddenInput)
    pin = pin_field(
        _("PIN for once"), help_text=_("6 to 12 digits. It opens the door once: the person then chooses their own.")
    )


class OwnPinForm(PageForm):
    """An own PIN."""

    pin = pin_field(_("New PIN"), help_text=_("6 to 12 digits that do not count up, down or stand still."))
    pin_again = pin_field(_("New PIN again"))

    def clean(self) -> dict[str, object]:
        """Both are the same."""
        said = super().clean() or {}
        if said.get("pin") != said.get("pin_again"):
            self.add_error("pin_again", _("The two are not the same."))
        return said


class OwnPasswordForm(PageForm):
    """An own password."""

    new_password = forms.CharField(label=_("New password"), max_length=400, help_text=_(
        "At least 12 characters; several words make a good one."),
        widget=forms.PasswordInput({"autocomplete": "new-password"}))  # fmt: skip
    proof_password = forms.CharField(label=_("Present password"), max_length=400,
                                     widget=forms.PasswordInput({"autocomplete": "current-password"}))  # fmt: skip


class PasskeyForm(PageForm):
    """A new passkey."""

    passkey = forms.CharField(label=_("Name of the device"), max_length=60)
    proof_assertion = forms.CharField(required=False, widget=forms.HiddenInput, max_length=20000)


class ReasonForm(PageForm):
    """Why."""

    reason = reason_field()


class TabletForm(PageForm):
    """A tablet that is enrolled."""

    tablet = forms.CharField(label=_("Name of this device"), max_length=60)

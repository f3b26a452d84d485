"""What a signature asks for: a fresh proof over what was seen, a reason where one is due, a guest's licence."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.web.forms.sign_in import ProofForm


class SignForm(ProofForm):
    """A signature over one job or several; ``seen`` is what the page showed of each."""

    seen = forms.CharField(widget=forms.HiddenInput, max_length=20000)


class ReasonedForm(SignForm):
    """A signature with its reason."""

    reason = forms.CharField(label=_("Reason"), max_length=2000, widget=forms.Textarea({"rows": 3}))
    field_order = ("reason", "proof_password")


class GuestForm(SignForm):
    """A guest's signature: the witness saw the licence, and proves it is the witness's page."""

    witnessed = forms.BooleanField(label=_("I saw this licence, and the guest looked at every item in person."))
    field_order = ("witnessed", "proof_password")

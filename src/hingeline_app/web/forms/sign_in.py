"""What somebody is asked who wants to come in, or to prove again who they are."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.web.forms.page_form import PageForm


def pin_field(label: object = _("PIN"), **options: object) -> forms.CharField:
    """Give the field of a PIN: digits, hidden, a pad of numbers where the system has one."""
    widget = forms.PasswordInput({"inputmode": "numeric", "autocomplete": "off"})
    field = forms.CharField(label=label, max_length=12, widget=widget, **options)  # type: ignore[arg-type]
    field.css = "pin"  # type: ignore[attr-defined]
    return field


class PinForm(PageForm):
    """A PIN."""

    pin = pin_field()


class PasswordForm(PageForm):
    """A name and a password."""

    sign_in_name = forms.CharField(label=_("Sign-in name"), max_length=60,
                                   widget=forms.TextInput({"autocomplete": "username"}))  # fmt: skip
    password = forms.CharField(label=_("Password"), max_length=400,
                               widget=forms.PasswordInput({"autocomplete": "current-password"}))  # fmt: skip


class ProofForm(PageForm):
    """A fresh proof: own password, or the answer of a passkey. Forms of signatures grow from it."""

    proof_password = forms.CharField(label=_("Your password"), max_length=400, required=False,
                                     widget=forms.PasswordInput({"autocomplete": "current-password"}))  # fmt: skip
    proof_password.always = True  # type: ignore[attr-defined]
    proof_assertion = forms.CharField(required=False, widget=forms.HiddenInput, max_length=20000)
    proof_over = forms.CharField(required=False, widget=forms.HiddenInput, max_length=64)

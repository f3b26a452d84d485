"""The form of a wording."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.web.forms.page_form import PageForm


class WordingForm(PageForm):
    """A text with places in braces."""

    wording = forms.CharField(label=_("Wording"), max_length=4000, required=False, help_text=_(
        "Words in braces are filled from the record. Leave it empty for the program's own wording."),
        widget=forms.Textarea({"rows": 14}))  # fmt: skip

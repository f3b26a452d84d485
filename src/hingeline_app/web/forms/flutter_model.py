"""What is asked where a flutter model is loaded."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.refusals import sentence
from hingeline_app.why_balance.own_model import own_surface

LARGEST = 200_000


class ModelForm(PageForm):
    """A file and the aircraft that it is of."""

    aircraft = forms.ChoiceField(label=_("Aircraft that the model is of"))
    file = forms.FileField(
        label=_("The model's file"), help_text=_("As hingeline flutter reads it: a [tailplane] or a [section].")
    )

    def __init__(self, *arguments: Any, aircraft: list[tuple[str, str]], **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.fields["aircraft"].choices = aircraft  # type: ignore[attr-defined]

    def clean_file(self) -> Any:
        """Look whether the page can draw it."""
        file = self.cleaned_data["file"]
        if file.size > LARGEST:
            raise ValidationError(_("This is larger than a model's file can be: choose the right file."))
        data = file.read()
        try:
            own_surface("own", file.name, read_flutter(data))
        except InputRefused as refused:
            raise ValidationError([sentence(one) for one in refused.refusals]) from None
        return data, file.name

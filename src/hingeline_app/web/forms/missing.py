"""What a field says where nothing was entered in it: what it waits for, and not only that it is needed."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _


def missing_words(field: forms.Field) -> dict[str, Any]:
    """Give the messages of a field for what is not there: nothing entered, chosen or ticked, or a file of no bytes."""
    if isinstance(field, forms.FileField):
        return {
            "required": _("No file is chosen: choose one."),
            "missing": _("No file is chosen: choose one."),
            "empty": _(
                "This file has 0 bytes, and nothing was read. Save it again where it was written, then choose it."
            ),
        }
    if isinstance(field, forms.BooleanField):
        return {"required": _("Not ticked: read it, and tick it where it holds.")}
    if isinstance(field, forms.MultipleChoiceField):
        return {"required": _("Nothing is chosen: choose one or more.")}
    if isinstance(field, forms.ChoiceField):
        return {"required": _("Nothing is chosen: choose one.")}
    return {"required": _("Nothing is entered: fill it in.")}

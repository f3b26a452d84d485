"""A refusal of the library or of the records, said at the field of the form."""

from __future__ import annotations

import re

from django import forms

from hingeline.errors import InputRefused, Refusal


def sentence(refusal: Refusal) -> str:
    """Give a refusal without its field, which the form names."""
    return f'"{refusal.value}" is refused. Expected {refusal.expected}. {refusal.remedy}'


def say_refusals(form: forms.Form, refused: InputRefused, names: dict[str, str] | None = None) -> None:
    """Put each refusal at its field; one of a field that is not in the form stands on top."""
    for each in refused.refusals:
        name = (names or {}).get(each.field) or re.sub(r"[^a-z0-9]+", "_", each.field.lower())
        words = sentence(each)
        form.add_error(
            name if name in form.fields else None, words if name in form.fields else f"{each.field}: {words}"
        )

"""Fields with our own strict reading of quantities."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from hingeline.errors import InputRefused
from hingeline.units import Typed, read
from hingeline_app.web.forms.refusals import sentence


class QuantityField(forms.CharField):
    """A number with its unit, point or comma as decimal mark, judged by the library's reader.

    A localised number field of the framework would take a decimal point for a thousands mark.
    """

    def __init__(self, dimension: str, **options: Any) -> None:
        super().__init__(max_length=40, **options)
        self.dimension = dimension

    def clean(self, value: Any) -> str:
        """Give number and unit as files have them, once the text reads as a quantity."""
        text = str(super().clean(value))
        if not text:
            return ""
        try:
            quantity = read(text, self.dimension, page=True)
        except InputRefused as refused:
            raise ValidationError([sentence(one) for one in refused.refusals]) from None
        assert isinstance(quantity, Typed), "the reader gives what was typed"
        return f"{quantity.number} {quantity.unit}"

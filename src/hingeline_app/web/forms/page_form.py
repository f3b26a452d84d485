"""A form of ours: every field named in the fault, nothing cleared, one key for one command, a draft picked up again."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from typing import Any, TypeVar

from django import forms
from django.http import HttpRequest

from hingeline_app.records.actions.at_the_door import drop_draft
from hingeline_app.records.queries.at_the_door import draft_of
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.forms.missing import missing_words
from hingeline_app.web.requests import visit_of

Kind = TypeVar("Kind", bound="PageForm")


class PageForm(forms.Form):
    """What all forms share."""

    command_key = forms.CharField(widget=forms.HiddenInput, required=False, max_length=64)
    from_draft = False
    use_required_attribute = False

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.fields["command_key"].initial = uuid.uuid4().hex
        self.label_suffix = ""
        for field in self.fields.values():
            field.error_messages |= missing_words(field)

    def said(self, *names: str) -> dict[str, Any]:
        """Give the cleaned values of these fields."""
        return {name: self.cleaned_data[name] for name in names}


def begun(request: HttpRequest, kind: type[Kind], initial: Mapping[str, Any] | None = None, **options: Any) -> Kind:
    """Give a form as its page first shows it: with what the same person left unfinished, if anything."""
    left = draft_of(viewer_of(request), request.path)
    started = {name: _one(kind, name, values) for name, values in (left or {}).items()}
    form = kind(initial={**(initial or {}), **started}, **options)
    form.from_draft = bool(set(started) & set(form.fields))
    return form


def finished(request: HttpRequest) -> None:
    """Forget the draft of a form that was taken."""
    drop_draft(visit_of(request).actor, request.path)


def _one(kind: type[PageForm], name: str, values: list[str]) -> Any:
    several = isinstance(kind.base_fields.get(name), forms.MultipleChoiceField)
    return values if several else values[-1]

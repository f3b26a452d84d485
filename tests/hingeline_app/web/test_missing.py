"""What a page says where nothing was entered: each field says what it waits for, in the reader's language."""

from __future__ import annotations

import pytest
from django import forms
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils.translation import override

from hingeline_app.web.forms.coating import SwingForm
from hingeline_app.web.forms.page_form import PageForm


class EveryKind(PageForm):
    """One field of each kind."""

    name = forms.CharField()
    one = forms.ChoiceField(choices=[("a", "a")])
    several = forms.MultipleChoiceField(choices=[("a", "a")])
    agreed = forms.BooleanField()
    file = forms.FileField()


def said(files: dict[str, SimpleUploadedFile]) -> dict[str, str]:
    """Give what a form says to which nothing was sent but these files."""
    return {name: " ".join(map(str, faults)) for name, faults in EveryKind({}, files).errors.items()}


def test_each_kind_of_field_says_what_it_waits_for() -> None:
    assert said({}) == {
        "name": "Nothing is entered: fill it in.",
        "one": "Nothing is chosen: choose one.",
        "several": "Nothing is chosen: choose one or more.",
        "agreed": "Not ticked: read it, and tick it where it holds.",
        "file": "No file is chosen: choose one.",
    }


def test_a_sum_that_is_kept_nowhere_says_so_too() -> None:
    """The swing's times had the framework's own words."""
    told = {str(each) for faults in SwingForm({}).errors.values() for each in faults}
    assert told == {"Nothing is entered: fill it in.", "Nothing is chosen: choose one."}


def test_a_file_of_no_bytes_is_told_with_what_helps() -> None:
    told = said({"file": SimpleUploadedFile("empty.csv", b"")})["file"]
    assert told.startswith("This file has 0 bytes, and nothing was read.")
    assert "Save it again" in told


@pytest.mark.parametrize(("language", "words"), [("de", "Füllen Sie es aus"), ("fr", "remplissez ce champ")])
def test_it_is_said_in_the_language_of_the_reader(language: str, words: str) -> None:
    with override(language):
        assert words in said({})["name"]

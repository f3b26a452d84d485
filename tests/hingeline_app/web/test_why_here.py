"""Why a job is here: what was chosen is said in the reader's language, whatever language it was opened in."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from django.utils.translation import override

from hingeline_app.web.why_here import why_words


@pytest.mark.parametrize(
    ("why", "kept", "said"),
    [
        ("painted", "Painted", "Lackiert"),
        ("painted", "Peint: two coats", "Lackiert: two coats"),
        ("painted", "Lackiert: außen: zwei Lagen", "Lackiert: außen: zwei Lagen"),
        ("weight off", "Weight or arm off", "Gewicht oder Arm ab"),
        ("other", "Painted", "Painted"),
        ("painted", "hail", "hail"),
        ("", "Painted", "Painted"),
        ("no such", "Painted: two coats", "Painted: two coats"),
    ],
)
def test_a_german_reader_reads_what_was_chosen_in_german_and_what_was_typed_as_typed(
    why: str, kept: str, said: str
) -> None:
    """Words typed in place of the list stay, and so does what was kept under a choice that the list has no more."""
    with override("de"):
        assert why_words(SimpleNamespace(why_here=kept, why=why)) == said
        assert why_words(SimpleNamespace(why_here=kept, details={"why": why})) == said

"""Why a job is here: what was chosen is said in the reader's language, whatever language it was opened in."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from django.utils.translation import override

from hingeline_app.web.why_here import title_words, why_words


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


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        ("Painted", "Lackiert"),
        ("Peint: two coats", "Lackiert: two coats"),
        ("Weight or arm off: at the tip", "Gewicht oder Arm ab: at the tip"),
        ("hail: all surfaces", "hail: all surfaces"),
        ("Other", "Other"),
    ],
)
def test_the_title_of_a_work_order_is_in_the_readers_language_where_it_was_chosen(kept: str, said: str) -> None:
    """It is what was chosen when its jobs were opened; what was typed stays."""
    with override("de"):
        assert title_words(kept) == said

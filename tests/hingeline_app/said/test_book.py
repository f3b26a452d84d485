"""A sentence of the program is said wholly or not at all, and no number or name in it is touched."""

from __future__ import annotations

import pytest

from hingeline_app.said.book import PhraseBook

BOOK = PhraseBook({
    "inside": "innerhalb",
    "upper": "oberen",
    "tail-heavy": "hecklastig",
    "arm is missing": "der Arm fehlt",
    "{n1}, {n2} inside the upper limit.": "{n1}, {n2} innerhalb der oberen Grenze.",
    "Work to the approved document.": "Nach dem genehmigten Dokument arbeiten.",
    "No statement: {w1}": "Keine Aussage: {w1}",
    "by the {w1} rule: {w2}": "nach der Regel {w1}: {w2}",
    "simple": "einfach",
    "Limits of {t1}": "Grenzen von {t1}",
    "{n1} of {n2}": "{n1} von {n2}",
    "{k1} is refused": "{k1} wird abgelehnt",
    "mass of {s1}": "Masse von {s1}",
    "mass of {w1}": "Masse: {w1}",
})  # fmt: skip


@pytest.mark.parametrize(
    ("english", "said"),
    [
        ("inside", "innerhalb"),
        ("Inside", "Innerhalb"),
        ("Inside.", "Innerhalb."),
        ("2.106 ± 0.044 N·m\u00a0tail-heavy, 0.006\u00a0N·m inside the upper limit.",
         "2.106 ± 0.044 N·m\u00a0hecklastig, 0.006\u00a0N·m innerhalb der oberen Grenze."),
        ("No statement: arm is missing", "Keine Aussage: der Arm fehlt"),
        ("By the simple rule: inside", "Nach der Regel einfach: innerhalb"),
        ("Limits of Elevator, left half", "Grenzen von Elevator, left half"),
        ("Limits of Elevator. Work to the approved document.",
         "Grenzen von Elevator. Nach dem genehmigten Dokument arbeiten."),
        ("Limits of the rig of M. Brandt. As built", "Grenzen von the rig of M. Brandt. As built"),
        ("Work to the approved document. No statement: arm is missing.",
         "Nach dem genehmigten Dokument arbeiten. Keine Aussage: der Arm fehlt."),
        ("inside · 3 of 8", "innerhalb · 3 von 8"),
        ("Upper is refused", "Oberen wird abgelehnt"),
        ("mark[0].kind is refused", "mark[0].kind wird abgelehnt"),
        ("◂ tail-heavy", "◂ hecklastig"),
        ("0.842 kg × 9.80665 m/s² × 255 mm = 2.106 N·m tail-heavy",
         "0.842 kg × 9.80665 m/s² × 255 mm = 2.106 N·m hecklastig"),
        ("mass of Primer 2, mass of inside", "Masse von Primer 2, Masse: innerhalb"),
    ],
)  # fmt: skip
def test_a_sentence_is_said_with_its_parts(english: str, said: str) -> None:
    """Alone, capital, closed, filled in, put together, with its sense."""
    assert BOOK.says(english) == said


@pytest.mark.parametrize(
    "english",
    [
        "The arm is bent",
        "No statement: readings are missing",
        "Work to the approved document. Something else is said too.",
        "inside · something else",
        "by the odd rule: inside",
        "about 3 of 8",
        "mass of inside. Something else is said too.",
    ],
)
def test_what_is_not_known_wholly_stays_english_wholly(english: str) -> None:
    """A part that the book does not know leaves the whole sentence as it was."""
    assert BOOK.says(english) is None


def test_what_french_phrases_are_joined_by_has_the_space_that_french_sets() -> None:
    """A colon or a semicolon between two phrases has one before it, at which no line breaks; so has one at the end."""
    book = PhraseBook({"inside": "à l'intérieur", "weighed": "pesé", "{n1} is usual: {w1}": "{n1} usuel : {w1}"}, "fr")
    assert book.says("weighed: inside; inside") == "pesé\u00a0: à l'intérieur\u202f; à l'intérieur"
    assert book.says("2 is usual: inside") == "2 usuel\u00a0: à l'intérieur"
    assert book.says("Weighed:") == "Pesé\u00a0:"

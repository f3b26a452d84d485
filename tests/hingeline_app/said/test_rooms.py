"""No room keeps a sentence back from a reader of German or French: a caution is among the rare ones."""

from __future__ import annotations

from pathlib import Path

from tools import phrases


def test_the_book_knows_every_sentence_of_each_room() -> None:
    """A new sentence needs its phrase, or stands in tools/phrases_left_alone.toml with the reason."""
    assert {name: lacking for room in phrases.ROOMS for name, lacking in phrases.lacking(room).items()} == {}


def test_what_is_left_alone_is_there_and_has_a_reason() -> None:
    """Each entry is a string of its file that the book does not know; nothing is left alone for a file that is gone."""
    for name, left in phrases.left_alone().items():
        there = set(phrases.patterns(phrases.SOURCES / name))
        assert [each for each in left if each not in there] == [], name
        assert [each for each in left if phrases.is_known(each)] == [], name
        assert all(len(reason.split()) > 1 for reason in left.values()), name


def test_a_sentence_that_the_book_lacks_is_found(tmp_path: Path) -> None:
    """Planted in a file: a sentence and one with values; what explains the source and what finds a text is not said."""
    planted = tmp_path / "planted.py"
    planted.write_text(
        '"""A docstring of the file."""\nimport re\nX = 1\n"""What X is for."""\n'
        'FOUND = re.compile("some pattern here")\n'
        'def f(n):\n    """A docstring."""\n    return "never said before", f"{n} goats in {n} sheds"\n'
    )
    found = phrases.patterns(planted)
    assert found == ["never said before", "{} goats in {} sheds"]
    assert not any(phrases.is_known(each) for each in found)


def test_a_sentence_whose_own_words_would_pass_for_a_name_is_not_known() -> None:
    """The book has "one of" with names behind it; of a sentence that goes on in English it would say the half."""
    assert phrases.is_known("one of {}")
    assert not phrases.is_known("one of the goats that stand behind {}")
    assert phrases.is_known('one of goat = "12.5 mm", sheep = "2 kg"')

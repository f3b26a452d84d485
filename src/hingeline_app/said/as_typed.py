"""What a person typed: it is shown as typed, even where it equals a sentence of the program."""

from __future__ import annotations


class AsTyped(str):
    """A typed text: no language changes it."""

    __slots__ = ()


def as_was(text: str, made: str) -> str:
    """Give what was made of a text, typed where the text was."""
    return AsTyped(made) if isinstance(text, AsTyped) else made

"""A statement with the ground it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Statement = Literal["growing", "sustained", "irregular", "dying out", "cannot tell"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the rules say, and which of them.

    Parameters
    ----------
    statement : str
    ground : str
        Which rule spoke; the words of reasons and of what to record next hang on it.
    """

    statement: Statement
    ground: str

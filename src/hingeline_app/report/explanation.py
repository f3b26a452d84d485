"""A printed side that explains, as an archival PDF: the owner's side, and the short sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from hingeline_app.figures import on_paper
from hingeline_app.report.sheet import made_parts
from hingeline_app.report.worksheet import PAPERS, Paper, compiled

Kind = Literal["text", "heading", "finding", "statement", "picture", "list", "rules", "caution"]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the side, in order.

    Parameters
    ----------
    kind : {"text", "heading", "finding", "statement", "picture", "list", "rules", "caution"}
        A finding is a model's, in a dashed frame; a statement was weighed or entered. Rules are lines to write on.
    words : str
        What it says; of a picture, what it shows.
    lines : tuple of str
        Of a list, or the labels of rules.
    svg : str
        Of a picture, as drawn for a page.
    width : float
        Of a picture [mm].
    beside : Part or None
        A second picture, to the right of the first.
    """

    kind: Kind
    words: str = ""
    lines: tuple[str, ...] = ()
    svg: str = ""
    width: float = 150.0
    beside: Part | None = None


def make_explanation(
    title: str,
    under: str,
    parts: Sequence[Part],
    made_at: datetime,
    *,
    foot: str,
    aside: str,
    paper: Paper = "a4",
    language: str = "en",
    attached: Mapping[str, str] | None = None,
) -> bytes:
    """Make the side.

    Parameters
    ----------
    title, under : str
        Heading, and the line under it.
    parts : sequence of Part
    made_at : datetime
        The PDF's date.
    foot, aside : str
        Left and right at the foot.
    paper : {"a4", "letter"}
    language : str
        Of the words, for readers aloud.
    attached : Mapping, optional
        Job files by name.

    Returns
    -------
    bytes
        A tagged PDF/A-3a.
    """
    view = {
        "title": title,
        "under": under,
        "parts": [_shown(part) for part in parts],
        "made": made_parts(made_at),
        "foot": foot,
        "aside": aside,
        "paper": PAPERS[paper],
        "language": language,
        "attached": dict(attached or {}),
    }
    return compiled(view, template())


def _shown(part: Part) -> dict[str, Any]:
    drawn = on_paper(part.svg) if part.svg else ""
    beside = [_shown(part.beside)] if part.beside else []
    return {"kind": part.kind, "words": part.words, "lines": list(part.lines), "drawn": drawn, "width": part.width,
            "beside": beside}  # fmt: skip


@cache
def template() -> bytes:
    """Return the template."""
    return files("hingeline_app.report").joinpath("explanation.typ").read_bytes()

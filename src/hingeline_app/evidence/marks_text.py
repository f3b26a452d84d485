"""Marks as somebody placed them on the first picture, written as a marks file: the same that the command line reads."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Placed:
    """One mark as it was placed.

    Parameters
    ----------
    name, kind, on : str
        As in a marks file.
    x, y : float, optional
        Where it is [pixel]; a printed marker is found by its number.
    number : int, optional
    """

    name: str
    kind: str
    on: str
    x: float | None = None
    y: float | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True)
class PlacedMarks:
    """All of them, and what they stand for; lengths and times as typed."""

    marks: Sequence[Placed]
    nose: str
    camera: str
    length: str = ""
    between: tuple[str, ...] = ()
    reference: tuple[float, float] | None = None
    readout: str = ""
    name: str = ""


def marks_text(placed: PlacedMarks) -> str:
    """Write a marks file.

    Parameters
    ----------
    placed : PlacedMarks
    """
    lines = ['format = "hingeline/marks/1"']
    if placed.name:
        lines.append(f"name = {_text(placed.name)}")
    lines += [f"nose = {_text(placed.nose)}", f"camera = {_text(placed.camera)}"]
    if placed.reference is not None:
        lines.append(f"reference = {_place(*placed.reference)}")
    if placed.readout:
        lines.append(f"readout = {_text(placed.readout)}")
    if placed.length:
        names = ", ".join(map(_text, placed.between))
        lines += ["", "[scale]", f"length = {_text(placed.length)}", f"between = [{names}]"]
    for mark in placed.marks:
        lines += ["", *_mark(mark)]
    return "\n".join(lines) + "\n"


def _mark(mark: Placed) -> list[str]:
    lines = ["[[mark]]", f"name = {_text(mark.name)}", f"kind = {_text(mark.kind)}", f"on = {_text(mark.on)}"]
    if mark.kind == "marker" and mark.number is not None:
        lines.append(f"number = {mark.number}")
    elif mark.kind != "marker" and mark.x is not None and mark.y is not None:
        lines.append(f"at = {_place(mark.x, mark.y)}")
    return lines


def _place(x: float, y: float) -> str:
    return f"[{x:.2f}, {y:.2f}]"


def _text(words: str) -> str:
    """Write a text as TOML takes it: a JSON string is one, controls escaped."""
    return json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")

"""A marks file: what to follow in a video, and how it becomes :class:`~hingeline.motion.marks.model.Marks`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from hingeline.errors import InputRefused, Refusal
from hingeline.motion.marks.model import KnownLength, Mark, Marks
from hingeline.units import Typed
from hingeline_app.files.job_models import read_tables
from hingeline_app.files.quantities import Name, Quantity, Table
from hingeline_app.files.shown import guess

FORMAT = "hingeline/marks/1"
MOST_MARKS = 20
LARGEST_NUMBER = 49
FARTHEST = 20_000.0

Pixel = Annotated[float, Field(ge=0.0, le=FARTHEST)]
Place = Annotated[list[Pixel], Field(min_length=2, max_length=2)]


class MarkTable(Table):
    """``[[mark]]``."""

    name: Name
    kind: Literal["dot", "marker", "patch"]
    on: Literal["section", "surface", "background"]
    at: Place | None = None
    number: Annotated[int, Field(ge=0, le=LARGEST_NUMBER)] | None = None
    size: Annotated[float, Field(ge=9.0, le=200.0)] | None = None


class ScaleTable(Table):
    """``[scale]``."""

    length: Annotated[Typed, Quantity("length")]
    between: Annotated[list[Name], Field(min_length=1, max_length=2)]


class MarksFile(Table):
    """A marks file as a whole."""

    format: Literal["hingeline/marks/1"]
    name: Name | None = None
    nose: Literal["left", "right"]
    camera: Literal["held", "on a stand"] = "held"
    reference: Place | None = None
    readout: Annotated[Typed, Quantity("time")] | None = None
    scale: ScaleTable | None = None
    mark: Annotated[list[MarkTable], Field(min_length=1, max_length=MOST_MARKS)]


def read_marks(data: bytes) -> Marks:
    """Read a marks file.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, MarksFile)
    faults = [*_faults_of_marks(file.mark), *_faults_of_scale(file), *_faults_of_the_rest(file)]
    if faults:
        raise InputRefused(faults)
    scale = None if file.scale is None else KnownLength(file.scale.length, tuple(file.scale.between))
    return Marks(
        marks=tuple(_mark(table) for table in file.mark),
        nose=file.nose,
        scale=scale,
        reference=None if file.reference is None else tuple(file.reference),
        camera=file.camera,
        readout=file.readout,
        name=file.name or "",
    )


def _mark(table: MarkTable) -> Mark:
    at = None if table.at is None else tuple(table.at)
    size = (table.size or 31.0) if table.kind == "patch" else None
    return Mark(table.name, table.kind, table.on, at, table.number, size)


def _faults_of_marks(marks: list[MarkTable]) -> Iterator[Refusal]:
    """Refuse names and numbers that stand twice, and fields that another kind of mark has."""
    names = Counter(mark.name for mark in marks)
    numbers = Counter(mark.number for mark in marks if mark.number is not None)
    for index, mark in enumerate(marks):
        place = f"mark[{index}]"
        if names[mark.name] > 1:
            yield Refusal(f"{place}.name", mark.name, "a name of its own for each mark", "Rename one.")
        if mark.number is not None and numbers[mark.number] > 1:
            yield Refusal(f"{place}.number", str(mark.number), "each number once", "Print another marker.")
        yield from _faults_of_kind(mark, place)


def _faults_of_kind(mark: MarkTable, place: str) -> Iterator[Refusal]:
    wanted, others = ("number", ("at", "size")) if mark.kind == "marker" else ("at", ("number",))
    if getattr(mark, wanted) is None:
        remedy = "It stands beside the printed marker." if wanted == "number" else "Give it as [across, down]."
        yield Refusal(f"{place}.{wanted}", "missing", f"{wanted} for a {mark.kind}", remedy)
    if mark.kind == "dot":
        others = ("number", "size")
    for other in others:
        if getattr(mark, other) is not None:
            shown = str(getattr(mark, other))
            yield Refusal(f"{place}.{other}", shown, f"no {other} for a {mark.kind}", "Leave it out.")


def _faults_of_scale(file: MarksFile) -> Iterator[Refusal]:
    """Refuse a length that is none, or lies between marks that are not there."""
    if file.scale is None:
        return
    if not 0.0 < file.scale.length <= 100.0:
        remedy = "Measure it between the middles of the two marks."
        yield Refusal("scale.length", file.scale.length.text, "more than 0 and at most 100 m", remedy)
    known = {mark.name: mark for mark in file.mark}
    for index, name in enumerate(file.scale.between):
        if name not in known:
            remedy = f"Name a mark of this file.{guess(name, list(known))}"
            yield Refusal(f"scale.between[{index}]", name, f"one of {', '.join(known)}", remedy)
    if len(file.scale.between) == 1 and known.get(file.scale.between[0], file.mark[0]).kind != "marker":
        remedy = "Name two marks; one alone must be a printed marker, whose black square is so wide."
        yield Refusal("scale.between", file.scale.between[0], "two marks", remedy)
    if len(file.scale.between) == 2 and file.scale.between[0] == file.scale.between[1]:
        yield Refusal("scale.between", file.scale.between[0], "two different marks", "Name the other one.")


def _faults_of_the_rest(file: MarksFile) -> Iterator[Refusal]:
    if all(mark.on != "section" for mark in file.mark):
        yield Refusal("mark", "none on the section", 'a mark with on = "section"', "Mark the section itself.")
    if file.readout is not None and not 0.0 <= file.readout <= 0.2:
        remedy = "A telephone takes 5 to 30 ms from its first line to its last."
        yield Refusal("readout", file.readout.text, "0 to 200 ms", remedy)

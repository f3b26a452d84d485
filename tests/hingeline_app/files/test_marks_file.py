"""A marks file becomes what it says, and is refused in words that mend it."""

from __future__ import annotations

from pathlib import Path

import pytest

from hingeline.errors import InputRefused
from hingeline.motion.marks import KnownLength, Mark
from hingeline_app.files.marks_file import read_marks

TEXT = """
format = "hingeline/marks/1"
name = "Merle T2 section on the bench"
nose = "left"
reference = [288, 180.5]
readout = "8 ms"

[scale]
length = "160 mm"
between = ["forward", "aft"]

[[mark]]
name = "forward"
kind = "dot"
on = "section"
at = [202, 181]

[[mark]]
name = "aft"
kind = "marker"
on = "section"
number = 7

[[mark]]
name = "wall"
kind = "patch"
on = "background"
at = [77, 54]
size = 41.0
"""


def refused(text: str) -> list[tuple[str, str]]:
    """Give field and expectation of each refusal."""
    with pytest.raises(InputRefused) as fault:
        read_marks(text.encode())
    assert all(each.remedy.endswith((".", "?")) for each in fault.value.refusals)
    return [(each.field, each.expected) for each in fault.value.refusals]


def test_it_becomes_what_it_says() -> None:
    """Every field arrives, in SI."""
    marks = read_marks(TEXT.encode())
    assert marks.marks == (
        Mark("forward", "dot", "section", (202.0, 181.0)),
        Mark("aft", "marker", "section", number=7),
        Mark("wall", "patch", "background", (77.0, 54.0), size=41.0),
    )
    assert marks.scale == KnownLength(0.16, ("forward", "aft"))
    assert (marks.nose, marks.camera, marks.reference) == ("left", "held", (288.0, 180.5))
    assert marks.readout == pytest.approx(0.008)


CHANGES = {
    "two of one name": ('name = "aft"', 'name = "forward"', "mark[0].name"),
    "a scale between what is not there": ('["forward", "aft"]', '["forward", "after"]', "scale.between[1]"),
    "a scale from a dot to itself": ('["forward", "aft"]', '["forward", "forward"]', "scale.between"),
    "a scale from one dot": ('["forward", "aft"]', '["forward"]', "scale.between"),
    "a length of nothing": ('"160 mm"', '"0 mm"', "scale.length"),
    "a length without a unit": ('"160 mm"', '"160"', "scale.length"),
    "a marker without a number": ("number = 7", "", "mark[1].number"),
    "a number beyond the sheet": ("number = 7", "number = 50", "mark[1].number"),
    "a dot without a place": ("at = [202, 181]", "", "mark[0].at"),
    "a dot with a number": ("at = [202, 181]", "at = [202, 181]\nnumber = 3", "mark[0].number"),
    "a place outside any picture": ("at = [202, 181]", "at = [-2, 181]", "mark[0].at[0]"),
    "a place with three parts": ("at = [202, 181]", "at = [2, 1, 3]", "mark[0].at"),
    "nothing on the section": ('on = "section"', 'on = "background"', "mark"),
    "a readout of a second": ('"8 ms"', '"1 s"', "readout"),
    "no nose": ('nose = "left"', "", "nose"),
    "an unknown field": ('nose = "left"', 'nose = "left"\ntail = "right"', "tail"),
    "a kind that is none": ('kind = "patch"', 'kind = "spot"', "mark[2].kind"),
    "another command's file": ("hingeline/marks/1", "hingeline/weighing/1", "format"),
    "a newer version": ("hingeline/marks/1", "hingeline/marks/2", "format"),
}


@pytest.mark.parametrize("name", CHANGES)
def test_a_fault_is_refused_where_it_stands(name: str) -> None:
    """Each fault is refused by the name of its field."""
    old, new, field = CHANGES[name]
    assert old in TEXT
    assert field in [each for each, _ in refused(TEXT.replace(old, new))]


def test_every_fault_is_told_at_once() -> None:
    """Several faults come in one answer."""
    text = TEXT.replace('["forward", "aft"]', '["one", "two"]').replace('name = "aft"', 'name = "wall"')
    assert len(refused(text)) == 4


def test_the_file_of_the_guide_can_be_read() -> None:
    """What the page on filming shows is a marks file, letter by letter."""
    page = (Path(__file__).parents[3] / "docs" / "guide" / "filming.md").read_text("utf-8")
    marks = read_marks(page.split("```toml\n")[1].split("```")[0].encode())
    assert [mark.kind for mark in marks.marks] == ["dot", "dot", "marker", "marker"]

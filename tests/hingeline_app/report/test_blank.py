"""The blank worksheet: limits and reading window stand in it, nothing else does, and it is never a record."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from hingeline.balance import plan_weighing
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.cli.main import main
from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.report import SheetDetails, make_blank_worksheet, read_worksheet
from tests.hingeline_app.report.demo import MADE_AT
from tests.hingeline_app.report.test_worksheet import opened, text_of

EXAMPLES = Path(__file__).parents[3] / "examples"
ONE, TWO, BEAM = "01-elevator-left-half", "05-two-supports-one-scale", "03-aileron-on-a-balance-beam"


def blank(name: str, paper: Any = "a4") -> bytes:
    text = (EXAMPLES / f"{name}.toml").read_text("utf-8")
    job = read_weighing(text.encode())
    try:
        plan = to_document(plan_weighing(job.weighing))
    except InputRefused:
        plan = None
    sheet = SheetDetails(**job.sheet)
    return make_blank_worksheet(plan, to_document(job.weighing), text, sheet, MADE_AT, "0.1.0", paper)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", [ONE, TWO, BEAM])
def test_it_is_one_sheet_of_two_sides_on_either_paper(name: str, paper: str) -> None:
    assert len(opened(blank(name, paper)).pages) == 2


def test_the_window_stands_in_it_and_no_number_was_weighed() -> None:
    text = text_of(blank(ONE))
    for words in (
        "Inside the limits the scale shows 0 … 839 g (guarded 16 … 822 g).",
        "Approved limits: 0.00 … 2.10 N·m tail-heavy, simple rule.",
        "Readings by hand, g",
        "To be weighed",
        "Not weighed",
        "Estimate: the scatter of the readings is not in it.",
        "Nothing on this sheet was weighed when it was printed.",
        "Local gravity 9.80665 m/s².",
    ):
        assert words in text, words
    for words in ("840", "845", "2.106", "± 0.04", "Inside 2", "check sum", "Head of the ledger", "0 N "):
        assert words not in text, words


def test_there_is_room_for_five_readings_by_hand_twice_or_for_each_support() -> None:
    assert text_of(blank(ONE)).count("1 2 3 4 5") == 2
    two = text_of(blank(TWO))
    assert two.count("1 2 3 4 5") == 2
    assert "1: 240 mm" in two


def test_without_a_window_it_says_why() -> None:
    assert "No reading window stands here: it holds for one support and a moment limit." in text_of(blank(TWO))


def test_it_is_no_record_and_is_refused_as_one() -> None:
    with pytest.raises(InputRefused, match=r"a PDF without result\.json inside"):
        read_worksheet(blank(ONE))


def test_the_command_writes_it_and_needs_no_readings(tmp_path: Path) -> None:
    text = (EXAMPLES / f"{ONE}.toml").read_text("utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("readings")]
    file, out = tmp_path / "job.toml", tmp_path / "blank.pdf"
    file.write_text("\n".join(lines), "utf-8")
    assert main(["weigh", str(file), "--blank", str(out), "--paper", "letter"]) == 0
    assert opened(out.read_bytes()).pages[0].mediabox[2] == 612

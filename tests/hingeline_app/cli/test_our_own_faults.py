"""A fault of our own: status 1, no statement, a kept record, and never a traceback on the screen."""

from __future__ import annotations

import base64
import json
import os
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hingeline.units.catalogue import units_by_key
from hingeline_app.files import kept_records
from tests.faults.good_files import EXAMPLE, HUNG_CUP, LIMITS, changed
from tests.faults.running import Answer, Runner

# Found in a page or a document only where a statement was made.
STATEMENTS = ("inside", "Inside", "outside", "Outside", "too close", "static_moment", "tail-heavy", "nose-heavy")


def broken(*_: object, **__: object) -> None:
    """Fail, as a slip of ours would."""
    raise ZeroDivisionError("a slip of ours")


def kept(answer: Answer) -> tuple[Path, dict[str, Any]]:
    """The record that the sentence names, and what stands in it."""
    place = Path(answer.err.strip().rsplit("were written to ", 1)[1].removesuffix("."))
    return place, json.loads(place.read_text(encoding="utf-8"))


def assert_no_statement(answer: Answer) -> None:
    """Status 1, one sentence on standard error, and nothing on either stream that could be relied on."""
    assert answer.status == 1
    assert "Traceback" not in answer.out + answer.err
    assert "ZeroDivisionError" not in answer.out + answer.err
    assert not any(word in answer.out + answer.err for word in STATEMENTS)
    assert len(answer.err.splitlines()) == 1


@pytest.mark.parametrize(
    ("target", "content", "command"),
    [
        ("hingeline_app.cli.weigh.weigh", EXAMPLE, "weigh"),
        ("hingeline_app.cli.weigh.read_weighing", EXAMPLE, "weigh"),
        ("hingeline_app.cli.weigh.to_document", EXAMPLE, "weigh"),
        ("hingeline_app.cli.limits.check_rows", LIMITS, "limits"),
    ],
)
def test_a_fault_of_ours_is_a_sentence_and_a_record(
    target: str, content: str, command: str, runner: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wherever it happens: status 1, a sentence that names the record; the record holds input and traceback."""
    monkeypatch.setattr(target, broken)
    path = runner.file(content)
    answer = runner.command(command, path)
    assert_no_statement(answer)
    assert answer.out == ""
    assert "nothing that it showed in this run may be used" in answer.err
    place, record = kept(answer)
    assert place.parent == runner.folder / "state" / "hingeline"
    assert base64.b64decode(record["inputs"][str(path)]).decode() == content
    assert "ZeroDivisionError: a slip of ours" in record["details"]
    assert record["arguments"] == [command, str(path)]
    assert record["format"] == "hingeline/fault/1"
    assert record["about"]["program"] == "Hingeline"


def test_a_fault_while_the_page_is_made_shows_no_half_page(runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page is shown whole or not at all."""
    monkeypatch.setattr("hingeline_app.cli.weigh_page.show_budget", broken)
    answer = runner.on(EXAMPLE)
    assert_no_statement(answer)
    assert answer.out == ""


def test_with_json_a_fault_of_ours_is_one_document_with_no_field(
    runner: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same document as for a refusal, with null for field, value and expectation, and the sentence as remedy."""
    monkeypatch.setattr("hingeline_app.cli.weigh.weigh", broken)
    answer = runner.on(EXAMPLE, "weigh", "--json")
    assert_no_statement(answer)
    document = answer.document
    assert document["format"] == "hingeline/error/1"
    (error,) = document["errors"]
    assert (error["field"], error["value"], error["expected"]) == (None, None, None)
    assert error["remedy"] == answer.err.strip()


def test_two_routes_that_disagree_give_no_statement(runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """A wrong pound seeded into the table of units is noticed by the second route: an alarm, and no statement."""
    job = changed(HUNG_CUP, "155 g", "0.342 lb")
    assert runner.on(job).status == 0
    pound = units_by_key("mass")["lb"]
    monkeypatch.setitem(units_by_key("mass"), "lb", replace(pound, factor="0.4536"))
    for options in ((), ("--json",)):
        answer = runner.on(job, "weigh", *options)
        assert_no_statement(answer)
        assert answer.err.startswith("No statement: two computations of the static moment disagree")
        assert "Do not use any number from this run." in answer.err
        assert base64.b64decode(next(iter(kept(answer)[1]["inputs"].values()))).decode() == job
    assert [error["field"] for error in answer.document["errors"]] == [None]


def test_two_routes_that_disagree_write_no_worksheet(runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is put on paper that the routes do not agree on."""
    pound = units_by_key("mass")["lb"]
    monkeypatch.setitem(units_by_key("mass"), "lb", replace(pound, factor="0.4536"))
    sheet = runner.folder / "sheet.pdf"
    assert runner.on(changed(HUNG_CUP, "155 g", "0.342 lb"), "weigh", "--pdf", str(sheet)).status == 1
    assert not sheet.exists()


def test_a_wrong_pound_in_the_limits_is_noticed_too(runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """The limits are computed twice like the moment."""
    job = changed(EXAMPLE, 'upper = "2.10 N m"', 'upper = "18.6 in-lb"')
    unit = units_by_key("moment")["in lb"]
    monkeypatch.setitem(units_by_key("moment"), "in lb", replace(unit, factor="0.01152"))
    answer = runner.on(job)
    assert_no_statement(answer)
    assert "two computations of the upper limit disagree" in answer.err


def test_where_the_state_folder_cannot_be_written_the_record_is_kept_elsewhere(
    runner: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that cannot be made is passed over for the system's folder of temporary files."""
    monkeypatch.setattr("hingeline_app.cli.weigh.weigh", broken)
    monkeypatch.setenv("XDG_STATE_HOME", str(runner.file("", "no folder")))
    (runner.folder / "temporary").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(runner.folder / "temporary"))
    answer = runner.on(EXAMPLE)
    assert_no_statement(answer)
    assert kept(answer)[0].parent == runner.folder / "temporary"


def test_where_nothing_can_be_written_there_is_still_a_sentence(
    runner: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With no place for a record the sentence says so."""
    monkeypatch.setattr("hingeline_app.cli.weigh.weigh", broken)
    nowhere = str(runner.file("", "no folder"))
    monkeypatch.setenv("XDG_STATE_HOME", nowhere)
    monkeypatch.setattr(tempfile, "tempdir", nowhere)
    answer = runner.on(EXAMPLE)
    assert_no_statement(answer)
    assert answer.err.endswith("The details could not be written anywhere.\n")


def test_a_user_without_a_home_has_a_record_too(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Without a home folder the record goes to the system's folder of temporary files."""
    monkeypatch.delenv("XDG_STATE_HOME", raising=False)

    def homeless() -> Path:
        raise RuntimeError("no home")

    monkeypatch.setattr(Path, "home", homeless)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    place = kept_records.keep("details", ["weigh"], {}, {})
    assert place is not None
    assert place.parent == tmp_path


def test_a_record_can_be_read_by_its_owner_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A record holds a customer's data: nobody else may read it."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    place = kept_records.keep("details", ["weigh"], {"a": b"\xff"}, {})
    assert place is not None
    assert place.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("where", ["folder", "missing folder", "below a file", "no name", "NUL"])
def test_a_worksheet_that_cannot_be_written_is_refused_and_leaves_nothing(where: str, runner: Runner) -> None:
    """A place that takes no file: status 2, no page, and nothing half-written."""
    below = runner.file("", "file")
    target = {
        "folder": str(runner.folder),
        "missing folder": str(runner.folder / "gone" / "out.pdf"),
        "below a file": str(below / "out.pdf"),
        "no name": "",
        "NUL": "a\x00b.pdf",
    }[where]
    job = runner.file(EXAMPLE)
    before = sorted(os.listdir(runner.folder))
    answer = runner.command("weigh", job, "--json", "--pdf", target)
    assert answer.status == 2
    (error,) = answer.errors
    assert error["field"] == "--pdf"
    assert error["value"] == (target or "empty")
    assert error["remedy"].endswith("name another.")
    assert sorted(os.listdir(runner.folder)) == before


def test_a_refused_file_leaves_an_older_worksheet_alone(runner: Runner) -> None:
    """A refusal writes no worksheet, and takes none away."""
    sheet = runner.file(b"%PDF older", "out.pdf")
    assert runner.on(changed(EXAMPLE, "255 mm", "255"), "weigh", "--pdf", str(sheet)).status == 2
    assert sheet.read_bytes() == b"%PDF older"


def test_a_record_that_cannot_be_written_whole_is_not_left_half(tmp_path: Path) -> None:
    """Half a surrogate pair stands for a disk that fills up: the writing fails after the file was made."""
    with pytest.raises(UnicodeEncodeError):
        kept_records._written(tmp_path, "\ud800")
    assert list(tmp_path.iterdir()) == []

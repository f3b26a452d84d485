"""Every ledger ever written opens: the chain holds, the tables come back, nothing reads otherwise than it did.

The files under ``frozen_ledgers`` are never made again; ``tell_story.py`` says how the first came to be.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from hingeline_app.records.chain import breaks
from hingeline_app.records.journal import read_lines
from hingeline_app.records.looking.rows_as_noted import kept_tables
from hingeline_app.records.rebuilding import row_of
from hingeline_app.records.rows import note_of
from tests.hingeline_app.records.own_folder import hingeline, hingeline_json

FROZEN = Path(__file__).parent / "frozen_ledgers"
LEDGERS = sorted(path for path in FROZEN.iterdir() if path.is_dir())


def bodies(ledger: Path) -> list[dict[str, Any]]:
    return [json.loads(link.body) for path in sorted(ledger.glob("*.jsonl")) for link in read_lines(path)]


@pytest.mark.fault("F34")
@pytest.mark.parametrize("ledger", LEDGERS, ids=lambda path: path.name)
def test_the_chain_still_holds(ledger: Path) -> None:
    for path in ledger.glob("*.jsonl"):
        links = list(read_lines(path))
        assert links
        assert list(breaks(links)) == []


@pytest.mark.fault("F34")
@pytest.mark.parametrize("ledger", LEDGERS, ids=lambda path: path.name)
def test_every_note_reads_as_it_was_written(ledger: Path) -> None:
    """What was noted then is noted now, alike; columns that came later may stand beside it."""
    tables = {table._meta.model_name: table for table in kept_tables()}
    for body in bodies(ledger):
        for note in body["rows"]:
            again = json.loads(json.dumps(note_of(row_of(tables[note["table"]], note))))
            assert again["values"] | note["values"] == again["values"], note["table"]


def test_every_table_has_been_frozen() -> None:
    """A table whose rows stand in no frozen ledger fails here: freeze one, beside those that are there."""
    noted = {note["table"] for ledger in LEDGERS for body in bodies(ledger) for note in body["rows"]}
    assert noted == {table._meta.model_name for table in kept_tables()}


@pytest.mark.slow
@pytest.mark.fault("F34")
@pytest.mark.parametrize("ledger", LEDGERS, ids=lambda path: path.name)
def test_a_workshop_comes_back_from_it(ledger: Path, tmp_path: Path) -> None:
    again = tmp_path / "again"
    hingeline("ledger", "rebuild", "--from", ledger, "--attachments", ledger, "--to", again, folder=again)
    found = hingeline_json("ledger", "verify", folder=again)
    assert (found["whole"], found["findings"]) == (True, [])

"""A workshop out of the machine and in again: from one file, from its journal, to a server and back."""

from __future__ import annotations

import json
import shutil
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.chain import Blank, Link
from hingeline_app.records.ledger_file import Bounds, Ledger, OpenLedger, write_ledger
from hingeline_app.records.rebuilding import chains_of_journal
from hingeline_app.settings.databases import FILE_NAME
from tests.hingeline_app.records.own_folder import hingeline_json, run
from tests.private_postgresql import Server


@pytest.fixture(autouse=True)
def any_database(django_db_blocker: Any) -> Iterator[None]:
    """These tests open files of their own."""
    with django_db_blocker.unblock():
        yield


@pytest.fixture(scope="module")
def exported(filled: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A whole workshop in one file."""
    file = tmp_path_factory.mktemp("exported") / "fenholt.zip"
    hingeline_json("ledger", "export", file, folder=filled)
    return file


def heads(folder: Path, **more: str) -> list[Any]:
    look = hingeline_json("ledger", "verify", folder=folder, **more)
    assert look["findings"] == []
    return [(each["chain"], each["entries"], each["head"]) for each in look["chains"]]


@pytest.mark.slow
def test_an_import_is_the_workshop_again(filled: Path, exported: Path, tmp_path: Path) -> None:
    """Every entry with its digest, every row as last noted, every attachment; secrets are asked for anew."""
    told = hingeline_json("ledger", "import", exported, "--to", tmp_path / "again", folder=tmp_path / "nowhere")
    assert heads(tmp_path / "again") == heads(filled)
    assert told["secrets_lost"] == 2
    assert list((tmp_path / "again").glob("attachments/??/*"))


@pytest.mark.slow
@pytest.mark.fault("F03")
def test_a_journal_alone_is_the_workshop_again(folder: Path, tmp_path: Path) -> None:
    """The database is gone: from the journal come entries and rows; a password of before opens nothing."""
    before = heads(folder)
    (folder / FILE_NAME).unlink()
    words = ("ledger", "rebuild", "--from", folder / "journal", "--to", tmp_path / "again", "--attachments", folder)
    hingeline_json(*words, folder=tmp_path / "nowhere")
    assert heads(tmp_path / "again") == before
    assert run("-c", SIGN_IN, folder=tmp_path / "again").stdout.split() == ["anna", "False"]


def test_a_folder_with_another_file_among_the_journals_is_refused(tmp_path: Path) -> None:
    """It is named, with what to do about it: no traceback."""
    (tmp_path / "notes.jsonl").write_text("{}\n")
    with pytest.raises(InputRefused, match="journals alone"):
        chains_of_journal(tmp_path)


SIGN_IN = """
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Account
account = Account.objects.get()
print(account.sign_in_name, account.check_password("a long sentence of hers"))
"""


def test_the_same_workshop_gives_the_same_bytes(exported: Path, tmp_path: Path) -> None:
    """Written again from what was read, the file is the same, byte for byte."""
    with OpenLedger(exported) as opened:
        files = {}
        for digest in opened.ledger.attachments:
            files[digest] = tmp_path / digest
            files[digest].write_bytes(b"".join(opened.attachment(digest)))
        write_ledger(tmp_path / "again.zip", opened.ledger, files)
    assert (tmp_path / "again.zip").read_bytes() == exported.read_bytes()


def test_entries_without_their_text_can_be_followed(exported: Path, tmp_path: Path) -> None:
    """One aircraft's entries among blanks: the chain holds up to the workshop's own head, and is not imported."""
    import hashlib

    with OpenLedger(exported) as opened:
        whole = opened.ledger
    links = [link for link in whole.chains["records"] if isinstance(link, Link)]
    some = [
        link
        if link.position in (2, 5)
        else Blank(link.position, link.previous, link.digest, hashlib.sha256(link.body).hexdigest())
        for link in links
    ]
    write_ledger(tmp_path / "one.zip", Ledger(whole.workshop, {"records": some}), {})
    with OpenLedger(tmp_path / "one.zip") as opened:
        assert opened.ledger.chains["records"] == some
        assert not opened.ledger.is_whole
    done = run(
        *("-m", "hingeline_app", "ledger", "import", tmp_path / "one.zip", "--to", tmp_path / "again"),
        folder=tmp_path / "nowhere",
        status=2,
    )
    assert "a whole workshop" in done.stderr


Change = Callable[[dict[str, bytes]], None]


def with_change(exported: Path, to: Path, change: Change) -> Path:
    """Write the file again with something changed."""
    with zipfile.ZipFile(exported) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    change(parts)
    with zipfile.ZipFile(to, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return to


def _manifest(parts: dict[str, bytes], **changes: Any) -> None:
    parts["manifest.json"] = json.dumps(json.loads(parts["manifest.json"]) | changes).encode()


def _edit(parts: dict[str, bytes]) -> None:
    parts["chains/records.jsonl"] = parts["chains/records.jsonl"].replace(b"Anna Berg", b"Anna Borg")


def _shorten(parts: dict[str, bytes]) -> None:
    lines = parts["chains/records.jsonl"].splitlines(keepends=True)
    parts["chains/records.jsonl"] = b"".join(lines[:-1])


def _half_a_line(parts: dict[str, bytes]) -> None:
    parts["chains/records.jsonl"] = parts["chains/records.jsonl"][:-10]


CHANGES: dict[str, tuple[Change, str]] = {
    "a changed entry": (_edit, "entries that follow one another"),
    "a missing last entry": (_shorten, "up to its head"),
    "half a line": (_half_a_line, "a last line that ends"),
    "a name outside": (lambda parts: parts.update({"../x": b"x"}), "nothing else"),
    "a part not listed": (lambda parts: parts.update({"attachments/" + "0" * 64: b"x"}), "every part in the manifest"),
    "a later format": (lambda parts: _manifest(parts, format="hingeline/ledger-export/9"), "the format"),
    "no manifest": (lambda parts: parts.pop("manifest.json") and None, "a manifest that can be read"),
    "chains that are a number": (lambda parts: _manifest(parts, chains=5), "a manifest that can be read"),
    "a workshop without a number": (lambda parts: _manifest(parts, workshop="Fenholt"), "a manifest that can be read"),
    "a manifest of brackets": (lambda parts: parts.update({"manifest.json": b"[" * 99_999}), "a manifest"),
    "an entry of brackets": (lambda parts: parts.update({"chains/records.jsonl": b"[" * 99_999 + b"\n"}), "an entry"),
    "a manifest that is no list": (lambda parts: parts.update({"manifest.json": b"[]"}), "a manifest"),
}


@pytest.mark.parametrize("what", CHANGES)
def test_a_file_that_was_changed_is_refused(what: str, exported: Path, tmp_path: Path) -> None:
    """Nothing is taken from it, and the refusal names what does not hold."""
    change, expected = CHANGES[what]
    with pytest.raises(InputRefused, match=expected):
        OpenLedger(with_change(exported, tmp_path / "changed.zip", change))


def test_a_file_damaged_on_its_way_is_refused(exported: Path, tmp_path: Path) -> None:
    """One byte of the packed entries is another: what cannot be unpacked is refused, never a traceback."""
    whole = exported.read_bytes()
    begins = whole.index(b"chains/") + 60
    for place in range(begins, begins + 40):
        damaged = bytearray(whole)
        damaged[place] ^= 0xFF
        (tmp_path / "damaged.zip").write_bytes(bytes(damaged))
        with pytest.raises(InputRefused):
            OpenLedger(tmp_path / "damaged.zip")


def test_an_attachment_that_was_changed_is_refused(exported: Path, tmp_path: Path) -> None:
    def change(parts: dict[str, bytes]) -> None:
        parts.update({name: b"x" for name in parts if name.startswith("attachments")})

    with OpenLedger(with_change(exported, tmp_path / "changed.zip", change)) as opened:
        (digest,) = opened.ledger.attachments
        with pytest.raises(InputRefused, match="as it was"):
            list(opened.attachment(digest))


@pytest.mark.parametrize(
    "bounds",
    [Bounds(members=2), Bounds(line=100), Bounds(chains=1000), Bounds(attachments=1000), Bounds(manifest=100)],
    ids=["parts", "line", "chain", "in all", "manifest"],
)
def test_a_file_that_grows_beyond_its_bounds_is_refused(bounds: Bounds, exported: Path) -> None:
    """However small it is packed, no more is unpacked than the bound allows."""
    with pytest.raises(InputRefused):
        OpenLedger(exported, bounds)


@pytest.mark.parametrize("data", [b"", b"PK\x05\x06", b"x" * 100, b"PK\x03\x04" + b"\0" * 60])
def test_what_is_no_such_file_is_refused(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "x.zip").write_bytes(data)
    with pytest.raises(InputRefused):
        OpenLedger(tmp_path / "x.zip")


@pytest.mark.fault("F31")
@pytest.mark.slow
def test_records_move_to_a_server_and_back(postgresql: Server, folder: Path, tmp_path: Path) -> None:
    """The heads are equal after each move; on the server a save follows the last; the old file is put aside."""
    before = heads(folder)
    address = postgresql.create("moved")
    run("-m", "hingeline_app", "move", "--to", address, folder=folder)
    assert not (folder / FILE_NAME).exists()
    there = {"HINGELINE_DATABASE": address}
    assert heads(folder, **there) == before
    run("-c", ADD_ONE, folder=folder, **there)
    told = hingeline_json("backup", "--to", tmp_path / "stick", folder=folder, **there)
    assert told["look"]["findings"] == []
    run("-m", "hingeline_app", "move", "--to", folder, folder=folder, **there)
    assert [entries for _, entries, _ in heads(folder)] == [before[0][1] + 1, before[1][1]]
    restored = hingeline_json("restore", told["folder"], "--to", tmp_path / "r", folder=tmp_path / "nowhere")
    assert heads(tmp_path / "r") == heads(folder)
    assert restored["look"]["whole"]


ADD_ONE = """
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Workshop
from hingeline_app.records.write_door import Actor, write_door
with write_door(Actor(Workshop.objects.get()), "noted"):
    pass
"""


@pytest.mark.slow
def test_nothing_is_moved_onto_other_records(postgresql: Server, folder: Path) -> None:
    """A database that holds records already is refused, and the file stays where it is."""
    address = postgresql.create("occupied")
    copy = Path(shutil.copytree(folder, folder.with_name("copy")))
    run("-m", "hingeline_app", "move", "--to", address, folder=copy)
    done = run("-m", "hingeline_app", "move", "--to", address, folder=folder, status=2)
    assert "without records" in done.stderr
    assert heads(folder)

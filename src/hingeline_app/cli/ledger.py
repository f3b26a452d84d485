"""``hingeline ledger``: is the record whole, since when, and how it leaves the machine and comes back."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import click

from hingeline_app.cli.acting import acting_as, actor_named, allowed
from hingeline_app.cli.options import FOLDER, as_document, data_folder
from hingeline_app.cli.records_answer import answer


@click.group("ledger", short_help="Look at the workshop's ledger, and take it out or in.")
def command() -> None:
    """Look at the workshop's ledger, and take it out or in.

    Every entry is hashed to the one before it. 'verify' looks at all of it. 'head' gives
    a code: it proves later, from outside, that the ledger up to today was not made anew.

    Example: hingeline ledger verify
    """


@command.command("verify", short_help="Look whether the records are whole, and name what is not.")
@data_folder
@click.option("--head", "codes", metavar="CODE", multiple=True, help="A head from a printed sheet; may be repeated.")
@as_document
def verify(data: Path | None, codes: tuple[str, ...], as_json: bool) -> None:
    """Look whether the records are whole, since when, and name what is not.

    Settings, tables and triggers, both chains of each workshop, every row against its last
    entry, attached files, the journal, the heads that were given away, the clock. The exit
    status is 0 whatever was found: read "whole" in the document.

    Example: hingeline ledger verify --head 128-7K3M-9QRS-TVWX-YZ01-C
    """
    from hingeline_app.records.heads import read_code
    from hingeline_app.records.opening import open_records

    heads = [read_code(code) for code in codes]
    open_records(data, up_to_date=True)
    from hingeline_app.records.looking.look import Places, look_at_the_records

    found = look_at_the_records(Places.of_the_settings(read_attachments=True), heads)
    answer(found.document() | {"heads_from_outside": len(heads)}, as_json, "show_look")


@command.command("head", short_help="Sign where each chain stands now, for somebody outside.")
@data_folder
@as_document
def head(data: Path | None, as_json: bool) -> None:
    """Sign where each chain stands now, for somebody outside to keep.

    The short code is for typing, the full one for scanning. Keep them where whoever keeps
    this machine is not: on paper, with the owner.

    Example: hingeline ledger head
    """
    from hingeline_app.records.opening import open_records

    open_records(data)
    from hingeline_app.records.giving_heads import give_head
    from hingeline_app.records.looking.look import workshops

    given = [signed for workshop in workshops("default") if (signed := give_head(workshop))]
    heads = [
        {"workshop": each.head.workshop, "entries": each.head.position, "at": each.head.at, "key": each.key}
        | {"short_code": each.head.short, "full_code": each.code, "digest": each.head.digest}
        for each in given
    ]
    answer({"format": "hingeline/ledger-heads/1", "heads": heads}, as_json, "show_heads")


@command.command("export", short_help="Write a workshop, or one aircraft, to one file.")
@click.argument("file", metavar="FILE", type=FOLDER)
@data_folder
@click.option("--workshop", metavar="ID", help="Which one, where the records hold several.")
@click.option("--aircraft", metavar="MARK", help="One aircraft alone with all its records, by its registration.")
@acting_as
@as_document
def export(
    file: Path,
    data: Path | None,
    workshop: str | None,
    aircraft: str | None,
    sign_in_name: str | None,
    as_json: bool,
) -> None:
    """Write a whole workshop to one file: every entry, every attached file, no secrets.

    With --aircraft, one aircraft with all its records, for another workshop; an
    administrator does that.

    Example: hingeline ledger export fenholt.zip
    """
    from hingeline_app.records.opening import open_records

    open_records(data, up_to_date=bool(aircraft))
    if aircraft:
        _export_aircraft(file, aircraft, sign_in_name, as_json)
        return
    from hingeline_app.records.exporting import export_workshop, the_workshop

    ledger = export_workshop(the_workshop(workshop), file, datetime.now(UTC))
    entries = {name: len(links) for name, links in ledger.chains.items()}
    document = {"format": "hingeline/ledger-exported/1", "file": str(file), "workshop": ledger.workshop}
    answer(document | {"entries": entries, "attachments": len(ledger.attachments)}, as_json, "show_export")


@command.command("import", short_help="Take an exported workshop, or one aircraft, in.")
@click.argument("file", metavar="FILE", type=FOLDER)
@click.option("--to", metavar="DIR", type=FOLDER, help="A new folder for the records of a whole workshop.")
@data_folder
@acting_as
@as_document
def import_(file: Path, to: Path | None, data: Path | None, sign_in_name: str | None, as_json: bool) -> None:
    """Make the records again from an exported workshop, in a new folder; or take one aircraft in.

    Passwords and PINs are not in an export: each person gets a new one. Without --to, FILE
    holds one aircraft, which comes into the records that are in use.

    Example: hingeline ledger import fenholt.zip --to records
    """
    if to is None:
        _import_aircraft(file, data, sign_in_name, as_json)
        return
    from hingeline_app.records.opening import nothing_opened

    with nothing_opened():
        from hingeline_app.records.exporting import import_workshop

        rebuilt = import_workshop(file, to.absolute())
    answer(_rebuilt(rebuilt, to), as_json, "show_rebuilt")


@command.command("rebuild", short_help="Make the records again from the journal alone.")
@click.option("--from", "journal", metavar="JOURNAL", type=FOLDER, required=True, help="The folder of the journal.")
@click.option("--to", metavar="DIR", type=FOLDER, required=True, help="A new folder for the records.")
@click.option("--attachments", metavar="DIR", type=FOLDER, help="A folder that holds the folder attachments.")
@as_document
def rebuild(journal: Path, to: Path, attachments: Path | None, as_json: bool) -> None:
    """Make the records again from the journal alone, in a new folder.

    For a database that was lost or damaged, or replaced by an older copy. Passwords and
    PINs are not in a journal: each person gets a new one.

    Example: hingeline ledger rebuild --from journal --to records
    """
    from hingeline_app.records.opening import nothing_opened

    with nothing_opened():
        from hingeline_app.records.rebuilding import rebuild_from_journal

        rebuilt = rebuild_from_journal(journal, to.absolute(), attachments)
    answer(_rebuilt(rebuilt, to), as_json, "show_rebuilt")


def _export_aircraft(file: Path, aircraft: str, sign_in_name: str | None, as_json: bool) -> None:
    from hingeline_app.records.actions.carrying import export_aircraft
    from hingeline_app.records.queries.aircraft import aircraft_by_mark

    actor = actor_named(sign_in_name)
    found = aircraft_by_mark(actor.person, aircraft)
    allowed(lambda: export_aircraft(actor, found, file))
    document = {"format": "hingeline/aircraft-carried/1", "way": "out", "file": str(file), "aircraft": aircraft}
    answer(document, as_json, "show_aircraft")


def _import_aircraft(file: Path, data: Path | None, sign_in_name: str | None, as_json: bool) -> None:
    from hingeline_app.records.opening import open_records

    open_records(data, up_to_date=True)
    from hingeline_app.records.actions.carrying import import_aircraft

    actor = actor_named(sign_in_name)
    kept = allowed(lambda: import_aircraft(actor, file))
    document = {"format": "hingeline/aircraft-carried/1", "way": "in", "file": str(file), "aircraft": str(kept)}
    answer(document, as_json, "show_aircraft")


def _rebuilt(rebuilt: Any, to: Path) -> dict[str, Any]:
    counts = {"entries": rebuilt.entries, "rows": rebuilt.rows, "secrets_lost": rebuilt.secrets_lost}
    document = {"format": "hingeline/ledger-rebuilt/1", "folder": str(to), **counts}
    return document | {"look": rebuilt.findings.document()}

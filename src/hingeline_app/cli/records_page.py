"""The pages of ``hingeline ledger``, ``backup``, ``restore`` and ``move``: what was looked at, and what was found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from hingeline_app.cli.page import Page

Document = Mapping[str, Any]

WHOLE, NOT_WHOLE = "[====]", "[=  =]"
LIMITS = (
    "Whole says that nothing was changed since it was written, not that it is true.",
    "Whoever holds every key and every copy can make a record anew: keep a head outside.",
)


def show_look(document: Document) -> None:
    """Show what a look at the records found."""
    page = Page()
    page.title("Records", f"looked at {_time(document['at'])}")
    _finding(page, document)
    page.table("Chains", ["workshop, chain", "entries", "whole since", "last entry", "head"], _chains(document))
    page.sentences("Found", _found(document))
    page.pairs(sorted(document["database"].items()), "Database, read back")
    page.cautions(LIMITS)
    page.show()


def _finding(page: Page, document: Document) -> None:
    if document["whole"]:
        entries = sum(chain["entries"] for chain in document["chains"])
        page.finding(WHOLE, "Whole", [f"{entries} entries, each as it was written."], "bold blue")
        return
    stopped = "signing" if document["may_start"] else "the start of the pages"
    page.finding(NOT_WHOLE, "Not as it was written", [f"This stops {stopped}, until it is cleared up."], "bold red")


def _chains(document: Document) -> Iterator[tuple[str, str, str, str, str]]:
    for each in document["chains"]:
        name = f"{each['name'] or each['workshop']}, {each['chain']}"
        since = f"{each['whole_since_position']}, {_time(each['whole_since'])}" if each["whole_since"] else "not whole"
        yield name, str(each["entries"]), since, _time(each["last_at"]), each["head"][:8]


def _found(document: Document) -> Iterator[str]:
    for each in document["findings"]:
        yield f"{each['what']} {each['where']}: {each['says']}. {each['remedy']}".rstrip()


def show_heads(document: Document) -> None:
    """Show the heads that were signed."""
    page = Page()
    page.title("Heads", "for somebody outside to keep")
    for each in document["heads"]:
        page.pairs(
            [
                ("short code", each["short_code"]),
                ("full code", each["full_code"]),
                ("entries", str(each["entries"])),
                ("at", _time(each["at"])),
                ("key", each["key"]),
            ]
        )
    page.line("Later: hingeline ledger verify --head CODE")
    page.cautions(LIMITS)
    page.show()


def show_export(document: Document) -> None:
    """Show what went into a file."""
    page = Page()
    page.title("Exported", document["file"])
    entries = [(f"entries, {name}", str(count)) for name, count in document["entries"].items()]
    page.pairs([*entries, ("attached files", str(document["attachments"]))])
    page.cautions(["It holds names and licence numbers: keep it as you keep the records."])
    page.show()


def show_rebuilt(document: Document) -> None:
    """Show what was made again."""
    page, look = Page(), document["look"]
    page.title("Made again", document["folder"])
    _finding(page, look)
    page.pairs([(name, str(document[name])) for name in ("entries", "rows")])
    page.sentences("Found", _found(look))
    if document["secrets_lost"]:
        page.line(f"{document['secrets_lost']} passwords, PINs and tablets have to be set anew: no copy has them.")
    page.cautions(LIMITS)
    page.show()


def show_backup(document: Document) -> None:
    """Show a backup that was made."""
    page, look = Page(), document["look"]
    page.title("Backup", document["folder"])
    _finding(page, look)
    page.line(f"{document['entries']} entries; opened, compared with the records in use, and restored as a trial.")
    page.sentences("No longer kept", document["taken_away"])
    page.cautions(["A backup on the same device is lost with it. It holds the keys: lock it away."])
    page.show()


def show_restored(document: Document) -> None:
    """Show what was restored."""
    page, look = Page(), document["look"]
    page.title("Restored", document["folder"])
    _finding(page, look)
    page.line(f"Every file as it was backed up. Serve it: hingeline serve --data {document['folder']}")
    page.sentences("Found", _found(look))
    page.cautions(["What was written after the backup is not in it: compare with the journal, if there is one."])
    page.show()


def show_moved(document: Document) -> None:
    """Show what was moved."""
    page, look = Page(), document["look"]
    page.title("Moved", document["to"])
    _finding(page, look)
    page.line("Every chain ends with the same head in both databases.")
    page.line(document["next"])
    page.cautions(["People sign in again. Look that nothing serves the old database any more."])
    page.show()


def _time(at: str) -> str:
    return f"{at[:10]} {at[11:16]} UTC" if at else "never"


def show_onboarded(document: Document) -> None:
    """Show what tables would enter, or entered."""
    page = Page()
    page.title("Taken in" if document["taken_in"] else "Looked at: nothing is entered yet", document["file"])
    page.pairs([(kind, str(count)) for kind, count in document["rows"].items()])
    if document["receipt"]:
        page.line(f"Receipt {document['receipt']}.")
    else:
        page.line("Every cell can be read. Enter it: the same command with --take-in.")
    page.show()


def show_aircraft(document: Document) -> None:
    """Show which aircraft went out or came in."""
    page = Page()
    page.title("Exported" if document["way"] == "out" else "Taken in", document["aircraft"])
    page.pairs([("file", document["file"])])
    page.cautions(["It holds names and licence numbers: keep it as you keep the records."])
    page.show()

"""All the looks, one after the other."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from django.conf import settings
from django.db import connections

from hingeline_app.records.giving_heads import heads_given
from hingeline_app.records.heads import CHAINS, ShortHead, SignedHead
from hingeline_app.records.keys import public_keys
from hingeline_app.records.looking.attached import attachment_findings
from hingeline_app.records.looking.clock import clock_findings, confirmed_in
from hingeline_app.records.looking.findings import ChainState, Finding, Findings
from hingeline_app.records.looking.heads_held import head_findings, outside_findings, proved_up_to
from hingeline_app.records.looking.journal_beside import journal_findings
from hingeline_app.records.looking.reading_rows import NO_VALUE, as_far_as_read, identifiers_in
from hingeline_app.records.looking.rows_as_noted import row_findings
from hingeline_app.records.looking.rows_to_compare import limit_findings
from hingeline_app.records.looking.schema import newer_data, schema_findings
from hingeline_app.records.looking.settings_held import setting_findings, settings_read_back
from hingeline_app.records.looking.signed_texts import signature_findings
from hingeline_app.records.looking.walking import Step, Walked, in_order, last_notes, walk
from hingeline_app.records.models import Entry, Workshop
from hingeline_app.records.rows import Note
from hingeline_app.records.steps import unknown_steps

RECORDS, SECURITY = CHAINS
OutsideHead = SignedHead | ShortHead


@dataclass(frozen=True)
class Places:
    """Where things lie that are looked at beside the database; no journal: it is not compared.

    Attachments may be recordings of many gigabytes: they are read only where it is asked for.
    """

    using: str = "default"
    journal: Path | None = None
    data: Path | None = None
    read_attachments: bool = False
    # For tables of an earlier program, which this one's rows do not fit.
    chains_only: bool = False

    @classmethod
    def of_the_settings(cls, *, read_attachments: bool = False) -> Places:
        """Give the places of the records in use."""
        return cls("default", Path(settings.JOURNAL_FOLDER), Path(settings.DATA_FOLDER), read_attachments)


def look_at_the_records(
    places: Places | None = None, heads: Sequence[OutsideHead] = (), now: datetime | None = None
) -> Findings:
    """Look at settings, schema, chains, rows, signatures, journals, heads and the clock.

    Parameters
    ----------
    places : Places, optional
        By default the records in use.
    heads : sequence of SignedHead or ShortHead
        Heads that came from outside: from a printed sheet, from the owner.
    now : datetime, optional
        By default this machine's clock.
    """
    places = places or Places.of_the_settings()
    connection = connections[places.using]
    at = _as_text(now or datetime.now(UTC))
    held = settings_read_back(connection)
    found = list(setting_findings(connection.vendor, held))
    if unknown_steps(places.using):
        found += newer_data(connection, last_version(places.using))
        return Findings(at, held, (), tuple(found))
    if not places.chains_only:
        found += schema_findings(connection)
    chains = _chains(places, heads, at, found)
    return Findings(at, held, tuple(chains), tuple(found))


def _chains(places: Places, heads: Sequence[OutsideHead], at: str, found: list[Finding]) -> list[ChainState]:
    states: list[ChainState] = []
    notes: dict[tuple[str, str], Note] = {}
    every: list[Walked] = []
    for workshop in workshops(places.using):
        both = {chain: walk(workshop, chain, places.using) for chain in CHAINS}
        given = [*heads_given(workshop, places.journal)] if places.journal else []
        given += [head for head in heads if isinstance(head, SignedHead)]
        for walked in both.values():
            found += _one_chain(walked, both, given, places, at)
            states.append(_state(walked, _name(workshop, places.using), given))
        every += both.values()
        notes |= last_notes(in_order(both[RECORDS].steps, both[SECURITY].steps))
    found += outside_findings(every, heads)
    if not places.chains_only:
        found += row_findings(notes, places.using)
        found += as_far_as_read("signature", signature_findings(places.using))
        found += as_far_as_read("limits", limit_findings(places.using))
    return [state for state in states if state.entries]


def _one_chain(
    walked: Walked, both: dict[str, Walked], given: Sequence[SignedHead], places: Places, at: str
) -> Iterator[Finding]:
    for broken in walked.breaks:
        yield Finding("chain", f"{walked.chain} {broken.position}", broken.finding)
    yield from _beside(walked, both)
    if places.journal:
        yield from journal_findings(walked, places.journal)
    if places.data:
        yield from attachment_findings(walked, places.data, read=places.read_attachments)
    yield from head_findings(walked, given, public_keys(places.data) if places.data else {})
    yield from clock_findings(walked, at, confirmed_in(both.values()))


def _beside(walked: Walked, both: dict[str, Walked]) -> Iterator[Finding]:
    """Compare what each entry says of the other chain with that chain."""
    (other,) = (each for chain, each in both.items() if chain != walked.chain)
    digests = other.digests
    for step in walked.steps:
        if step.beside and digests.get(step.beside["position"]) != step.beside["digest"]:
            yield _other_chain(walked.chain, step, other.chain)
            return


def _other_chain(chain: str, step: Step, other: str) -> Finding:
    assert step.beside is not None
    says = f"entry {step.beside['position']} of the chain {other}, which it names, is gone or another one"
    return Finding("other chain", f"{chain} {step.position}", says)


def _state(walked: Walked, name: str, given: Sequence[SignedHead]) -> ChainState:
    steps = walked.steps
    broken = max((each.position for each in walked.breaks), default=0)
    since = next((step for step in steps if step.position > broken), None)
    return ChainState(
        workshop=str(walked.workshop),
        name=name,
        chain=walked.chain,
        entries=len(steps),
        first_at=steps[0].at if steps else "",
        last_at=steps[-1].at if steps else "",
        head=steps[-1].digest if steps else "",
        is_whole=not walked.breaks,
        whole_since_position=since.position if since else 0,
        whole_since=since.at if since else "",
        proved_by_head_up_to=proved_up_to(walked, given),
    )


def workshops(using: str) -> list[UUID]:
    """Name every workshop that has an entry or a row."""
    noted = identifiers_in(Entry._meta.db_table, "workshop_id", using)
    return sorted(noted | identifiers_in(Workshop._meta.db_table, "identifier", using))


def _name(workshop: UUID, using: str) -> str:
    try:
        return str(Workshop.objects.using(using).filter(pk=workshop).values_list("name", flat=True).first() or "")
    except NO_VALUE:
        return ""


def last_version(using: str) -> str:
    """Name the program that wrote last."""
    last = Entry.objects.using(using).order_by("-id").values_list("body", flat=True).first()
    return str(json.loads(last).get("software", {}).get("hingeline", "of a later date")) if last else "of a later date"


def _as_text(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")

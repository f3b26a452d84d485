"""Whether the clock jumped ahead and nobody said yet that it is right: days due and signatures are dated by it."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

from django.db.models import Max, Q

from hingeline_app.records.models import Entry

TIME_CONFIRMED = "time confirmed"
# As it stands in an entry's text; what somebody typed would have a stroke before the quotation mark.
FLAG = '"clock_ahead_of":"'


@dataclass(frozen=True, slots=True)
class ClockAhead:
    """An entry that is dated long after the one before it, and that nobody has confirmed.

    Parameters
    ----------
    of : str
        Chain and position of the entry.
    at, before : datetime
        When it is dated, and when the one before it was.
    """

    of: str
    at: datetime
    before: datetime

    @property
    def days(self) -> int:
        """Give how many days the clock went ahead."""
        return (self.at - self.before).days


@dataclass
class _Read:
    """What this process read of a workshop's chains: as far as here, and what it found."""

    far: dict[str, int] = field(default_factory=dict)
    flagged: dict[str, ClockAhead] = field(default_factory=dict)
    confirmed: set[str] = field(default_factory=set)


_read: dict[UUID, _Read] = {}


def clock_ahead(workshop: UUID) -> ClockAhead | None:
    """Give the last jump ahead of the clock that nobody has confirmed; entries read once are not read again."""
    known = _read.setdefault(workshop, _Read())
    entries = Entry.objects.filter(workshop=workshop)
    there = dict(entries.values_list("chain").annotate(Max("position")).order_by())
    for chain, position in there.items():
        if position != known.far.get(chain, 0):
            _read_on(known, entries.filter(chain=chain), chain)
            known.far[chain] = position
    waiting = [each for of, each in known.flagged.items() if of not in known.confirmed]
    return max(waiting, key=lambda each: each.at, default=None)


def _read_on(known: _Read, entries: object, chain: str) -> None:
    newer = entries.filter(position__gt=known.far.get(chain, 0))  # type: ignore[attr-defined]
    told = newer.filter(Q(kind=TIME_CONFIRMED) | Q(body__contains=FLAG))
    for position, kind, body in told.values_list("position", "kind", "body"):
        read, of = json.loads(body), f"{chain} {position}"
        if kind == TIME_CONFIRMED:
            known.confirmed |= set(read["says"]["of"])
        if "clock_ahead_of" in read:
            at, before = (datetime.fromisoformat(read[name]) for name in ("at", "clock_ahead_of"))
            known.flagged[of] = ClockAhead(of, at, before)

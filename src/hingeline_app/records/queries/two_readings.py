"""Who still looks at the printed page again, after two persons read a row differently.

One of the two alone could type what the other had read, and the row would look like read by two. So a difference is
settled once both have looked again since, and read the same; where they differ still, both look once more. Or a third
reads it in the place of one who no longer may.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple
from uuid import UUID

from hingeline_app.records.models import LimitRow, Person, RowReading
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act


class Difference(NamedTuple):
    """A field that two persons read differently; neither is preferred."""

    field: str
    first: Any
    second: Any


def differences(first: Mapping[str, Any], second: Mapping[str, Any]) -> list[Difference]:
    """Name what two persons read differently. Digits count as printed: 2.1 and 2.10 differ."""
    names = sorted({*first, *second})
    each = [Difference(name, first.get(name), second.get(name)) for name in names]
    return [one for one in each if _as_printed(one.first) != _as_printed(one.second)]


def differ(first: RowReading | None, second: RowReading | None) -> bool:
    """Whether two readings are there, and not the same."""
    return first is not None and second is not None and bool(differences(first.printed, second.printed))


def who_looks_again(row: LimitRow, readings: Sequence[RowReading]) -> tuple[UUID, ...]:
    """Give those of a row's two readers who have not looked again since their readings differed.

    Parameters
    ----------
    row : LimitRow
    readings : sequence of RowReading
        In the order in which they were typed.
    """
    if row.second_reader_id is None:
        return ()
    pair = (row.first_reader_id, row.second_reader_id)
    last: dict[UUID, RowReading] = {}
    waited_for: set[UUID] = set()
    for each in readings:
        # What the second typed before the first began is of an earlier pair.
        if each.read_by_id not in pair or (not last and each.read_by_id != row.first_reader_id):
            continue
        last[each.read_by_id] = each
        waited_for.discard(each.read_by_id)
        # Who gave in after both had looked and differed still would settle alone what the other had read.
        if not waited_for and differ(*(last.get(reader) for reader in pair)):
            waited_for = set(pair)
    return tuple(reader for reader in pair if reader in waited_for)


def right_to_look_again(reader: Person, *, is_first: bool) -> Act:
    """Give the right by which one of a row's two readers looks at it again.

    The first has either: where one has left, the other is the first from then on, and may only confirm rows.
    """
    enters = is_first and may(reader, Act.ENTER_LIMITS).allowed
    return Act.ENTER_LIMITS if enters else Act.CONFIRM_LIMITS


def still_reading(row: LimitRow) -> list[Person]:
    """Give those of a row's readers who may look at it again: neither left, nor without the right by now."""
    readers = [each for each in (row.first_reader, row.second_reader) if each is not None]
    rights = [right_to_look_again(each, is_first=each.pk == row.first_reader_id) for each in readers]
    return [each for each, right in zip(readers, rights, strict=True) if may(each, right).allowed]


def _as_printed(value: Any) -> Any:
    """Give a value without what print and keyboard do differently: spaces, and the true minus."""
    if isinstance(value, str):
        return " ".join(value.replace("\u2212", "-").split()) or None
    if isinstance(value, Mapping):
        return {key: _as_printed(each) for key, each in value.items() if each not in (None, "")}
    if isinstance(value, list):
        return [_as_printed(each) for each in value]
    return value

"""When a surface is due again, for its owner, from the checks ahead: those that name it or balance, by whole words."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from hingeline_app.records.queries.checks_ahead import CheckAhead, ChecksAhead
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.report.owner_sheet import DueAgain

# How words about balance begin, in the languages that programmes are written in: "balance weight", "Auswuchtung".
BALANCE = (
    "balanc", "rebalanc", "unbalanc", "counterbalanc", "auswucht", "massenausgleich", "ausgleichsgewicht", "équilibr",
    "rééquilibr", "contrepoids",
)  # fmt: skip
# German writes "Querruderlager" in one word: so long a name may begin another word, "fin" and "tab" may not.
LONG_ENOUGH = 6


def due_again(ahead: ChecksAhead, job: JobRecord, others: Collection[str]) -> list[DueAgain]:
    """Give the checks of an aircraft that name this surface or balance, in their order; closed ones are left out.

    Parameters
    ----------
    ahead : ChecksAhead
        Of the workshop.
    job : JobRecord
        Whose surface it is; the check that it was opened for is about it, whatever its name.
    others : collection of str
        The names of the aircraft's other surfaces: a check that names one of them is not about this one.
    """
    return [_due(each) for each in ahead.checks if _is_ahead(each, job) and _is_about(each, job, others)]


def _is_ahead(each: CheckAhead, job: JobRecord) -> bool:
    return each.state.aircraft == job.registration and each.state.state not in ("closed", "not applicable")


def _is_about(each: CheckAhead, job: JobRecord, others: Collection[str]) -> bool:
    if str(each.identifier) == job.details.get("task"):
        return True
    return is_named(f"{each.task.name} {each.task.part}", job.surface_name, others)


def is_named(text: str, surface: str, others: Collection[str]) -> bool:
    """Say whether a check's words name this surface, or balance and no other surface."""
    words, own = _words(text), _words(surface)
    rest = words
    for other in sorted(others, key=len, reverse=True):
        # "Rudder tab" is no word about the rudder: what is named more closely is taken out first.
        if len(_words(other)) > len(own) and _place_of(own, _words(other)) is not None:
            rest = _without(_words(other), rest)
    if _place_of(own, rest) is not None:
        return True
    for other in sorted(others, key=len, reverse=True):
        if _place_of(_words(other), own) is None:
            rest = _without(_words(other), rest)
    head = _words(surface.partition(",")[0])
    return _place_of(head, rest) is not None or (rest == words and any(each.startswith(BALANCE) for each in words))


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.casefold())


def _place_of(name: Sequence[str], words: Sequence[str]) -> int | None:
    """Give where the words of a name stand one after the other, the last one also in the plural or in a compound."""
    for place in range(len(words) - len(name) + 1 if name else 0):
        found = words[place : place + len(name)]
        if list(found[:-1]) == list(name[:-1]) and _is_word(found[-1], name[-1]):
            return place
    return None


def _is_word(word: str, name: str) -> bool:
    return word in (name, f"{name}s") or (len(name) >= LONG_ENOUGH and word.startswith(name))


def _without(name: Sequence[str], words: list[str]) -> list[str]:
    place = _place_of(name, words)
    return words if place is None else [*words[:place], *words[place + len(name) :]]


def _due(each: CheckAhead) -> DueAgain:
    hours, landings = each.state.due_at.hours, each.state.due_at.landings
    return DueAgain(
        each.task.name,
        each.state.state,
        each.state.due_date,
        "" if hours is None else str(hours),
        "" if landings is None else str(landings),
    )

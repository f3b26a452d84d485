"""When a surface is due again, for its owner, from the checks ahead."""

from __future__ import annotations

from hingeline_app.records.queries.checks_ahead import CheckAhead, ChecksAhead
from hingeline_app.report.owner_sheet import DueAgain


def due_again(ahead: ChecksAhead, registration: str, surface: str) -> list[DueAgain]:
    """Give the checks of an aircraft that name this surface or balance, in their order; closed ones are left out."""
    return [_due(each) for each in ahead.checks if _is_about(each, registration, surface)]


def _is_about(each: CheckAhead, registration: str, surface: str) -> bool:
    words = each.task.name.casefold()
    named = any(word in words for word in (surface.casefold(), surface.partition(",")[0].casefold(), "balanc"))
    return each.state.aircraft == registration and named and each.state.state not in ("closed", "not applicable")


def _due(each: CheckAhead) -> DueAgain:
    hours, landings = each.state.due_at.hours, each.state.due_at.landings
    return DueAgain(
        each.task.name,
        each.state.state,
        each.state.due_date,
        "" if hours is None else str(hours),
        "" if landings is None else str(landings),
    )

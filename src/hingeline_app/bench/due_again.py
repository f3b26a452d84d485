"""When a surface is due again, as sentences for its owner, from the checks ahead."""

from __future__ import annotations

from hingeline_app.records.queries.checks_ahead import CheckAhead, ChecksAhead


def due_again(ahead: ChecksAhead, registration: str, surface: str) -> list[str]:
    """Give the checks of an aircraft that name this surface or balance, in their order; closed ones are left out."""
    return [_sentence(each) for each in ahead.checks if _is_about(each, registration, surface)]


def _is_about(each: CheckAhead, registration: str, surface: str) -> bool:
    words = each.task.name.casefold()
    named = any(word in words for word in (surface.casefold(), surface.partition(",")[0].casefold(), "balanc"))
    return each.state.aircraft == registration and named and each.state.state not in ("closed", "not applicable")


def _sentence(each: CheckAhead) -> str:
    return f"{each.task.name}: {each.state.state}{_when(each)}."


def _when(each: CheckAhead) -> str:
    point = each.state.due_at
    ends = [
        f"on {each.state.due_date.isoformat()}" if each.state.due_date else "",
        f"at {point.hours} h" if point.hours is not None else "",
        f"at {point.landings} landings" if point.landings is not None else "",
    ]
    said = " or ".join(end for end in ends if end)
    return f", {said}" if said else ""

"""What was found when the server started: shown on the ledger's page, and asked before anything is signed."""

from __future__ import annotations

from hingeline_app.records.looking.findings import Findings

_found: list[Findings] = []


def remember(findings: Findings) -> None:
    """Keep the newest look at the records."""
    _found[:] = [findings]


def last_look() -> Findings | None:
    """Give the newest look, if there was one."""
    return _found[0] if _found else None


def signing_is_held() -> bool:
    """Whether the newest look found something that no signature may be put under."""
    findings = last_look()
    return findings is not None and not findings.may_sign

"""What was found when the records were looked at, and what it stops."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from typing import Any

FORMAT = "hingeline/ledger-verify/1"

# What a finding stops: the start of the program, signing, or nothing.
START, SIGNING, NOTHING = "start", "signing", "nothing"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is not as it should be.

    ``what`` is one of: setting, program, schema, trigger, chain, other chain, row, signature, journal, attachment,
    head, clock, limits.
    """

    what: str
    where: str
    says: str
    stops: str = SIGNING
    remedy: str = ""


@dataclass(frozen=True, slots=True)
class ChainState:
    """One chain, and since when it is whole: from the entry after the last place where it does not hold."""

    workshop: str
    name: str
    chain: str
    entries: int
    first_at: str
    last_at: str
    head: str
    is_whole: bool
    whole_since_position: int
    whole_since: str
    proved_by_head_up_to: int


@dataclass(frozen=True, slots=True)
class Findings:
    """All that was looked at."""

    at: str
    database: dict[str, str]
    chains: tuple[ChainState, ...] = ()
    findings: tuple[Finding, ...] = field(default=())

    @property
    def may_start(self) -> bool:
        """Whether the program may serve pages at all."""
        return all(each.stops != START for each in self.findings)

    @property
    def may_sign(self) -> bool:
        """Whether anything may be signed."""
        return all(each.stops == NOTHING for each in self.findings)

    def document(self) -> dict[str, Any]:
        """Give everything as plain data."""
        return {
            "format": FORMAT,
            "at": self.at,
            "whole": self.may_sign,
            "may_start": self.may_start,
            "may_sign": self.may_sign,
            "database": self.database,
            "chains": [asdict(each) for each in self.chains],
            "findings": [asdict(each) for each in self.findings],
        }


def findings_of(document: Mapping[str, Any]) -> Findings:
    """Read what was found from its plain data."""
    return Findings(
        document["at"],
        dict(document["database"]),
        tuple(ChainState(**each) for each in document["chains"]),
        tuple(Finding(**each) for each in document["findings"]),
    )

"""A fresh proof of identity: who, how, when, and over what. A signature takes one, never the session alone."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID


@dataclass(frozen=True)
class Proof:
    """What a person just proved.

    ``over`` is the digest of what is signed, ``evidence`` what a passkey answered for those bytes:
    anybody with the passkey's public half can check it again.
    """

    person: UUID
    account: UUID | None
    how: str
    at: datetime
    over: str = ""
    evidence: dict[str, str] = field(default_factory=dict)

    def as_note(self) -> dict[str, Any]:
        """Give the proof as an entry says it."""
        return {
            "person": str(self.person),
            "account": str(self.account) if self.account else None,
            "how": self.how,
            "at": self.at.isoformat(timespec="milliseconds").replace("+00:00", "Z"),
            "over": self.over,
            "evidence": self.evidence,
        }

"""What came out of a self-test."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline.document import document_format


@dataclass(frozen=True, slots=True)
class Value:
    """One published number, and what this machine makes of it; None where it could not be computed."""

    name: str
    published: float
    here: float | None
    tolerance: float
    agrees: bool


@dataclass(frozen=True, slots=True)
class CaseOutcome:
    """One published case. ``fault`` says what went wrong where it could not be computed at all."""

    id: str
    title: str
    source: str
    provenance: str
    note: str
    values: tuple[Value, ...]
    agrees: bool
    fault: str | None = None


@dataclass(frozen=True, slots=True)
class TwoRoutes:
    """Weighings computed by both routes. ``largest_difference`` is over what rounding explains: 1 at most."""

    weighings: int
    agreeing: int
    largest_difference: float
    first_fault: str | None
    agrees: bool


@document_format("hingeline/selftest/1")
@dataclass(frozen=True, slots=True)
class SelfTest:
    """All of it, and whether this installation may be used."""

    agrees: bool
    sentence: str
    cases: tuple[CaseOutcome, ...]
    two_routes: TwoRoutes
    cautions: tuple[str, ...]

"""The family of errors.

    HingelineError
    ├── InputRefused (ValueError)        what was given cannot be used; says how to mend it
    ├── RoutesDisagree (ArithmeticError) two computations differ: our own fault, no statement is made
    └── MissingExtra (ImportError)       an optional part is not installed; says what installs it

An ``InputRefused`` carries one :class:`Refusal` for each fault, so that a whole
file can be mended in one go.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Refusal:
    """One thing that was refused.

    Parameters
    ----------
    field : str
        Where it stands, as a path: ``support[0].readings[2]``. Empty for a bare value.
    value : str
        What was given, as it was given.
    expected : str
        What would have been accepted.
    remedy : str
        How to mend it: a sentence.
    """

    field: str
    value: str
    expected: str
    remedy: str

    def __str__(self) -> str:
        place = f"{self.field}: " if self.field else ""
        return f'{place}"{self.value}" is refused. Expected {self.expected}. {self.remedy}'


class HingelineError(Exception):
    """Everything that Hingeline raises on purpose."""


class InputRefused(HingelineError, ValueError):
    """What was given cannot be used.

    Parameters
    ----------
    refusals : iterable of Refusal
        At least one.
    """

    def __init__(self, refusals: Iterable[Refusal]) -> None:
        self.refusals = tuple(refusals)
        super().__init__("\n".join(str(refusal) for refusal in self.refusals))

    @classmethod
    def of(cls, field: str, value: object, expected: str, remedy: str) -> InputRefused:
        """Refuse a single value."""
        return cls([Refusal(field, str(value), expected, remedy)])

    def at(self, field: str) -> InputRefused:
        """Give the same refusals, placed at ``field``, for a caller who knows where the value stood."""
        return type(self)(replace(refusal, field=field + refusal.field) for refusal in self.refusals)


class RoutesDisagree(HingelineError, ArithmeticError):
    """Two independent computations of one number differ by more than rounding explains.

    Parameters
    ----------
    quantity : str
        The number that was computed twice.
    first, second : str
        Both results, to the last digit.
    allowed : str
        The largest difference that rounding explains.
    """

    def __init__(self, quantity: str, first: str, second: str, allowed: str) -> None:
        self.quantity, self.first, self.second, self.allowed = quantity, first, second, allowed
        super().__init__(
            f"No statement: two computations of the {quantity} disagree ({first} and {second}; "
            f"rounding explains at most {allowed}). This is a fault of the program, not of your work. "
            "Do not use any number from this run."
        )


class MissingExtra(HingelineError, ImportError):
    """An optional part of the program is not installed."""

"""What was asked of a recording, in a form that is kept beside the answer: asked again, it answers the same."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked.

    Parameters
    ----------
    columns : mapping of str to str
        Our name of a column or channel to the file's.
    captured_at : float, optional
        Pictures or rows a second that were really taken, as somebody says [1/s].
    time_unknown : bool
        Nobody knows how a second of the file relates to a true one, whatever the file says.
    marks : str
        A marks file, as text; empty for what is no video.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    captured_at: float | None = None
    time_unknown: bool = False
    marks: str = ""

    def plain(self) -> dict[str, Any]:
        """Give it as plain data."""
        return asdict(self) | {"columns": dict(self.columns)}


def asked_of(plain: Mapping[str, Any]) -> Asked:
    """Read what was kept."""
    return Asked(
        columns={str(ours): str(theirs) for ours, theirs in plain.get("columns", {}).items()},
        captured_at=plain.get("captured_at"),
        time_unknown=bool(plain.get("time_unknown", False)),
        marks=str(plain.get("marks", "")),
    )

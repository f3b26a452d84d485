"""One entry as it was sent: who, on which job, what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.utils.datastructures import MultiValueDict

from hingeline.errors import InputRefused
from hingeline_app.records.write_door import Actor, Command


@dataclass(frozen=True)
class Told:
    """One entry."""

    actor: Actor
    job: UUID
    number: int
    fields: Mapping[str, str]
    command: Command | None
    files: MultiValueDict[str, Any]

    def text(self, name: str, default: str = "") -> str:
        """Give a field's text."""
        return self.fields.get(name, default)

    def all_files(self, name: str) -> list[Any]:
        """Give every file that was sent under a name."""
        return list(self.files.getlist(name))

    def identifier(self, name: str) -> UUID:
        """Give a field that names a row.

        Raises
        ------
        InputRefused
            It is no identifier.
        """
        try:
            return UUID(self.text(name))
        except ValueError:
            raise InputRefused.of(name, self.text(name), "one of the page's choices", "Load the page again.") from None

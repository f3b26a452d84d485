"""What one run of a command holds: the input it read, so that it can be kept when something goes wrong."""

from __future__ import annotations

import sys
from dataclasses import dataclass, field
from pathlib import Path

from hingeline.errors import InputRefused

STANDARD_INPUT = "-"
LARGEST_INPUT = 60_000_000


@dataclass
class Run:
    """One run of a command."""

    arguments: tuple[str, ...] = ()
    inputs: dict[str, bytes] = field(default_factory=dict)

    @property
    def wants_json(self) -> bool:
        """Whether the answer is to be one JSON document."""
        return "--json" in self.arguments

    def read(self, name: str) -> bytes:
        """Read a file, or standard input where ``name`` is ``-``, and remember it.

        Raises
        ------
        InputRefused
            It cannot be read, or is too large for any input.
        """
        self.inputs[name] = data = _standard_input() if name == STANDARD_INPUT else _file(name)
        if len(data) > LARGEST_INPUT:
            raise InputRefused.of("FILE", name, f"at most {LARGEST_INPUT} bytes", "Give the right file.")
        return data


def _standard_input() -> bytes:
    if sys.stdin is None:
        raise InputRefused.of("FILE", STANDARD_INPUT, "something on standard input", "It is closed: name a file.")
    return sys.stdin.buffer.read(LARGEST_INPUT + 1)


def _file(name: str) -> bytes:
    if not name:
        raise InputRefused.of("FILE", name, "a file that can be read", "Name a file; - reads standard input.")
    try:
        with Path(name).open("rb") as file:
            return file.read(LARGEST_INPUT + 1)
    except FileNotFoundError:
        remedy = "There is none of this name here: check it, and the folder; - reads standard input."
    except IsADirectoryError:
        remedy = "That is a folder: name a file in it."
    except PermissionError:
        remedy = "You may not read it: ask for the right."
    except (OSError, ValueError) as fault:
        remedy = f"It cannot be read ({getattr(fault, 'strerror', None) or fault}): name another."
    raise InputRefused.of("FILE", name, "a file that can be read", remedy) from None

"""A tap's modes as lines for a flutter file: the frequency with its uncertainty, and where it came from."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.figures.wording import format_number, places_for

NORMAL_95 = 1.959964
"""Half the interval at 95 % over the standard uncertainty, of a normal distribution."""


def flutter_lines(document: Mapping[str, Any], fields: Sequence[str], sha256: str) -> str:
    """Write lines for a flutter file, the strongest mode for the first field.

    Parameters
    ----------
    document : mapping
        A tap result.
    fields : sequence of str
        As they are named in a flutter file: ``tailplane.support_frequency``.
    sha256 : str
        Of the recording.

    Raises
    ------
    InputRefused
        There are not so many modes, one has no interval, the time scale is unknown, or a field has no table.
    """
    modes = document["modes"]
    if len(fields) > len(modes):
        shown = document["refused"] or f"{len(modes)} modes"
        raise InputRefused.of("--into", ", ".join(fields), "a mode for each field", f"The recording gives: {shown}")
    blocks = [_block(field, modes[index], index + 1, document, sha256) for index, field in enumerate(fields)]
    head = "# From a tap test on the ground. Put each line where its comment says.\n"
    return head + "\n".join(blocks)


def _block(field: str, mode: Mapping[str, Any], number: int, document: Mapping[str, Any], sha256: str) -> str:
    table, dot, name = field.rpartition(".")
    if not dot:
        raise InputRefused.of("--into", field, "a table and a name", "As tailplane.support_frequency.")
    value, standard = natural_frequency(mode)
    places = max(0, places_for(standard, 2))
    number_text, standard_text = (format_number(each, places).replace("\u2212", "-") for each in (value, standard))
    said = f"tap test {document['name'] or 'recording'}, mode {number} of {len(document['modes'])}, SHA-256 {sha256}"
    return (
        f"\n# under [{table}]\n"
        f'{name} = {{value = "{number_text} Hz", standard = "{standard_text} Hz"}}\n'
        f"\n# under [sources]\n{_quoted(field)} = {_quoted(said)}\n"
    )


def _quoted(words: str) -> str:
    """Write a text as TOML takes it: a JSON string is one, once its last control character is escaped too."""
    return json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")


def natural_frequency(mode: Mapping[str, Any]) -> tuple[float, float]:
    """Give a mode's undamped natural frequency with its standard uncertainty, f/√(1 - ζ²) [Hz].

    Raises
    ------
    InputRefused
        The frequency has no interval.
    """
    frequency, damping = mode["frequency"], mode["damping_ratio"]["value"]
    if frequency["low"] is None:
        remedy = "Tap again: a longer ring, a higher rate."
        raise InputRefused.of("frequency", frequency["value"], "a frequency with its interval", remedy)
    factor = 1.0 / math.sqrt(1.0 - damping**2)
    standard = (frequency["high"] - frequency["low"]) / 2.0 / NORMAL_95
    return factor * frequency["value"], factor * standard

"""A file that is made for another command, or by a newer version, is refused as that."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from hingeline.errors import InputRefused

COMMANDS = {
    "hingeline/weighing": "hingeline weigh",
    "hingeline/limits": "hingeline limits",
    "hingeline/ballast": "hingeline ballast",
    "hingeline/coating": "hingeline coating",
    "hingeline/swing": "hingeline swing",
    "hingeline/dynamic": "hingeline dynamic",
    "hingeline/flutter": "hingeline flutter",
    "hingeline/stick": "hingeline stick",
    "hingeline/marks": "hingeline motion --marks",
    "hingeline/due": "hingeline due",
    "hingeline/arm": "hingeline arm",
}


def refuse_other_format(document: Mapping[str, Any], wanted: str) -> None:
    """Refuse a file of another format before its fields are looked at: they would all be strange.

    Raises
    ------
    InputRefused
        With one refusal. What is no known format at all is left to the reader of the fields.
    """
    given = document.get("format")
    if not isinstance(given, str) or given == wanted:
        return
    (family, _, number), (ours, _, version) = given.rpartition("/"), wanted.rpartition("/")
    if family in COMMANDS and family != ours:
        remedy = f'Use "{COMMANDS[family]}" for this file.'
        raise InputRefused.of("format", given[:120], f'"{wanted}"', remedy)
    if family == ours and re.fullmatch("[0-9]{1,5}", number) and int(number) > int(version):
        remedy = f"A newer version of Hingeline made it, and this one reads up to {wanted}: use the newer one."
        raise InputRefused.of("format", given[:120], f'"{wanted}"', remedy)

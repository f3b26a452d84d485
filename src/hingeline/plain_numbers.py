"""Arrays and numbers of a numerical library, given in a record, become plain tuples and floats."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

Record = TypeVar("Record")


def plainly(record: Record) -> Record:
    """Give a record whose arrays are tuples and whose numbers are plain; the record itself where they are already.

    Examples
    --------
    >>> import numpy as np
    >>> from hingeline.balance import Support
    >>> plainly(Support(arm=np.float64(0.25), readings=np.array([0.5, 0.75]))).readings
    (0.5, 0.75)
    """
    plain: Record = _plain(record)
    return plain


def _plain(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        was = {field.name: getattr(value, field.name) for field in fields(value)}
        now = {name: _plain(each) for name, each in was.items()}
        changed = {name: each for name, each in now.items() if each is not was[name]}
        return replace(value, **changed) if changed else value
    if isinstance(value, tuple):
        items = tuple(_plain(each) for each in value)
        return items if any(one is not other for one, other in zip(items, value, strict=True)) else value
    if hasattr(value, "tolist"):
        value = value.tolist()
    return tuple(_plain(each) for each in value) if isinstance(value, list) else value

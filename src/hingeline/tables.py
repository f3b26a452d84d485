"""Tables of numbers: data files that lie beside their room, read here and nowhere else.

This is the only place in the library that reaches a file, and it reaches only
files of the library itself. Whoever reads a table may not change it: it is kept
and given to the next reader as it is.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def read_table(package: str, name: str) -> dict[str, Any]:
    """Read a TOML data file that is part of the library.

    Parameters
    ----------
    package : str
        The room it lies in, such as ``"hingeline.units"``.
    name : str
        The file's name, without a folder, such as ``"table.toml"``.

    Returns
    -------
    dict
        The table, read once and then kept: do not change it.

    Raises
    ------
    ValueError
        If the name leads out of the room.
    FileNotFoundError
        If the room has no such file.

    Examples
    --------
    >>> read_table("hingeline.units", "table.toml")["dimension"]["length"]["si"]
    'm'
    """
    if "/" in name or "\\" in name or not name.endswith(".toml"):
        raise ValueError(f'"{name}" is not the name of a table beside {package}: write for example table.toml')
    return tomllib.loads(files(package).joinpath(name).read_text(encoding="utf-8"))

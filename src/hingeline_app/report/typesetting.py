"""The typesetter: here, or with a limit of time in a process of its own, so that one that never ends is cut off.

A command that hangs can be ended by the person before it. Pages cannot: the server names a limit, and a sheet that is
not made within it is told as not made. What was recorded has nothing to do with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any

from hingeline.errors import MissingExtra
from hingeline_app.report.fonts import FOLDER
from hingeline_app.report.invented import MARK, NAME, words_on_each_page
from hingeline_app.report.typesetters import Typesetters

if TYPE_CHECKING:
    import typst

_kept: list[Typesetters] = []
"""Where a limit was named: the processes that set sheets within it."""


def limit_typesetting(seconds: float | None) -> None:
    """Let sheets be set by processes that are ended after so many seconds; None: here, without a limit."""
    for each in _kept:
        each.end()
    _kept[:] = [] if seconds is None else [Typesetters(seconds)]


def typeset(source: bytes, inputs: Mapping[str, str], standard: str, what: str = "Worksheets") -> bytes:
    """Set a sheet and give the PDF.

    Raises
    ------
    MissingExtra
        The typesetter is not installed.
    SheetNotMade
        It did not end within the limit, or crashed.
    """
    _refuse_without(what)
    if words := words_on_each_page():
        source, inputs = MARK + source, {**inputs, NAME: words}
    if _kept:
        return _kept[0].ask({"source": source.decode(), "inputs": dict(inputs), "standard": standard})
    return set_here(source, inputs, standard)


def asked(source: bytes, label: str, inputs: Mapping[str, str]) -> str:
    """Set a sheet and give what stands under a label of it, as JSON.

    Raises
    ------
    MissingExtra, SheetNotMade
        As for :func:`typeset`.
    """
    _refuse_without("Worksheets")
    if _kept:
        return _kept[0].ask({"source": source.decode(), "inputs": dict(inputs), "label": label}).decode()
    return asked_here(source, label, inputs)


def set_here(source: bytes, inputs: Mapping[str, str], standard: str) -> bytes:
    """Set a sheet in this process."""
    import typst

    standards: Any = [standard]
    pdf = typst.compile(source, font_paths=fonts(), sys_inputs=dict(inputs), pdf_standards=standards)
    assert isinstance(pdf, bytes)
    return pdf


def asked_here(source: bytes, label: str, inputs: Mapping[str, str]) -> str:
    """Ask a sheet in this process."""
    import typst

    return str(typst.query(source, label, field="value", font_paths=fonts(), sys_inputs=dict(inputs)))


@cache
def fonts() -> typst.Fonts:
    """Return our own fonts alone: neither those of the computer nor those of the typesetter."""
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FOLDER)])


def _refuse_without(what: str) -> None:
    try:
        import typst  # noqa: F401
    except ImportError as missing:
        raise MissingExtra(f'{what} need the package typst: pip install "hingeline[app]".') from missing

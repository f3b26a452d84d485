"""The answer of a command on a workshop's records: one JSON document, or its page."""

from __future__ import annotations

from typing import Any

from hingeline_app.cli.output import with_about, write_json


def answer(document: dict[str, Any], as_json: bool, page: str) -> None:
    """Write it.

    Parameters
    ----------
    document : dict
    as_json : bool
    page : str
        The function of ``records_page`` that shows it; loaded only where a page is asked for.
    """
    if as_json:
        write_json(with_about(document))
        return
    from hingeline_app.cli import records_page

    getattr(records_page, page)(document)

"""The record inside a worksheet, worked out again and compared with the result beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import hingeline
from hingeline_app.files.again import differing, is_wording
from hingeline_app.replaying.changed_rules import changed_rules
from hingeline_app.replaying.worked_out import worked_out_again
from hingeline_app.report import ReadWorksheet, record_digest

FORMAT = "hingeline/replay/1"
COATING = "hingeline/coating-result/1"


def sheet_replayed(sheet: ReadWorksheet) -> dict[str, Any]:
    """Work a sheet's input out anew, to the last digit, and compare its check sum with the printed one.

    Raises
    ------
    InputRefused
        The input inside cannot be read by this version.
    """
    again = worked_out_again(sheet.result["format"], sheet.weighing_text.encode("utf-8"))
    kept = {name: value for name, value in sheet.result.items() if name not in ("about", "monte_carlo")}
    told = list(differing("", kept, again))
    differences = [each for each in told if not is_wording(each)]
    digest = record_digest(sheet.weighing_text, sheet.result)
    made_by = _made_by(sheet.result)
    rules = changed_rules(sheet.result["format"], made_by, differences, again)
    return {
        "format": FORMAT,
        "same": not differences,
        "differences": differences,
        "worded_otherwise": [each for each in told if is_wording(each)],
        "check_sum": digest,
        "check_sum_printed": sheet.printed_digest,
        "check_sum_holds": digest == sheet.printed_digest,
        "made_by_version": made_by,
        "version": hingeline.__version__,
        "surface": _name_of(again),
        **_found(again),
        "cautions": [*rules, *_read_as_then(sheet), *again["cautions"]],
    }


def _made_by(result: Mapping[str, Any]) -> str | None:
    about = result.get("about")
    version = about.get("version") if isinstance(about, Mapping) else None
    return version if isinstance(version, str) else None


def _read_as_then(sheet: ReadWorksheet) -> Iterator[str]:
    """Say what a sheet of before holds that is refused today, and how it was read: as it was then."""
    if sheet.result["format"] != COATING:
        return
    from hingeline_app.files.coating_file import read_as_then

    for each in read_as_then(sheet.weighing_text.encode("utf-8")):
        yield (
            f"{each.field} is {each.value}: read as a part of the value, as when the sheet was made. Was it meant in "
            "points of the whole? Then the ± is too small: predict again."
        )


def _name_of(again: Mapping[str, Any]) -> str:
    surfaces = again.get("surfaces") or [again.get("surface") or {"name": again.get("name")}]
    return " and ".join(each.get("name") or "the surface" for each in surfaces)


def _found(again: Mapping[str, Any]) -> dict[str, Any]:
    """Give the finding; what is predicted, or an inertia, keeps its own name."""
    found = {"statement": again.get("statement"), "static_moment": again.get("static_moment")}
    if "inertia" in again:
        found["inertia"] = again["inertia"]
    if "rule" in again and "moment_after" in again:
        found |= {
            "statement": again.get(f"statement_before_{again['rule']}"),
            "static_moment": again["moment_before"],
            "predicted_statement": again["predicted_statement"],
            "predicted_moment": again["moment_after"],
        }
    return found

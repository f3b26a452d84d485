"""What a weighing itself adds to the ±, cause by cause, over what its scale and its stand already say."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.typed import as_a_file_takes
from hingeline_app.records.queries.jobs import MeasurementRecord

OF_READINGS, OF_ARMS = ("mass", "force", "ratio"), ("length", "ratio")


class Cause(NamedTuple):
    """A cause of uncertainty by the name that a weighing file gives it."""

    name: str
    dimensions: tuple[str, ...]
    words: str
    example: str


CAUSES = (
    Cause("arm", OF_ARMS, "Arms as measured", "2 mm"),
    Cause("level", ("angle",), "Level", "0.5 deg"),
    Cause("friction", OF_READINGS, "Friction, as the scale shows it", "10 g"),
    Cause("calibration", OF_READINGS, "Calibration of the scale", "10 g"),
    Cause("scale", OF_READINGS, "Step of the scale", "5 g"),
    Cause("air", OF_READINGS, "Moving air, as the scale shows it", "1 g"),
)
BY_NAME = {each.name: each for each in CAUSES}
LIMIT, STANDARD, EXPANDED, RESOLUTION = "limit", "standard", "expanded", "resolution"
# How a ± may be meant; an expanded one is with k = 2, as certificates state it.
MEANT = (LIMIT, STANDARD, EXPANDED, RESOLUTION)
K = 2


@dataclass(frozen=True)
class OwnUncertainty:
    """One cause: what this weighing states, as it is typed and kept, and what holds where it states nothing."""

    cause: Cause
    value: str
    meant: str
    was: str
    otherwise: str


def own_uncertainties(weighing: MeasurementRecord) -> tuple[OwnUncertainty, ...]:
    """Give every cause with what is stated of it."""
    own = weighing.set_up.get("uncertainty") or {}
    return tuple(_own(each, own.get(each.name), _otherwise(each.name, weighing)) for each in CAUSES)


def stated_as(name: str, meant: str, typed: str) -> dict[str, Any] | None:
    """Give the table of a weighing file for a ± as typed; None where nothing was typed.

    Raises
    ------
    InputRefused
        There is no such cause; it cannot be meant so; it is no quantity of that kind, or not above zero.
    """
    cause = BY_NAME.get(name)
    if cause is None:
        raise InputRefused.of("cause", name, " or ".join(BY_NAME), "Load the page again.")
    if meant not in MEANT:
        raise InputRefused.of("±", meant, " or ".join(MEANT), "Choose one of them.")
    bare = typed.strip().removeprefix("±").strip()
    if not bare:
        return None
    text = as_a_file_takes(bare, *cause.dimensions, field=cause.words)
    if read(text, cause.dimensions, field=cause.words) <= 0.0:
        remedy = f"Write for example {cause.example}; empty it where this weighing adds nothing."
        raise InputRefused.of(cause.words, typed, "a ± above zero", remedy)
    return {meant: text, **({"k": K} if meant == EXPANDED else {})}


def stated_words(table: Mapping[str, Any]) -> str:
    """Say what a table states."""
    meant = next((each for each in MEANT if table.get(each)), "")
    words = {
        LIMIT: "± {0} at most",
        STANDARD: "standard uncertainty {0}",
        EXPANDED: "± {0}, expanded, k = {1}",
        RESOLUTION: "steps of {0}",
    }
    return words[meant].format(table[meant], table.get("k", "as stated")) if meant else "as its file says"


def _own(cause: Cause, table: Any, otherwise: str) -> OwnUncertainty:
    stated: Mapping[str, Any] = table if isinstance(table, Mapping) else {}
    meant = next((each for each in MEANT if stated.get(each)), RESOLUTION if cause.name == "scale" else LIMIT)
    return OwnUncertainty(
        cause, str(stated.get(meant) or ""), meant, json.dumps(dict(stated) or None, sort_keys=True), otherwise
    )


def _otherwise(name: str, weighing: MeasurementRecord) -> str:
    """Say what the stand, or else the scale, states of a cause; the stand's counts where both do."""
    for holder in (weighing.stand or {}, weighing.scale or {}):
        table = (holder.get("uncertainty") or {}).get(name)
        if isinstance(table, Mapping):
            return f"{holder['name']}: {stated_words(table)}"
    step = (weighing.scale or {}).get("step")
    return f"{(weighing.scale or {})['name']}: steps of {step}" if name == "scale" and step else ""

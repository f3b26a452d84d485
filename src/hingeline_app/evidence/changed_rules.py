"""Which rule changed since a finding was kept, where working it out again says something else by that rule."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

GROWS, GOES_ON = "a swing grows under the decay", "a swing goes on under the decay"
ChangedRule = Literal["grows", "goes on", "contradicts", ""]
BY_THE_OLD_RULE = "1.0.0"
SERIES_BY_THE_OLD_RULE = frozenset({"1.0.0", "1.1.0"})
OF_A_SERIES = (
    "The rule changed: one of its recordings was “dying out” and is “cannot tell” now. Treat that motion as "
    "self-excited until that is excluded."
)
OF_THE_RECORDING = ("name", "source", "time_scale")
"""What no rule for a statement changes: where one of these differs, more than a rule did."""


def changed_rule(kept: Mapping[str, Any], again: Mapping[str, Any], software: str) -> ChangedRule:
    """Tell which rule made another statement of the same recording; empty where no change of a rule is known.

    Version 1.0.0 called a decay "dying out" by its first cycles; later versions look at its end too (decision 0213).
    It kept that statement beside fitted swings that said the opposite, too; later versions withdraw it.

    Parameters
    ----------
    kept, again : mapping
        Motion results: as it was kept, and as it is worked out now.
    software : str
        The version that kept it. A later one has the rule: what it kept, and says otherwise now, is another difference.
    """
    if software != BY_THE_OLD_RULE or any(kept.get(name) != again.get(name) for name in OF_THE_RECORDING):
        return ""
    if (kept.get("statement"), again.get("statement")) != ("dying out", "cannot tell"):
        return ""
    rules: dict[Any, ChangedRule] = {GROWS: "grows", GOES_ON: "goes on"}
    return rules.get(again.get("ground"), "contradicts" if _contradicts_itself(kept) else "")


def changed_rule_of_series(kept: Mapping[str, Any], again: Mapping[str, Any], software: str) -> str:
    """Say of a series that a recording of it is judged by a rule that changed; empty where none is.

    A series withdraws a decay that its own fitted swings contradict since version 1.2.0, and takes the rules for one
    recording as :func:`changed_rule` does.
    """
    if software not in SERIES_BY_THE_OLD_RULE:
        return ""
    statements = zip(_seen(kept), _seen(again), strict=False)
    return OF_A_SERIES if ("dying out", "cannot tell") in statements else ""


def _seen(series: Mapping[str, Any]) -> list[Any]:
    return [each.get("statement") for point in series.get("points", ()) for each in point.get("seen", ())]


def _contradicts_itself(kept: Mapping[str, Any]) -> bool:
    """Whether the numbers beside a decay say that it grows, or that no frequency was told.

    Its interval holds nought, or it lies beyond half the rate of the samples.
    """
    damping, frequency = kept.get("damping_ratio"), kept.get("frequency")
    grows = damping is not None and damping["value"] <= 0.0
    if frequency is None:
        found = lowest = kept.get("frequency_per_file_second")
    else:
        found, lowest = frequency["value"], frequency["low"]
    half = _half_the_rate(kept)
    return bool(grows or _at_most(lowest, 0.0) or (half is not None and found is not None and found >= half))


def _at_most(value: float | None, limit: float) -> bool:
    return value is not None and value <= limit


def _half_the_rate(kept: Mapping[str, Any]) -> float | None:
    """Give half the rate of the samples, by what was measured of the strongest motion; None where that is not there."""
    measured = {each["measure"]: each["value"] for each in kept.get("evidence", ())}
    samples, peak = measured.get("samples a cycle"), measured.get("frequency, by the spectrum's peak")
    return None if samples is None or peak is None else float(samples * peak / 2.0)

"""Which rule changed since a finding was kept, where working it out again says something else by that rule."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

GROWS, GOES_ON = "a swing grows under the decay", "a swing goes on under the decay"
ChangedRule = Literal["grows", "goes on", ""]
BY_THE_OLD_RULE = "1.0.0"
OF_THE_RECORDING = ("name", "source", "time_scale")
"""What no rule for a statement changes: where one of these differs, more than a rule did."""


def changed_rule(kept: Mapping[str, Any], again: Mapping[str, Any], software: str) -> ChangedRule:
    """Tell which rule made another statement of the same recording; empty where no change of a rule is known.

    Version 1.0.0 called a decay "dying out" by its first cycles; later versions look at its end too (decision 0213).

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
    return rules.get(again.get("ground"), "")

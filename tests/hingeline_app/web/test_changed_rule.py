"""A kept finding by a rule that changed is told as a change, with what it says now, and not as a fault."""

from __future__ import annotations

import pytest
from django.template.loader import render_to_string

from hingeline_app.evidence.changed_rules import GOES_ON, GROWS, changed_rule

KEPT = {"statement": "dying out", "ground": "it dies out"}


@pytest.mark.parametrize(("ground", "rule"), [(GROWS, "grows"), (GOES_ON, "goes on")])
def test_the_rule_that_changed_is_known_by_its_ground(ground: str, rule: str) -> None:
    """The grounds are those of the library's verdicts, by their exact words."""
    from hingeline.motion.onset import UNDER_A_DECAY

    assert ground in UNDER_A_DECAY
    assert changed_rule(KEPT, {"statement": "cannot tell", "ground": ground}, "1.0.0") == rule


@pytest.mark.parametrize(("kept", "software"), [({}, "1.1.0"), ({"source": "another.csv"}, "1.0.0")])
def test_no_rule_explains_what_a_later_version_kept_or_what_no_rule_changes(
    kept: dict[str, object], software: str
) -> None:
    """A finding that was altered would pass for one by the rule of before, and its difference for no fault."""
    now = {"statement": "cannot tell", "ground": GROWS}
    assert changed_rule(KEPT | kept, now, software) == ""


def test_any_other_difference_is_no_change_of_a_rule() -> None:
    assert changed_rule(KEPT, {"statement": "cannot tell", "ground": "too short"}, "1.0.0") == ""
    assert changed_rule(KEPT | {"statement": "growing"}, {"statement": "cannot tell", "ground": GROWS}, "1.0.0") == ""
    assert changed_rule(KEPT, KEPT | {"cycles": 4}, "1.0.0") == ""


def test_the_page_says_what_changed_since_which_version_and_what_it_is_now() -> None:
    shown = {"finding": {"software": "1.0.0"}, "again": [{"field": "ground", "kept": "a", "again": "b"}]}
    page = render_to_string("web/recording_same.html", shown | {"same": False, "changed_rule": "grows"})
    assert "Kept by version 1.0.0 as “dying out”, by the rule of version 1.0.0." in page
    assert "says “cannot tell”" in page
    assert "Treat it as self-excited" in page
    assert "It differs" not in page
    assert "It differs" in render_to_string("web/recording_same.html", shown | {"same": False, "changed_rule": ""})

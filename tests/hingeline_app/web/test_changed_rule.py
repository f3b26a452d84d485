"""A kept finding by a rule that changed is told as a change, with what it says now, and not as a fault."""

from __future__ import annotations

import pytest
from django.template.loader import render_to_string

from hingeline_app.evidence.changed_rules import GOES_ON, GROWS, OF_A_SERIES, changed_rule, changed_rule_of_series
from hingeline_app.said import reading_in, says

KEPT = {"statement": "dying out", "ground": "it dies out"}
WITHDRAWN = {"statement": "cannot tell", "ground": "the level changes"}
PEAK = ({"measure": "samples a cycle", "value": 16.0}, {"measure": "frequency, by the spectrum's peak", "value": 7.5})
SOUND = {
    "damping_ratio": {"value": 0.03, "low": 0.02, "high": 0.04},
    "frequency": {"value": 7.5, "low": 7.4, "high": 7.6},
    "evidence": PEAK,
}


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


@pytest.mark.parametrize(
    "numbers",
    [
        # As version 1.0.0 answers to three spoiled recordings of a steady shaking (motion, fits that run away).
        {
            "damping_ratio": {"value": -0.9952, "low": -0.99521, "high": -0.99518},
            "frequency": {"value": 56.79, "low": 56.7},
        },
        {"damping_ratio": {"value": -0.104, "low": -0.55, "high": 0.34}},
        {"frequency": {"value": 120.66, "low": -10186.9, "high": 10428.2}, "evidence": ()},
        # Invented: beyond half the rate, 60 in a second; and of a file whose seconds are not known.
        {"frequency": {"value": 61.0, "low": 60.5, "high": 61.5}},
        {"frequency": None, "frequency_per_file_second": -3.0},
    ],
)
def test_a_decay_that_its_own_numbers_contradicted_is_withdrawn_by_a_rule(numbers: dict[str, object]) -> None:
    """It was told as "it differs", though neither recording nor reading changed: the rule did."""
    assert changed_rule(KEPT | SOUND | numbers, WITHDRAWN, "1.0.0") == "contradicts"


def test_a_sound_decay_that_is_none_now_is_explained_by_no_rule() -> None:
    """Where its numbers did not contradict it, something else differs, and the page says so."""
    assert changed_rule(KEPT | SOUND, WITHDRAWN, "1.0.0") == ""
    no_scale = SOUND | {"frequency": None, "frequency_per_file_second": 7.5}
    assert changed_rule(KEPT | no_scale, WITHDRAWN, "1.0.0") == ""


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
    page = render_to_string("web/recording_same.html", shown | {"same": False, "changed_rule": "contradicts"})
    assert "The swings that were fitted to its decay contradict it" in page
    assert "goes on evenly" not in page


def series_of(*statements: str) -> dict[str, object]:
    """A series of one knock at each place."""
    return {"points": [{"at": at, "seen": [{"statement": words}]} for at, words in enumerate(statements)]}


def test_a_series_whose_recording_is_judged_by_a_changed_rule_says_so() -> None:
    """Version 1.1.0 withdrew such a decay from its own answer, and left it in a series as dying out."""
    kept, now = series_of("dying out", "dying out"), series_of("dying out", "cannot tell")
    for software in ("1.0.0", "1.1.0"):
        assert changed_rule_of_series(kept, now, software) == OF_A_SERIES
    assert changed_rule_of_series(kept, now, "1.2.0") == ""
    assert changed_rule_of_series(kept, kept, "1.1.0") == ""
    assert changed_rule_of_series(now, kept, "1.1.0") == ""
    shown = {"finding": {"software": "1.1.0"}, "again": [], "same": False, "rule_of_series": OF_A_SERIES}
    assert OF_A_SERIES in render_to_string("web/recording_same.html", shown)
    for language in ("de", "fr"):
        with reading_in(language):
            assert says(OF_A_SERIES)

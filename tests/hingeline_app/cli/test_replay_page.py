"""What ``hingeline replay`` says first where a result comes out otherwise."""

from __future__ import annotations

from hingeline_app.cli.replay_page import how_it_differs

OF_ROUNDING = {"field": "margin", "kept": "0.004999999999999893", "again": "0.005"}
OF_A_NUMBER = {"field": "margin", "kept": "0.004", "again": "0.005"}


def test_last_digits_alone_are_no_reason_to_distrust_a_worksheet() -> None:
    """Another version rounds them another way."""
    assert how_it_differs([OF_ROUNDING]).startswith("Differs in 1 place by last digits alone")


def test_one_number_that_is_another_one_is_said_of_the_whole() -> None:
    """However many others differ by rounding."""
    said = how_it_differs([OF_ROUNDING, OF_A_NUMBER])
    assert said == "DIFFERS in 2 places: this worksheet is not to be relied on as it is."

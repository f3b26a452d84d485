"""What a line never breaks in: a ± and its number, a number and its unit, k = 2; and what of a page it is put into."""

from __future__ import annotations

import pytest
from django.template import engines

from hingeline_app.said import AsTyped, unbroken
from hingeline_app.web.saying import said_where_read


@pytest.mark.parametrize(
    ("plain", "whole"),
    [
        ("2.106 ± 0.044 N·m tail-heavy", "2.106 ±~0.044~N·m tail-heavy"),
        ("expanded, k = 2", "expanded, k~=~2"),
        ("at 70 mm ahead of the hinge line", "at 70~mm ahead of the hinge line"),
        ("9.81 m/s² and 12 kg m²", "9.81~m/s² and 12~kg m²"),
        ("level ± 0.5 deg, 3 min more", "level ±~0.5~deg, 3~min more"),
        ("7 of 8, 3 in all", "7 of 8, 3 in all"),
        ("page 4 guards", "page 4 guards"),
    ],
)
def test_a_number_is_not_parted_from_what_belongs_to_it(plain: str, whole: str) -> None:
    """The space that holds stands there and nowhere else; before the ± a line may break."""
    assert unbroken(plain).replace("\u00a0", "~") == whole


def test_a_page_holds_its_values_and_its_own_sentences_and_leaves_what_was_typed() -> None:
    """A value, a sentence with such a place, a typed name and a file that is shown to be copied."""
    page = '{% load i18n %}{{ value }}|{% translate "± of the gauge (k = 2)" %}|{{ typed }}|<pre>{{ value }}</pre>'
    made = engines["django"].from_string(said_where_read(page))
    shown = made.render({"value": "± 5 g", "typed": AsTyped("patch 5 g")})
    assert shown == "±\u00a05\u00a0g|± of the gauge (k\u00a0=\u00a02)|patch 5 g|<pre>± 5 g</pre>"

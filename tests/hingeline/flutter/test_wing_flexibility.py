"""The wing's twist under a torque: the one formula of Report 45 that could be sourced."""

from __future__ import annotations

import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.wing_flexibility import (
    FOOT,
    FOOT_POUND,
    MILE_PER_HOUR,
    REPORT_UNIT,
    TwistedStrip,
    largest_flexibility,
    wing_flexibility,
)


def test_the_case_of_a_design_note() -> None:
    """V_d = 287 mph gives 2.428e-3 (a public design note that quotes Report 45, on a light trainer of 2023)."""
    assert largest_flexibility(287 * MILE_PER_HOUR) / REPORT_UNIT == pytest.approx(2.428e-3, abs=5e-7)


def test_the_sum_is_that_of_the_report_in_its_own_units() -> None:
    """Two strips stated in feet and pounds give θ c² ds by hand: 1e-6 x 25 x 10 + 3e-6 x 16 x 8 = 6.34e-4."""
    strips = [
        TwistedStrip(twist / FOOT_POUND, chord * FOOT, width * FOOT)
        for twist, chord, width in ((1e-6, 5.0, 10.0), (3e-6, 4.0, 8.0))
    ]
    assert wing_flexibility(strips) / REPORT_UNIT == pytest.approx(6.34e-4, rel=1e-12)


def test_what_cannot_be_is_refused_by_name() -> None:
    """No strip, a twist of zero, a chord that is no number, and a diving speed above 260 kn are refused."""
    for strips, field in (
        ([], "strip"),
        ([TwistedStrip(0.0, 1.0, 1.0)], "strip[0].twist"),
        ([TwistedStrip(1e-6, 1.0, 1.0), TwistedStrip(1e-6, float("nan"), 1.0)], "strip[1].chord"),
    ):
        with pytest.raises(InputRefused) as refused:
            wing_flexibility(strips)
        assert [one.field for one in refused.value.refusals] == [field]
    with pytest.raises(InputRefused, match="not meant for faster aircraft"):
        largest_flexibility(140.0)

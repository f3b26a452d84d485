"""What stands on every sheet is said once."""

from __future__ import annotations

import pytest

from hingeline.balance.ballast import notes as ballast
from hingeline.balance.coating import notes as coating
from hingeline.balance.swing import notes as swing
from hingeline_app.report.view import with_standing


@pytest.mark.parametrize("own", [(), ballast.CAUTIONS, coating.CAUTIONS, swing.CAUTIONS])
def test_to_work_to_the_approved_data_and_not_a_release_are_said_once(own: tuple[str, ...]) -> None:
    """Whether the result says it or the sheet: neither twice nor not at all, and nothing of the result is lost."""
    said = with_standing(own)
    assert sum("Work to the approved" in caution for caution in said) == 1
    assert " ".join(said).lower().count("not a release") == 1
    assert list(own) == said[: len(own)]

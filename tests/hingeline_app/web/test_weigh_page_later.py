"""A weighing that others followed stands as it was recorded, whatever is corrected of its surface later."""

from __future__ import annotations

import pytest

from hingeline_app.records.actions.aircraft import correct_surface
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.test_weigh_page import READINGS, begun, context, entered, page, read

pytestmark = pytest.mark.django_db


def test_a_depth_corrected_later_changes_nothing_of_an_earlier_weighing(fenholt: Fenholt) -> None:
    """The last one of an open job is looked at again; the first one says what was recorded of it."""
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS)
    entered(fenholt, kind="statement", measurement=str(weighing.pk), seen=context(fenholt)["seen"])
    correct_surface(
        fenholt.mate, fenholt.surface, "measured again", name="Elevator, left half", hinge_to_trailing_edge="280 mm"
    )
    assert context(fenholt)["found"].state == "stale"
    begun(fenholt)
    earlier = page(fenholt, "?weighing=1")
    assert "Something changed after it was recorded." not in earlier
    assert "Recorded." in earlier
    file = fenholt.client("jon").get(f"/job/{fenholt.job}/weighing/1.toml")
    assert (file.status_code, "280 mm" in file.content.decode()) == (200, False), "the file is that of the day too"

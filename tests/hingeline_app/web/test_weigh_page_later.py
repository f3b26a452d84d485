"""A weighing that others followed stands as it was recorded, whatever is corrected of its surface later."""

from __future__ import annotations

import pytest

from hingeline_app.files.ballast_file import read_ballast
from hingeline_app.records.actions.aircraft import correct_surface
from hingeline_app.records.actions.jobs import choose_limits
from hingeline_app.records.actions.limits import enter_limits
from hingeline_app.records.models import Job, Workshop
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.weigh_page import READINGS, begun, context, entered, page, read

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


def test_who_has_no_role_at_the_bench_is_offered_nothing_to_enter(fenholt: Fenholt) -> None:
    """An administrator looks at the job of others: pad, set-up and places were there, each refused when it was sent."""
    looks, works = fenholt.client("mara"), fenholt.client("jon")
    for step in ("weigh", "correct"):
        assert 'name="kind" value="begin-weighing"' not in looks.get(f"/job/{fenholt.job}/{step}").content.decode()
    assert 'name="kind" value="begin-weighing"' in works.get(f"/job/{fenholt.job}/weigh").content.decode()
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS)
    for step, entry in (("weigh", 'id="typed"'), ("weigh", "Add the part"), ("correct", "Add this place")):
        offered = [entry in each.get(f"/job/{fenholt.job}/{step}").content.decode() for each in (looks, works)]
        assert offered == [False, True], entry


def test_another_gravity_later_changes_no_limit_of_an_earlier_correction(fenholt: Fenholt) -> None:
    """21.4 kg cm at 9.80665 m/s² is 2.0986 N m, by hand, and 2.0929 at 9.78: its file says the moment itself."""
    printed = {"positive": "tail-heavy", "moment": ["0 kg cm", "21.4 kg cm"]}
    row = enter_limits(fenholt.mate, fenholt.approved["issue"], "Elevator, left half", "3", printed)
    job = Job.objects.get(number=fenholt.job)
    choose_limits(fenholt.mate, job.pk, row.pk, job.limit_row_id)
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS)
    entered(fenholt, kind="statement", measurement=str(weighing.pk), seen=context(fenholt)["seen"])
    begun(fenholt)
    address = f"/job/{fenholt.job}/correction/1.toml"
    of_the_day = fenholt.client("jon").get(address).content
    assert '"21.4 kg cm"' in of_the_day.decode()
    Workshop.objects.filter(pk=fenholt.workshop.pk).update(local_gravity="9.78 m/s^2")
    later = fenholt.client("jon").get(address).content
    upper = [read_ballast(each).task.limits.upper for each in (of_the_day, later)]
    assert upper == [pytest.approx(0.214 * 9.80665, abs=1e-12)] * 2

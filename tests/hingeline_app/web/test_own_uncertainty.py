"""What one weighing adds to the ± of its stand: entered on the step Weigh, corrected, refused."""

from __future__ import annotations

from typing import Any

import pytest

from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.records.actions.equipment import add_stand
from hingeline_app.records.models import Entry, Measurement
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.weigh_page import READINGS, begun, context, entered, page, read

pytestmark = pytest.mark.django_db


def adds(fenholt: Fenholt, weighing: Measurement, name: str, value: str, **more: str) -> tuple[int, dict[str, Any]]:
    """State what a weighing adds to the ±, as the page showed it."""
    rows = {each.cause.name: each for each in context(fenholt)["adds"]}
    sent = {"kind": "own-uncertainty", "measurement": str(weighing.pk), "name": name, "value": value, **more}
    return entered(fenholt, **{"meant": "limit", "was": rows[name].was if name in rows else "null", **sent})


@pytest.mark.slow
def test_what_a_weighing_adds_to_the_uncertainty_is_the_file_s_own_and_taken_back_leaves_the_stand_s(
    fenholt: Fenholt,
) -> None:
    """A rectangle of half-width a has the standard uncertainty a/√3 (JCGM 100:2008, 4.3.7); comma and ± are read."""
    stand = add_stand(fenholt.mate, "Knife edge 1", masses=[], uncertainty={"arm": {"limit": "2 mm"}})
    weighing = begun(fenholt, stand=str(stand.pk))
    read(fenholt, weighing, *READINGS)

    def arm() -> float:
        rows = context(fenholt)["found"].document["budget"]
        return float(next(each["standard_uncertainty"] for each in rows if "arm" in each["source"]))

    assert arm() == pytest.approx(2e-3 / 3**0.5, rel=1e-12)
    assert "Knife edge 1: ±\xa02\xa0mm at most" in page(fenholt)
    assert adds(fenholt, weighing, "arm", "± 0,5 mm")[0] == 200
    assert arm() == pytest.approx(5e-4 / 3**0.5, rel=1e-12)
    file = fenholt.client("jon").get(f"/job/{fenholt.job}/weighing/1.toml").content
    assert read_weighing(file).weighing.uncertainty.arm is not None
    assert adds(fenholt, weighing, "arm", "0.4 mm", meant="expanded")[0] == 200
    assert arm() == pytest.approx(2e-4, rel=1e-12), "expanded with k = 2"
    before = Entry.objects.filter(chain="records").count()
    assert adds(fenholt, weighing, "arm", "0.4 mm", meant="expanded")[0] == 200
    assert Entry.objects.filter(chain="records").count() == before, "the same again is no entry"
    assert adds(fenholt, weighing, "arm", "")[0] == 200
    assert arm() == pytest.approx(2e-3 / 3**0.5, rel=1e-12), "the stand's counts again"


@pytest.mark.parametrize(
    ("name", "value", "meant", "says"),
    [
        ("arm", "-1 mm", "limit", "above zero"),
        ("arm", "0 mm", "limit", "above zero"),
        ("arm", "2 g", "limit", "Arms as measured"),
        ("arm", "1,255 mm", "limit", "Which one?"),
        ("level", "2 mm", "limit", "Level"),
        ("arm", "2 mm", "guess", "Choose one of them"),
        ("luck", "2 mm", "limit", "Load the page again"),
    ],
)
def test_a_bad_uncertainty_is_refused_and_nothing_is_kept(
    fenholt: Fenholt, name: str, value: str, meant: str, says: str
) -> None:
    weighing = begun(fenholt)
    status, said = adds(fenholt, weighing, name, value, meant=meant)
    assert status == 422
    assert says in str(said["faults"])
    weighing.refresh_from_db()
    assert "uncertainty" not in weighing.set_up


@pytest.mark.slow
def test_after_a_statement_the_uncertainty_is_corrected_with_a_reason(fenholt: Fenholt) -> None:
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS)
    seen = repr(context(fenholt)["found"].document["static_moment"]["value"])
    assert entered(fenholt, kind="statement", measurement=str(weighing.pk), seen=seen)[0] == 200
    assert adds(fenholt, weighing, "arm", "1 mm")[0] == 422, "without a reason it stays"
    assert adds(fenholt, weighing, "arm", "1 mm", reason="rule read again")[0] == 200
    assert context(fenholt)["found"].state == "stale"

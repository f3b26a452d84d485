"""English words with two meanings are said in German and French by the one that the page means.

The words of the trade in German and French: from memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from hingeline_app.records.models import Job
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.in_the_hangar import told_in_the_hangar


def said(fenholt: Fenholt, address: str, language: str) -> str:
    """Give a page as a tablet shows it that is set to a language."""
    client = fenholt.client("jon")
    client.cookies["language"] = language
    return str(client.get(address).content.decode()).replace("\u00a0", " ").replace("\u202f", " ")


@pytest.mark.parametrize(("language", "off", "switched"), [("de", "abgebaut", "aus"), ("fr", "déposé", "arrêt")])
def test_a_part_that_was_taken_off_is_not_switched_off(
    fenholt: Fenholt, language: str, off: str, switched: str
) -> None:
    """Limits rest on what was fitted when weighed: a tab that is off had been called 'stopped'."""
    page = said(fenholt, f"/job/{Job.objects.get().number}/arrive", language)
    assert f">{off}<" in page
    assert f">{switched}<" not in page


@pytest.mark.parametrize(
    ("language", "read_on", "enter"),
    [("de", "Abgelesen am", "Stunden eintragen: D-MT03"), ("fr", "Relevé le", "Saisir les heures : D-MT03")],
)
def test_the_day_of_a_reading_is_no_call_to_read_further(
    fenholt: Fenholt, language: str, read_on: str, enter: str
) -> None:
    """The day on which a meter was read had been headed 'continue reading', the way to its page 'step in'."""
    told: dict[str, Any] = told_in_the_hangar(fenholt)
    listed = said(fenholt, "/fleet/hours", language)
    assert f">{read_on}<" in listed
    assert f">{enter}<" in listed
    assert f">{read_on}<" in said(fenholt, f"/fleet/hours/{told['aircraft']}", language)


@pytest.mark.parametrize("language", ["de", "fr"])
def test_hours_have_the_decimal_sign_of_every_other_number(fenholt: Fenholt, language: str) -> None:
    """Results, refusals and the hangar write 640.0 h in every language; the pages of hours had written 640,0 h."""
    told = told_in_the_hangar(fenholt)
    for address in ("/fleet/hours", f"/fleet/hours/{told['aircraft']}"):
        page = said(fenholt, address, language)
        assert "640.0" in page
        assert "640,0" not in page


@pytest.mark.parametrize(("language", "draw", "pull"), [("de", "Zeichnen", "Ziehen"), ("fr", "Tracer", "Tirer")])
def test_a_line_is_drawn_and_not_pulled(fenholt: Fenholt, language: str, draw: str, pull: str) -> None:
    page = said(fenholt, "/why-balance/bench", language)
    assert f">{draw}<" in page
    assert f">{pull}<" not in page

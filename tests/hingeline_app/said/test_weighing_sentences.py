"""What weighing, correcting, coating, reading a quantity and checks ahead really say, in German and French."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from hingeline.balance.ballast import plan_ballast
from hingeline.balance.checks import refuse_unusable
from hingeline.balance.coating import predict_coating
from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline.units.catalogue import units_of
from hingeline_app.figures.wording import format_measured
from hingeline_app.said import reading_in, says
from tests.hingeline.balance.ballast import test_checks as corrections
from tests.hingeline.balance.coating import test_refusals as coats
from tests.hingeline.balance.test_checks import REFUSED as WEIGHINGS
from tests.hingeline.due import test_refusals as ahead
from tests.hingeline.units.test_reading import REFUSED as QUANTITIES

TOLD = json.loads((Path(ahead.__file__).parent / "told.json").read_text("utf-8"))


def tries() -> Iterator[Callable[[], object]]:
    """Try what each room refuses."""
    for weighing, *_ in WEIGHINGS:
        yield lambda weighing=weighing: refuse_unusable(weighing)
    for changes, _ in corrections.PLACES.values():
        place = replace(corrections.GOOD, **changes)
        yield lambda place=place: plan_ballast(replace(corrections.TASK, places=(place,)))
    for changes, _ in corrections.TASKS.values():
        yield lambda changes=changes: plan_ballast(replace(corrections.TASK, **changes))
    for coat, field, _ in coats.REFUSED:
        if field is not None:
            yield lambda coat=coat: predict_coating(coat)
    for text, dimension in QUANTITIES:
        yield lambda text=text, dimension=dimension: read(text, dimension, field="support[0].arm")


def refusals() -> Iterator[str]:
    """Give each refusal as it is said, with its field."""
    for attempt in tries():
        with pytest.raises(InputRefused) as refused:
            attempt()
        yield from map(str, refused.value.refusals)
    for task, *_ in ahead.TASKS.values():
        yield str(ahead.refusal([task]))
    for aircraft, *_ in ahead.AIRCRAFT.values():
        yield str(ahead.refusal([ahead.HOURLY], [aircraft]))
    for fitted, *_ in ahead.PARTS.values():
        yield str(ahead.refusal([], None, [ahead.Part("arm", ahead.d(0), fitted=fitted)]))


@pytest.mark.parametrize("language", ["de", "fr"])
def test_each_refusal_is_said(language: str) -> None:
    """A value that the program wrote itself, such as "missing", is said too."""
    found = list(dict.fromkeys(refusals()))
    with reading_in(language):
        assert [each for each in found if says(each) is None] == []
    assert len(found) > 200


@pytest.mark.slow
@pytest.mark.parametrize("language", ["de", "fr"])
def test_each_reason_of_a_check_ahead_is_said(language: str) -> None:
    """Every reason and note of the cases that are kept to the letter."""
    with reading_in(language):
        assert [each for told in TOLD.values() for each in told if says(each) is None] == []
    assert len(TOLD) > 100


@pytest.mark.parametrize(("language", "sense"), [("de", "hecklastig"), ("fr", "lourd à l'arrière")])
@pytest.mark.parametrize("unit", units_of("moment"))
def test_a_moment_says_its_sense_in_the_readers_language_in_every_unit(unit: str, language: str, sense: str) -> None:
    """Weigh gives it once more in the unit of the document: in-lb as well as kg cm."""
    with reading_in(language):
        said = says(format_measured(10.63, 0.11, unit, sense=True))
    assert said is not None
    assert said.endswith(sense)

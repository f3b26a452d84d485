"""A place inside plain data: what is put there is found there, and nothing else changes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline.errors import InputRefused
from hingeline_app.records.plain_places import value_at, with_value

NAMES = st.sampled_from(["support", "arm", "tare", "ticks"])
PLACES = st.lists(NAMES, min_size=1, max_size=4).map(".".join)


@given(st.dictionaries(NAMES, st.dictionaries(NAMES, st.integers())), PLACES, st.text(max_size=5))
def test_what_is_put_at_a_place_is_found_there(data: dict[str, object], place: str, value: str) -> None:
    """And the data that it was put into stays as it was. Inside of a value that is no table nothing is put."""
    before, names = repr(data), place.split(".")
    inside = [value_at(data, ".".join(names[:deep])) for deep in range(1, len(names))]
    if any(isinstance(each, int) for each in inside):
        with pytest.raises(InputRefused):
            with_value(data, place, value)
    else:
        assert value_at(with_value(data, place, value), place) == value
    assert repr(data) == before


def test_lists_grow_by_one_and_have_no_gaps() -> None:
    """The next row may be put; one beyond it is refused."""
    data = with_value({}, "support.0.arm", "255 mm")
    assert data == {"support": [{"arm": "255 mm"}]}
    assert with_value(data, "support.1.arm", "80 mm")["support"] == [{"arm": "255 mm"}, {"arm": "80 mm"}]
    with pytest.raises(InputRefused, match="place"):
        with_value(data, "support.3.arm", "80 mm")


@pytest.mark.parametrize("place", ["", "a..b", "a.b.c.d.e.f.g.h.i", "a.'; drop"])
def test_what_is_no_place_is_refused(place: str) -> None:
    """A dotted name, not too deep, of letters and digits."""
    with pytest.raises(InputRefused):
        with_value({}, place, 1)


@pytest.mark.fault("F09")
@pytest.mark.parametrize("place", ["ticks.0.level", "remark.more", "remark.0", "support.arm", "support.0.arm.unit"])
def test_what_stands_there_is_not_written_over_from_inside(place: str) -> None:
    """A list in a table's place, a table in a text's: what the sender did not see is not lost."""
    data = {"ticks": {"level": True}, "remark": "hail", "support": [{"arm": "255 mm"}]}
    with pytest.raises(InputRefused, match="free"):
        with_value(data, place, "x")


@pytest.mark.parametrize("place", ["9" * 5000, "support." + "9" * 5000, "n" * 61])
def test_a_step_of_a_place_is_short(place: str) -> None:
    """A number of thousands of digits is refused, not read."""
    with pytest.raises(InputRefused, match="place"):
        value_at({"support": []}, place)

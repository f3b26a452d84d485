"""Predictions worked by hand, and what is said beside them."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.balance import Limits, MassLimits, MomentBand
from hingeline.balance.coating import CoatedResult, CoatedSurface, CoatingTask, Layer, predict_coating
from hingeline.uncertainty import Measured
from hingeline.uncertainty.stated import Stated

# One coat: 0.5 m² of 200 g/m² is 100 g; at 100 mm aft 0.1 × 9.80665 × 0.1 = 0.0980665 N m.
COAT = Layer("coat", arm=0.1, area=0.5, mass_per_area=0.2)
ONE = 0.0980665


def only(*layers: Layer, **given: object) -> CoatedResult:
    """Predict for one surface."""
    (found,) = predict_coating(CoatingTask((CoatedSurface(layers, **given),))).surfaces  # type: ignore[arg-type]
    return found


def test_three_ways_to_one_mass() -> None:
    """100 g as 200 g/m² × 0.5 m², as 0.1 mm × 2000 kg/m³ × 0.5 m², as 0.2 l × 0.5 × 1250 kg/m³ × 0.8."""
    by_film = replace(COAT, mass_per_area=None, film=1e-4, density=2000.0)
    wet = Layer("wet", arm=0.1, wet_volume=2e-4, volume_solids=0.5, solids_density=1250.0, transfer=0.8)
    for layer in (COAT, by_film, wet):
        found = only(layer)
        assert found.mass_change.value == pytest.approx(0.1, rel=1e-14)
        assert found.moment_change.value == pytest.approx(ONE, rel=1e-14)
    assert only(wet).layers[0].mass_per_area is None
    assert only(replace(wet, area=0.5)).layers[0].mass_per_area == pytest.approx(0.2, rel=1e-14)


def test_what_is_uncertain_is_common_to_the_count() -> None:
    """Two faces at 10 % (standard): twice the uncertainty of one, not √2 times."""
    sure = replace(COAT, mass_per_area_uncertainty=Stated(0.1, "1", "standard"))
    one, two = only(sure), only(replace(sure, count=2.0))
    assert one.moment_change.standard_uncertainty == pytest.approx(0.1 * ONE)
    assert two.moment_change.standard_uncertainty == pytest.approx(0.2 * ONE)


def test_layers_are_independent() -> None:
    """Two layers at 10 % each: √2 times the uncertainty of one."""
    sure = replace(COAT, mass_per_area_uncertainty=Stated(0.1, "1", "standard"))
    both = only(sure, replace(sure, name="other"))
    assert both.moment_change.standard_uncertainty == pytest.approx(0.1 * ONE * math.sqrt(2.0))


def test_k_is_that_of_the_weighing() -> None:
    """A moment stated with its k keeps it; one with u alone gets the k of 95 %."""
    stated = only(COAT, moment=Measured(1.0, 0.01, 0.03, 3.0)).moment_after
    plain = only(COAT, moment=Measured(1.0, 0.01)).moment_after
    assert stated is not None
    assert plain is not None
    assert (stated.coverage_factor, stated.expanded_uncertainty) == (3.0, pytest.approx(0.03))
    assert plain.coverage_factor == pytest.approx(1.959964, abs=1e-6)


def test_the_room_by_hand() -> None:
    """Predicted 0.0980665 + 0.5; to 1.0884355 there is room for five coats: 500 g, 1 kg/m² over the area."""
    found = only(COAT, moment=Measured(0.5, None), limits=Limits(upper=0.5 + 6.0 * ONE))
    left = found.layers[0].can_still_take
    assert left is not None
    assert left.counts == pytest.approx(5.0, rel=1e-12)
    assert left.mass == pytest.approx(0.5, rel=1e-12)
    assert left.mass_per_area == pytest.approx(1.0, rel=1e-12)
    assert left.stops_at == "upper limit"
    assert found.layers[0].can_still_take_guarded is None


def test_forward_of_the_hinge_it_goes_to_the_lower_limit() -> None:
    """A coat ahead of the hinge line has room to the lower limit, and none without one."""
    ahead = replace(COAT, side="forward")
    found = only(ahead, moment=Measured(0.0, None), limits=Limits(lower=-3.0 * ONE)).layers[0].can_still_take
    assert found is not None
    assert (found.stops_at, found.counts) == ("lower limit", pytest.approx(2.0, rel=1e-12))
    assert only(ahead, moment=Measured(0.0, None), limits=Limits(upper=1.0)).layers[0].can_still_take is None


def test_beyond_the_limit_nothing_is_left() -> None:
    """Where the prediction lies beyond the limit already, 0 more can be taken; it is outside."""
    found = only(COAT, moment=Measured(2.0, 0.01), limits=Limits(upper=2.05))
    assert found.predicted_statement == "outside"
    assert found.layers[0].can_still_take is not None
    assert found.layers[0].can_still_take.counts == 0.0
    assert found.predicted_margin == pytest.approx(0.05 - ONE, rel=1e-9)


def test_the_mass_limit_can_come_first() -> None:
    """With 2 kg before and 2.15 kg allowed, the second coat is too heavy although the moment has room."""
    given = {"moment": Measured(0.0, 0.01), "mass": Measured(2.0, 0.001)}
    limits = Limits(upper=5.0, mass=MassLimits(upper=2.15))
    found = only(COAT, **given, limits=limits)
    left = found.layers[0].can_still_take
    assert left is not None
    assert (left.stops_at, left.mass) == ("mass limit", pytest.approx(0.05, rel=1e-9))
    heavier = only(replace(COAT, count=2.0), **given, limits=limits)
    assert heavier.predicted_statement == "outside"
    assert heavier.mass_after is not None
    assert heavier.mass_after.value == pytest.approx(2.2)


def test_the_band_of_the_new_mass_holds() -> None:
    """Limits that step with the mass are those of the painted surface, and the room ends at the band's edge."""
    bands = (MomentBand(1.0, 2.05, 0.0, 0.5), MomentBand(2.05, 3.0, 0.0, 9.0))
    given = {"moment": Measured(0.45, 0.001), "mass": Measured(2.0, 0.001)}
    found = only(COAT, **given, limits=Limits(bands=bands))
    assert (found.limits.lower, found.limits.upper) == (0.0, 9.0)
    assert found.predicted_statement == "inside"
    left = found.layers[0].can_still_take
    assert left is not None
    assert (left.stops_at, left.mass) == ("mass limit", pytest.approx(0.9, rel=1e-9))
    assert any("edge of the mass band" in note for note in found.notes)
    none = only(replace(COAT, count=20.0), **given, limits=Limits(bands=bands))
    assert none.predicted_statement == "outside"


TWO_BANDS = Limits(bands=(MomentBand(1.0, 2.11, 0.0, 0.5), MomentBand(2.11, 3.0, 0.0, 9.0)))


def test_near_the_outer_edge_of_the_bands_a_mass_is_too_close_to_tell() -> None:
    """2 kg and a coat of 100 g reach up to 2.12 kg with U: bands that end at 2.11 kg may not take it, as when weighed.

    The moment alone was asked, and inside was predicted by the guarded rule.
    """
    given = {"moment": Measured(0.2, 0.001, 0.002, 2.0), "mass": Measured(2.0, 0.01, 0.02, 2.0)}
    near, far = (
        only(COAT, **given, limits=Limits(bands=(MomentBand(1.0, end, 0.0, 5.0),), rule="guarded"))
        for end in (2.11, 2.13)
    )
    assert (near.predicted_statement_simple, near.predicted_statement) == ("inside", "too close to tell")
    assert far.predicted_statement == "inside"


@pytest.mark.parametrize(
    ("words", "appears", "absent"),
    [
        ("No moment is given", {}, {"moment": Measured(1.0, 0.1)}),
        ("The uncertainty of the moment before", {"moment": Measured(1.0, None)}, {"moment": Measured(1.0, 0.1)}),
        ("The uncertainty of the mass before",
         {"moment": Measured(1.0, 0.1), "mass": Measured(2.0, None), "limits": Limits(0.0, mass=MassLimits(upper=3.0))},
         {"moment": Measured(1.0, 0.1), "mass": Measured(2.0, 0.1), "limits": Limits(0.0, mass=MassLimits(upper=3.0))}),
        ("The interval covers zero", {"moment": Measured(-0.1, 0.1)}, {"moment": Measured(1.0, 0.1)}),
        ("Give or take its uncertainty", {"mass": Measured(2.0, 0.01, 0.02, 2.0), "limits": TWO_BANDS},
         {"mass": Measured(1.9, 0.01, 0.02, 2.0), "limits": TWO_BANDS}),
        ("No limits are given", {"moment": Measured(1.0, 0.1)}, {"moment": Measured(1.0, 0.1), "limits": Limits(0.0)}),
        ("No source is given", {"moment": Measured(1.0, 0.1), "limits": Limits(0.0)},
         {"moment": Measured(1.0, 0.1), "limits": Limits(0.0, source="page 3")}),
        ("The guarded band is empty", {"moment": Measured(1.0, 0.1), "limits": Limits(0.9, 1.1)},
         {"moment": Measured(1.0, 0.1), "limits": Limits(0.0, 2.0)}),
    ],
)  # fmt: skip
def test_a_note_stands_where_it_should(words: str, appears: dict[str, object], absent: dict[str, object]) -> None:
    """Each sentence appears when, and only when, it is true."""
    assert any(note.startswith(words) for note in only(COAT, **appears).notes)
    assert not any(note.startswith(words) for note in only(COAT, **absent).notes)


def test_notes_on_layers() -> None:
    """What nothing is stated of is named; stripping and several layers are remarked on."""
    exact = Stated(0.001, "1")
    sure = replace(COAT, arm_uncertainty=exact, area_uncertainty=exact, mass_per_area_uncertainty=exact)
    assert any("arm of coat" in note for note in only(COAT).notes)
    assert not any("Not stated" in note for note in only(sure).notes)
    assert any("was never weighed by itself" in note for note in only(replace(COAT, count=-1.0)).notes)
    assert not any("never weighed by itself" in note for note in only(COAT).notes)
    assert any("for that layer alone" in note for note in only(COAT, replace(COAT, name="b")).notes)
    assert not any("for that layer alone" in note for note in only(COAT).notes)


def test_it_is_always_called_predicted() -> None:
    """The first caution says that nothing was weighed; every statement's name begins with predicted."""
    result = predict_coating(CoatingTask((CoatedSurface((COAT,)),)))
    assert result.cautions[0] == "Predicted, not weighed: only a new weighing decides."
    assert any("after it has cured" in note for note in result.notes)
    names = [name for name in (*type(result).__slots__, *CoatedResult.__slots__) if "statement" in name]
    assert len(names) == 6
    assert all(name.startswith("predicted_") for name in names)


def test_a_moment_given_with_its_expanded_uncertainty_alone_keeps_it() -> None:
    """U = 0.044 N m with k = 2 is u = 0.022 N m: left without u, the prediction lost its ± altogether."""
    given = only(COAT, moment=Measured(2.0, 0.022, 0.044, 2.0)).moment_after
    assert only(COAT, moment=Measured(2.0, None, 0.044, 2.0)).moment_after == given
    assert given is not None
    assert given.expanded_uncertainty == pytest.approx(0.044, rel=1e-12)

"""What must hold for every coating, whatever the numbers."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import GTC
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline.balance import Limits, Support, Surface, Weighing, weigh
from hingeline.balance.coating import CoatedResult, CoatedSurface, CoatingResult, CoatingTask, Layer, predict_coating
from hingeline.document import from_document, to_document
from hingeline.uncertainty import Measured
from hingeline.uncertainty.stated import Stated

GRAVITY = 9.80665
MOST_TRIED = 90.0  # more coats than a task may hold cannot be painted to see


def stated(unit: str, low: float, high: float) -> st.SearchStrategy[Stated | None]:
    """An uncertainty of any shape, or none."""
    sizes = st.floats(low, high)
    return st.none() | st.one_of(
        st.builds(Stated, sizes, st.just(unit), st.sampled_from(["limit", "triangular", "standard", "resolution"])),
        st.builds(Stated, sizes, st.just(unit), st.just("expanded"), st.just(2.0), st.none() | st.floats(3.0, 50.0)),
        st.builds(Stated, st.floats(0.001, 0.2), st.just("1")),
    )


@st.composite
def layers(draw: st.DrawFn, name: str = "coat") -> Layer:
    """A layer given any of the three ways."""
    shared = {
        "name": name,
        "arm": draw(st.floats(0.0, 0.4)),
        "side": draw(st.sampled_from(["aft", "forward"])),
        "count": draw(st.sampled_from([1.0, 2.0, 4.0, 0.5, -1.0, -2.0])),
        "arm_uncertainty": draw(stated("m", 0.0, 0.02)),
    }
    area = {"area": draw(st.floats(0.01, 1.5)), "area_uncertainty": draw(stated("m^2", 0.0, 0.005))}
    way = draw(st.integers(0, 2))
    if way == 0:
        kind = {"mass_per_area": draw(st.floats(0.02, 0.4)),
                "mass_per_area_uncertainty": draw(stated("kg/m^2", 0.0, 0.01))}  # fmt: skip
        return Layer(**shared, **area, **kind)
    if way == 1:
        return Layer(**shared, **area, film=draw(st.floats(1e-5, 1e-3)), density=draw(st.floats(900.0, 2700.0)),
                     film_uncertainty=draw(stated("m", 0.0, 5e-6)))  # fmt: skip
    part = st.none() | st.builds(Stated, st.floats(0.01, 0.3), st.just("1"))
    return Layer(**shared, wet_volume=draw(st.floats(5e-5, 1e-3)), volume_solids=draw(st.floats(0.2, 0.9)),
                 solids_density=draw(st.floats(1000.0, 2000.0)), transfer=draw(st.floats(0.3, 0.9)),
                 transfer_uncertainty=draw(part))  # fmt: skip


MOMENTS = st.builds(Measured, st.floats(-3.0, 3.0), st.floats(0.001, 0.1), st.none(), st.none(), st.none())
SURFACES = st.builds(
    CoatedSurface,
    st.lists(layers(), min_size=1, max_size=4).map(
        lambda several: tuple(replace(layer, name=f"coat {at}") for at, layer in enumerate(several))
    ),
    st.just("surface"),
    st.none() | MOMENTS,
    st.none(),
    st.builds(Limits, st.floats(-4.0, -0.5), st.floats(0.5, 4.0), st.sampled_from(["simple", "guarded"])),
)


def only(surface: CoatedSurface) -> CoatedResult:
    """Predict for one surface alone."""
    (found,) = predict_coating(CoatingTask((surface,))).surfaces
    return found


def turned(layer: Layer) -> Layer:
    """The same layer on the other side of the hinge line."""
    return replace(layer, side="forward" if layer.side == "aft" else "aft")


@pytest.mark.slow
@given(layers())
def test_stripping_then_painting_the_same_is_nothing(layer: Layer) -> None:
    """What comes off and goes on again changes neither mass nor moment."""
    off = replace(layer, name="off", count=-layer.count)
    found = only(CoatedSurface((layer, off), moment=Measured(1.0, 0.01)))
    assert found.mass_change.value == 0.0
    assert found.moment_change.value == 0.0
    assert found.moment_after is not None
    assert found.moment_after.value == 1.0


@pytest.mark.slow
@given(SURFACES)
def test_layers_add(surface: CoatedSurface) -> None:
    """The change of all layers is the sum of the changes of each alone; variances add too."""
    whole = only(surface)
    alone = [only(replace(surface, layers=(layer,))) for layer in surface.layers]
    for name in ("mass_change", "moment_change"):
        parts = [getattr(one, name) for one in alone]
        total = getattr(whole, name)
        size = math.fsum(abs(part.value) for part in parts)
        assert total.value == pytest.approx(math.fsum(part.value for part in parts), abs=1e-14 * size + 1e-300)
        spread = math.hypot(*(part.standard_uncertainty or 0.0 for part in parts))
        assert (total.standard_uncertainty or 0.0) == pytest.approx(spread, rel=1e-12)


@pytest.mark.slow
@given(SURFACES)
def test_a_mirrored_surface_gives_the_mirrored_moment(surface: CoatedSurface) -> None:
    """All layers on the other side, moment and limits mirrored: the same mass, the mirrored moment and words."""
    low, high = surface.limits.lower or 0.0, surface.limits.upper or 0.0
    moment = surface.moment
    mirrored = CoatedSurface(
        tuple(turned(layer) for layer in surface.layers),
        surface.name,
        None if moment is None else replace(moment, value=-moment.value),
        None,
        replace(surface.limits, lower=-high, upper=-low),
    )
    one, other = only(surface), only(mirrored)
    assert other.mass_change == one.mass_change
    assert other.moment_change.value == -one.moment_change.value
    assert other.moment_change.expanded_uncertainty == one.moment_change.expanded_uncertainty
    assert other.predicted_statement == one.predicted_statement
    for here, there in zip(one.layers, other.layers, strict=True):
        assert (here.can_still_take is None) == (there.can_still_take is None)
        if here.can_still_take is not None and there.can_still_take is not None:
            assert here.can_still_take.counts == there.can_still_take.counts


@pytest.mark.slow
@given(layers(), st.floats(0.15, 0.4), st.floats(0.3, 2.0))
def test_the_prediction_equals_weighing_the_painted_surface(layer: Layer, arm: float, reading: float) -> None:
    """The scale under the painted surface shows what carries the coat too: weigh finds the predicted moment."""
    before = weigh(Weighing(Surface("elevator"), (Support(arm, readings=(reading,)),))).static_moment
    found = only(CoatedSurface((layer,), moment=before))
    coat = found.moment_change.value
    shown = reading + coat / (GRAVITY * arm)
    if shown < 0.0:
        return  # the surface would lift off this support
    after = weigh(Weighing(Surface("elevator"), (Support(arm, readings=(shown,)),))).static_moment
    assert found.moment_after is not None
    assert after.value == pytest.approx(found.moment_after.value, abs=1e-12)


@pytest.mark.slow
@given(layers())
def test_paint_forward_never_makes_it_more_tail_heavy(layer: Layer) -> None:
    """A coat put on ahead of the hinge line never raises the moment, nor does one aft of it lower it."""
    change = only(CoatedSurface((replace(layer, count=abs(layer.count)),))).moment_change.value
    assert change <= 0.0 if layer.side == "forward" else change >= 0.0


@pytest.mark.slow
@given(SURFACES, st.floats(0.1, 5.0))
def test_the_moment_goes_with_the_arm_and_not_the_mass(surface: CoatedSurface, factor: float) -> None:
    """All arms times a factor: the moment's change times that factor, the mass as before."""
    longer = replace(surface, layers=tuple(replace(one, arm=one.arm * factor) for one in surface.layers))
    one, other = only(surface), only(longer)
    size = math.fsum(abs(layer.moment.value) for layer in one.layers)
    assert other.mass_change == one.mass_change
    expected = factor * one.moment_change.value
    assert other.moment_change.value == pytest.approx(expected, abs=1e-13 * factor * size + 1e-300)


@pytest.mark.slow
@given(SURFACES)
def test_the_further_coats_bring_it_to_the_limit(surface: CoatedSurface) -> None:
    """Painting as many more as are left stands at the limit that is named; not a hair more is allowed."""
    found = only(surface)
    for at, layer in enumerate(found.layers):
        left = layer.can_still_take
        if left is None or not 0.0 < left.counts < MOST_TRIED:
            continue
        after = only(more_of(surface, at, left.counts)).moment_after
        limit = surface.limits.upper if left.stops_at == "upper limit" else surface.limits.lower
        assert after is not None
        assert after.value == pytest.approx(limit, abs=1e-9)
        assert left.mass == pytest.approx(left.counts * layer.mass.value / layer.count, rel=1e-12)


@pytest.mark.slow
@given(SURFACES)
def test_the_further_coats_bring_value_and_u_to_the_limit(surface: CoatedSurface) -> None:
    """With k kept, painting as many more as are left guarded brings the end of the interval to the limit."""
    if surface.moment is None:
        return
    surface = replace(surface, moment=replace(surface.moment, coverage_factor=2.0))
    found = only(surface)
    for at, layer in enumerate(found.layers):
        simple, left = layer.can_still_take, layer.can_still_take_guarded
        assert (simple is None) == (left is None)
        if simple is None or left is None or not 0.0 < left.counts < MOST_TRIED:
            continue
        assert left.counts <= simple.counts
        after = only(more_of(surface, at, left.counts)).moment_after
        assert after is not None
        assert after.expanded_uncertainty is not None
        tail = left.stops_at == "upper limit"
        end = after.value + (1.0 if tail else -1.0) * after.expanded_uncertainty
        assert end == pytest.approx(surface.limits.upper if tail else surface.limits.lower, abs=1e-8)


def more_of(surface: CoatedSurface, at: int, counts: float) -> CoatedSurface:
    """The surface with more coats of one layer."""
    several = list(surface.layers)
    several[at] = replace(several[at], count=several[at].count + counts)
    return replace(surface, layers=tuple(several))


@pytest.mark.slow
@given(SURFACES)
def test_statements_follow_each_other(surface: CoatedSurface) -> None:
    """Guarded inside is simple inside; the statement is the one of the rule; without a moment there is none."""
    found = only(surface)
    simple, guarded = found.predicted_statement_simple, found.predicted_statement_guarded
    assert found.predicted_statement == (simple if found.rule == "simple" else guarded)
    assert (simple is None) == (surface.moment is None)
    if guarded == "inside":
        assert simple == "inside"


@pytest.mark.slow
@given(SURFACES)
def test_a_document_is_the_record(surface: CoatedSurface) -> None:
    """Task and result come back from their JSON text as they were."""
    task = CoatingTask((surface,))
    result = predict_coating(task)
    assert from_document(json.loads(json.dumps(to_document(task))), CoatingTask) == task
    assert from_document(json.loads(json.dumps(to_document(result), allow_nan=False)), CoatingResult) == result


@pytest.mark.slow
@given(SURFACES, SURFACES)
def test_several_surfaces_do_not_know_each_other(one: CoatedSurface, other: CoatedSurface) -> None:
    """Two surfaces in one task come out as each alone; the top of the result then holds no sum."""
    both = predict_coating(CoatingTask((replace(one, name="left"), replace(other, name="right"))))
    assert both.surfaces == (only(replace(one, name="left")), only(replace(other, name="right")))
    assert both.mass_change is both.moment_change is both.moment_after is both.predicted_statement is None
    assert "each has its own numbers" in both.notes[0]


@pytest.mark.slow
@settings(max_examples=60)
@given(SURFACES.filter(lambda surface: surface.moment is not None))
def test_the_uncertainty_is_what_gtc_computes(surface: CoatedSurface) -> None:
    """GTC, given the plain equation, finds the same value, u and degrees of freedom."""
    assert surface.moment is not None
    total = GTC.ureal(surface.moment.value, surface.moment.standard_uncertainty)
    for layer in surface.layers:
        total = total + layer.count * mass_by_gtc(layer) * GRAVITY * signed_arm(layer)
    after = only(surface).moment_after
    assert after is not None
    assert after.value == pytest.approx(total.x, abs=1e-12)
    assert after.standard_uncertainty == pytest.approx(total.u, rel=1e-9)
    if math.isfinite(total.df) and after.degrees_of_freedom is not None:
        assert after.degrees_of_freedom == pytest.approx(total.df, rel=1e-6)


def number(layer: Layer, name: str) -> object:
    """A quantity of a layer as GTC has it."""
    value, uncertainty = getattr(layer, name), getattr(layer, f"{name}_uncertainty")
    if uncertainty is None or uncertainty.of(value) == 0.0:
        return value
    return GTC.ureal(value, uncertainty.of(value), uncertainty.degrees_of_freedom or math.inf)


def signed_arm(layer: Layer):  # type: ignore[no-untyped-def]
    """Where the layer lies, aft positive."""
    return (1.0 if layer.side == "aft" else -1.0) * number(layer, "arm")  # type: ignore[operator]


def mass_by_gtc(layer: Layer):  # type: ignore[no-untyped-def]
    """Mass of one coat on one face, written out."""
    names = ["area", "mass_per_area"]
    if layer.film is not None:
        names = ["area", "film", "density"]
    if layer.wet_volume is not None:
        names = ["wet_volume", "volume_solids", "solids_density", "transfer"]
    product = 1.0
    for name in names:
        product = product * number(layer, name)  # type: ignore[operator]
    return product

"""Which limits hold, and what is true of moment, mass and reading."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.balance import (
    Limits,
    MassLimits,
    MomentBand,
    ReadingLimits,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    weigh,
)
from hingeline.balance.decide import applicable_limits, notes_of_next_band, overall
from hingeline.errors import InputRefused
from hingeline.uncertainty import Measured

LIGHT = MomentBand(0.70, 0.80, 0.0, 1.0)
HEAVY = MomentBand(0.80, 0.90, 0.2, 1.5)
APART = MomentBand(0.95, 1.00, 0.3, 2.0)
STEPPED = Limits(bands=(LIGHT, HEAVY, APART))
SHARED_EDGE = "The surface's mass lies on the edge of two mass bands: the tighter limits of both are used."


# ------------------------------------------------------------------ bands


@pytest.mark.parametrize(
    ("mass", "lower", "upper"),
    [(0.70, 0.0, 1.0), (0.75, 0.0, 1.0), (0.85, 0.2, 1.5), (0.90, 0.2, 1.5), (0.95, 0.3, 2.0), (1.00, 0.3, 2.0)],
)
def test_a_mass_within_a_band_or_on_its_outer_edge(mass: float, lower: float, upper: float) -> None:
    """Within a band, and on an edge that only one band has, its limits hold."""
    found = applicable_limits(STEPPED, mass)
    assert (found.lower, found.upper, found.no_band, found.notes) == (lower, upper, False, ())


def test_on_a_shared_edge_the_tighter_limits_hold() -> None:
    """0.80 kg belongs to both bands: the larger lower limit and the smaller upper one, with a note."""
    found = applicable_limits(STEPPED, 0.80)
    assert (found.lower, found.upper) == (0.2, 1.0)
    assert found.notes == (SHARED_EDGE,)


@pytest.mark.parametrize(
    ("mass", "expanded", "noted"),
    [
        (0.79, 0.02, "another"),  # up into the heavier band
        (0.81, 0.02, "another"),  # down into the lighter one
        (0.79, 0.01, ""),  # U ends on the shared edge
        (0.71, 0.02, ""),  # beyond the outer edge there is no band: the mass's own statement says it
        (0.89, 0.07, "another, none of the"),  # over the gap
        (0.89, 0.02, "none of the"),  # into the gap alone
        (0.96, 0.02, "none of the"),  # down into it
        (0.89, 0.01, ""),  # U ends on its edge
        (0.79, 0.12, "another, none of the"),  # over a whole band into it
        (0.80, 0.05, ""),  # on the edge the tighter limits of both are used already
        (0.80, 0.12, "none of the"),
        (0.92, 0.05, ""),  # in no band: outside
        (0.79, None, ""),
    ],
)
def test_a_mass_that_reaches_into_the_next_band_is_noted(mass: float, expanded: float | None, noted: str) -> None:
    """The moment is stated for one band alone, and its limits step: the reader must know that the next is as near."""
    standard = None if expanded is None else expanded / 2.0
    found = notes_of_next_band(STEPPED.bands, Measured(mass, standard, expanded))
    said = "Give or take its uncertainty, the surface's mass may lie in "
    assert [note.partition(" mass band")[0] for note in found] == [said + each for each in noted.split(", ") if each]


def test_bands_of_equal_moment_limits_need_no_note() -> None:
    """Where the limits do not step, it makes no difference which band it is."""
    bands = (LIGHT, replace(HEAVY, lower=LIGHT.lower, upper=LIGHT.upper))
    assert notes_of_next_band(bands, Measured(0.79, 0.01, 0.02)) == ()


def test_on_a_shared_edge_a_missing_limit_is_no_limit() -> None:
    """A band without a lower limit does not take away the other's."""
    found = applicable_limits(Limits(bands=(replace(LIGHT, lower=None), HEAVY)), 0.80)
    assert (found.lower, found.upper) == (0.2, 1.0)


def test_bands_that_exclude_each_other_are_refused_on_their_edge() -> None:
    """Bands 0 to 1 and 2 to 3 N m meet at 0.80 kg: no moment is inside both, and the document must be asked."""
    limits = Limits(bands=(LIGHT, MomentBand(0.80, 0.90, 2.0, 3.0)))
    with pytest.raises(InputRefused) as caught:
        applicable_limits(limits, 0.80)
    (refusal,) = caught.value.refusals
    assert (refusal.field, refusal.value) == ("surface.mass", "0.8")
    assert refusal.expected == "a mass within one band"
    assert "share no moment" in refusal.remedy
    assert applicable_limits(limits, 0.801).lower == 2.0


@pytest.mark.parametrize("mass", [0.699, 0.92, 1.001])
def test_a_mass_in_no_band_is_outside(mass: float) -> None:
    """Below, in a gap and above: no moment limit, outside by both rules, and a note."""
    found = applicable_limits(STEPPED, mass)
    assert (found.lower, found.upper, found.no_band) == (None, None, True)
    surface = Surface("tab", mass=mass, mass_uncertainty=Stated(0.001, "kg", "standard"))
    result = weigh(Weighing(surface, (Support(0.2, readings=(0.1, 0.11)),), limits=STEPPED))
    assert (result.statement, result.statement_simple, result.statement_guarded) == ("outside",) * 3
    assert result.limits.lower is None
    assert result.limits.upper is None
    assert any("in none of the mass bands" in note for note in result.notes)
    assert [made.of for made in result.statements] == ["mass"]


@pytest.mark.parametrize(("mass", "short"), [(0.699, -0.001), (0.92, -0.02), (1.001, -0.001)])
def test_a_mass_in_no_band_is_told_by_how_much_it_is_outside(mass: float, short: float) -> None:
    """In the gap from 0.90 to 0.95 kg it was told 0.08 kg inside at a probability of 1, beside "outside"."""
    surface = Surface("tab", mass=mass, mass_uncertainty=Stated(0.001, "kg", "standard"))
    (made,) = weigh(Weighing(surface, (Support(0.2, readings=(0.1, 0.11)),), limits=STEPPED)).statements
    assert (made.margin, made.probability_within) == (pytest.approx(short), None)


def test_limits_of_the_mass_count_beside_a_gap() -> None:
    """0.92 kg: 0.02 kg from the nearest band, and 0.05 kg too heavy for the limit of the mass itself."""
    limits = replace(STEPPED, mass=MassLimits(upper=0.87))
    support = Support(0.2, readings=(0.1, 0.11))
    (made,) = weigh(Weighing(Surface("tab", mass=0.92), (support,), limits=limits)).statements
    assert made.margin == pytest.approx(-0.05)


def test_limits_without_bands_hold_for_every_mass() -> None:
    """Without bands, or without a mass, lower and upper hold as they stand."""
    assert applicable_limits(Limits(-1.0, 2.0), None).upper == 2.0
    assert applicable_limits(Limits(-1.0, 2.0), 5.0).lower == -1.0


# ------------------------------------------------------------------ statements


def weighed(limits: Limits, *, u: float = 0.01, surface: Surface | None = None) -> Weighing:
    """One kilogram and a half metre at 9.8 m/s², 4.9 N m, and u of the reading in kilograms: k = 2."""
    stated = StatedUncertainty(calibration=Stated(u, "kg", "standard"), k=2.0)
    support = Support(0.5, readings=(1.0,))
    return Weighing(surface or Surface("rudder"), (support,), uncertainty=stated, limits=limits, local_gravity=9.8)


@pytest.mark.parametrize(
    ("lower", "upper", "simple", "guarded"),
    [
        (0.0, 6.0, "inside", "inside"),
        (0.0, 4.9, "inside", "too close to tell"),
        (4.9, 6.0, "inside", "too close to tell"),
        (0.0, 4.95, "inside", "too close to tell"),
        (0.0, 5.0, "inside", "inside"),
        (0.0, 4.85, "outside", "too close to tell"),
        (0.0, 4.7, "outside", "outside"),
        (5.1, 6.0, "outside", "outside"),
        (4.85, 4.95, "inside", "too close to tell"),
        (None, 5.1, "inside", "inside"),
        (4.7, None, "inside", "inside"),
    ],
)
def test_statements_about_the_moment(lower: float | None, upper: float | None, simple: str, guarded: str) -> None:
    """M = 9.8 x 0.5 x 1 = 4.9 N m, U = 2 x 0.01 x 4.9 = 0.098 N m: inside, on, near and beyond the limits."""
    result = weigh(weighed(Limits(lower, upper)))
    assert result.static_moment.expanded_uncertainty == pytest.approx(0.098, rel=1e-14)
    assert (result.statement_simple, result.statement_guarded) == (simple, guarded)
    assert result.statement == simple
    assert weigh(weighed(Limits(lower, upper, "guarded"))).statement == guarded


def test_margin_and_guarded_limits() -> None:
    """Between 0 and 6 N m, 1.1 N m are left; U = 0.098 draws the band in to 0.098 … 5.902 N m."""
    result = weigh(weighed(Limits(0.0, 6.0)))
    assert result.margin == pytest.approx(1.1, rel=1e-13)
    assert result.limits.guarded_lower == pytest.approx(0.098, rel=1e-13)
    assert result.limits.guarded_upper == pytest.approx(5.902, rel=1e-13)
    assert weigh(weighed(Limits(None, 4.0))).margin == pytest.approx(-0.9, rel=1e-13)


def test_the_probability_is_normal() -> None:
    """On the limit it is one half; one u inside, 0.8413 (normal table, from memory)."""
    assert weigh(weighed(Limits(None, 4.9))).probability_within == pytest.approx(0.5, abs=1e-12)
    assert weigh(weighed(Limits(None, 4.9 + 0.049))).probability_within == pytest.approx(0.8413, abs=5e-5)


def test_no_limit_no_statement() -> None:
    """Where nothing is limited, nothing is stated."""
    result = weigh(weighed(Limits()))
    assert (result.statement, result.margin, result.probability_within, result.statements) == (None, None, None, ())


def test_without_uncertainty_there_is_no_guarded_statement() -> None:
    """One reading and nothing stated: the simple statement stands alone; the guarded rule gives none."""
    bare = replace(weighed(Limits(0.0, 6.0, "guarded")), uncertainty=StatedUncertainty())
    result = weigh(bare)
    assert (result.statement_simple, result.statement_guarded, result.statement) == ("inside", None, None)
    assert (result.static_moment.expanded_uncertainty, result.probability_within) == (None, None)
    assert result.limits.guarded_upper is None


# ------------------------------------------------------------------ mass and reading


@pytest.mark.parametrize(
    ("u", "simple", "guarded"),
    [(None, "inside", "inside"), (0.01, "inside", "inside"), (0.06, "inside", "too close to tell")],
)
def test_limits_of_the_mass(u: float | None, simple: str, guarded: str) -> None:
    """4.0 kg against 3.5 to 4.1 kg: exact, with U = 0.02 kg, and with U = 0.12 kg."""
    stated = None if u is None else Stated(u, "kg", "standard")
    surface = Surface("rudder", mass=4.0, mass_uncertainty=stated)
    result = weigh(weighed(Limits(0.0, 6.0, mass=MassLimits(3.5, 4.1)), surface=surface))
    (mass,) = [made for made in result.statements if made.of == "mass"]
    assert (mass.statement_simple, mass.statement_guarded, mass.unit) == (simple, guarded, "kg")
    assert mass.margin == pytest.approx(0.1, rel=1e-12)
    assert result.statement_guarded == guarded


def test_the_worse_statement_leads() -> None:
    """A moment inside and a mass outside: outside."""
    surface = Surface("rudder", mass=4.2)
    result = weigh(weighed(Limits(0.0, 6.0, mass=MassLimits(None, 4.1)), surface=surface))
    assert [made.statement_simple for made in result.statements] == ["inside", "outside"]
    assert (result.statement, result.statement_guarded) == ("outside", "outside")


@pytest.mark.parametrize(("unit", "value"), [("kg", 1.0), ("N", 9.8)])
def test_limits_of_the_reading(unit: str, value: float) -> None:
    """4.9 N m at 0.5 m is 9.8 N or 1 kg at the document's point, tail-heavy positive, U = 2 % of it."""
    result = weigh(weighed(Limits(reading=ReadingLimits(0.0, 0.99 * value, unit))))  # type: ignore[arg-type]
    (made,) = result.statements
    assert (made.of, made.unit, made.value) == ("reading", unit, pytest.approx(value, rel=1e-14))
    assert made.expanded_uncertainty == pytest.approx(0.02 * value, rel=1e-13)
    assert (made.statement_simple, made.statement_guarded) == ("outside", "too close to tell")


@pytest.mark.parametrize(
    ("made", "leading"),
    [
        ((), None),
        (("inside",), "inside"),
        (("inside", "too close to tell"), "too close to tell"),
        (("outside", "inside"), "outside"),
        (("inside", None), None),
        (("outside", None), "outside"),
    ],
)
def test_overall(made: tuple, leading: str | None) -> None:
    """The worst leads; where one could not be made there is none, unless another is outside."""
    assert overall(made) == leading


@pytest.mark.parametrize("unit", ["kg", "N"])
@pytest.mark.parametrize("side", ["aft", "forward"])
def test_a_reading_on_its_limit_is_inside(unit: str, side: str) -> None:
    """The value goes through the moment and back, r g a/(g a), and may not leave the limit by a float's last digit."""
    for grams in range(100, 400, 7):
        shown = grams / 1000.0
        support = Support(arm=0.255, side=side, readings=(shown,), reading_unit=unit)  # type: ignore[arg-type]
        ends = (-1.0, shown) if side == "aft" else (-shown, 1.0)
        limits = Limits(reading=ReadingLimits(*ends, unit))  # type: ignore[arg-type]
        (made,) = weigh(Weighing(Surface("elevator"), (support,), limits=limits)).statements
        assert (made.statement_simple, made.margin) == ("inside", 0.0), grams


def test_a_reading_a_hair_beyond_its_limit_is_outside() -> None:
    """Ten to the minus nine of a kilogram is more than rounding."""
    support = Support(arm=0.255, readings=(0.387 + 1e-9,))
    made = weigh(Weighing(Surface("elevator"), (support,), limits=Limits(reading=ReadingLimits(None, 0.387))))
    assert made.statement == "outside"

"""Where a number comes from is carried into the answer, with the number and how sure it is."""

from __future__ import annotations

from hingeline.flutter.model import FieldSource, ScatteredField
from hingeline.flutter.where_from import stated_sources
from tests.hingeline.flutter.models import RIG, task


def test_a_source_carries_number_unit_and_uncertainty() -> None:
    """A relative deviation becomes an amount, a stated one stays, and without one there is none."""
    given = task(
        RIG,
        sources=(
            FieldSource("section.surface_static_moment", "weighed"),
            FieldSource("section.pitch_inertia", "swung"),
            FieldSource("structural_damping", "a guess"),
            FieldSource("air.density", "standard atmosphere"),
        ),
        scatter=(
            ScatteredField("section.surface_static_moment", relative=0.1),
            ScatteredField("section.pitch_inertia", standard_uncertainty=0.0002),
        ),
    )
    found = [(one.value, one.unit, one.standard_uncertainty) for one in stated_sources(given)]

    assert found == [
        (0.00395, "kg", 0.1 * 0.00395),
        (0.01347, "kg m", 0.0002),
        (0.0, "1", None),
        (1.225, "kg/m^3", None),
    ]
    assert [one.source for one in stated_sources(given)] == ["weighed", "swung", "a guess", "standard atmosphere"]

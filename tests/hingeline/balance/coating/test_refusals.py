"""Every coating that cannot be computed is refused, by field, with what would do."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.balance import Limits, MassLimits, MomentBand
from hingeline.balance.coating import CoatedSurface, CoatingTask, Layer, predict_coating
from hingeline.errors import InputRefused
from hingeline.uncertainty import Measured
from hingeline.uncertainty.stated import Stated

COAT = Layer("coat", arm=0.06, area=0.3, mass_per_area=0.1)
BARE = replace(COAT, mass_per_area=None)
GOOD = CoatedSurface((COAT,), moment=Measured(0.3, 0.01))


def layer(**changes: object) -> CoatingTask:
    """A task whose one layer is changed."""
    return CoatingTask((replace(GOOD, layers=(replace(COAT, **changes),)),))  # type: ignore[arg-type]


def surface(**changes: object) -> CoatingTask:
    """A task whose one surface is changed."""
    return CoatingTask((replace(GOOD, **changes),))  # type: ignore[arg-type]


def bare(**changes: object) -> CoatingTask:
    """A task whose one layer has no mass but what is given."""
    return CoatingTask((replace(GOOD, layers=(replace(BARE, **changes),)),))  # type: ignore[arg-type]


REFUSED = [
    (CoatingTask(()), "layer", "at least one layer"),
    (surface(layers=()), "layer", "at least one layer"),
    (layer(name=" "), "layer[0].name", "a name"),
    (layer(count=0.0), "layer[0].count", "within ± 100 that is not 0"),
    (layer(count=101.0), "layer[0].count", "within ± 100 that is not 0"),
    (layer(count=math.nan), "layer[0].count", "within ± 100 that is not 0"),
    (layer(arm=-0.06), "layer[0].arm", "a distance from the hinge line, 0 or more"),
    (layer(arm=math.inf), "layer[0].arm", "a distance from the hinge line, 0 or more"),
    (layer(arm=60.0), "layer[0].arm", "a distance up to 10 m"),
    (layer(area=None), "layer[0].area", "the area of one face"),
    (layer(area=0.0), "layer[0].area", "area above 0 and up to 20 m^2"),
    (layer(area=327.0), "layer[0].area", "area above 0 and up to 20 m^2"),
    (layer(mass_per_area=254.0), "layer[0].mass_per_area", "mass per area above 0 and up to 20 kg/m^2"),
    (layer(mass_per_area=-0.1), "layer[0].mass_per_area", "mass per area above 0 and up to 20 kg/m^2"),
    (bare(), "layer[0]", "exactly one of mass_per_area; film and density; wet_volume"),
    (layer(film=6e-5), "layer[0]", "exactly one of mass_per_area; film and density; wet_volume"),
    (bare(film=6e-5), "layer[0].density", "density, which belongs to film"),
    (bare(density=1400.0), "layer[0].film", "film, which belongs to density"),
    (bare(film=0.06, density=1400.0), "layer[0].film", "film above 0 and up to 0.01 m"),
    (bare(film=6e-5, density=1.4), None, ""),
    (bare(wet_volume=5e-4, volume_solids=0.5, transfer=0.6), "layer[0].solids_density", "which belongs to wet_volume"),
    (bare(wet_volume=5e-4, volume_solids=50.0, solids_density=1500.0, transfer=0.6), "layer[0].volume_solids",
     "volume solids above 0 and up to 1"),
    (bare(wet_volume=5e-4, volume_solids=0.5, solids_density=1500.0, transfer=0.0), "layer[0].transfer",
     "transfer above 0 and up to 1"),
    (layer(area_uncertainty=Stated(0.01, "m")), "layer[0].area", "an uncertainty in m^2, or a part of the value"),
    (layer(area_uncertainty=Stated(0.3, "m^2")), "layer[0].area", "less than 0.3 m^2"),
    (layer(area_uncertainty=Stated(1.0, "1")), "layer[0].area", "less than 100 %"),
    (layer(area_uncertainty=Stated(-0.1, "1")), "layer[0].area", "an amount, 0 or more"),
    (layer(arm_uncertainty=Stated(0.01, "m", "expanded", 0.0)), "layer[0].arm.k", "between 0.1 and 10"),
    (layer(arm_uncertainty=Stated(0.01, "m", degrees_of_freedom=0.0)), "layer[0].arm.degrees_of_freedom", "1 or more"),
    (surface(moment=Measured(2e4, 0.1)), "moment", "a value within ± 10000 N m"),
    (surface(moment=Measured(0.3, 0.1, 0.2, 50.0)), "moment.k", "between 0.1 and 10"),
    (surface(mass=Measured(0.0, 0.1)), "mass", "a mass above 0"),
    (surface(mass=Measured(0.02, None), layers=(replace(COAT, count=-1.0),)), "mass", "that the layers take off"),
    (surface(limits=Limits(lower=0.5, upper=0.1)), "limits.lower", "a lower limit below the upper one"),
    (surface(limits=Limits(upper=math.inf)), "limits.upper", "a finite limit"),
    (surface(limits=Limits(source="page 3")), "limits", "a lower or an upper limit"),
    (surface(limits=Limits(mass=MassLimits(0.5, 1.0))), "mass", "since limits depend on it"),
    (surface(limits=Limits(bands=(MomentBand(0.5, 1.0, 0.0, 1.0),))), "mass", "since limits depend on it"),
    (surface(mass=Measured(0.7, None), limits=Limits(bands=(MomentBand(1.0, 0.5, 0.0, 1.0),))),
     "limits.band[0].mass.lower", "a lower limit below the upper one"),
    (surface(mass=Measured(0.7, None), limits=Limits(upper=1.0, bands=(MomentBand(0.5, 1.0, 0.0, 1.0),))),
     "limits.band", "mass bands, or one band for every mass"),
    (CoatingTask((GOOD, GOOD)), "surface[0].name", "a name of its own"),
    (CoatingTask((replace(GOOD, name="left"), replace(GOOD, name="left"))), "surface[1].name", "a name of its own"),
    (CoatingTask((replace(GOOD, name="a"), replace(GOOD, name="b", layers=(replace(COAT, arm=-1.0),)))),
     "surface[1].layer[0].arm", "0 or more"),
    (CoatingTask((GOOD,), local_gravity=1.6), "local_gravity", "between 9.7 and 9.9"),
    (CoatingTask((GOOD,), coverage=95.0), "coverage", "between 0.5 and 0.9999"),
]  # fmt: skip


@pytest.mark.parametrize(("task", "field", "expected"), REFUSED)
def test_it_is_refused(task: CoatingTask, field: str | None, expected: str) -> None:
    """The refusal names the field and what would do; what only looks odd passes."""
    if field is None:
        assert predict_coating(task).surfaces
        return
    with pytest.raises(InputRefused) as caught:
        predict_coating(task)
    found = {refusal.field: refusal for refusal in caught.value.refusals}
    assert field in found, list(found)
    assert expected in found[field].expected
    assert found[field].remedy.endswith((".", "?"))


def test_all_faults_come_in_one_go() -> None:
    """A task with faults in several layers is refused once, with each of them."""
    wrong = replace(GOOD, layers=(replace(COAT, arm=-1.0), replace(COAT, count=0.0), replace(BARE, name="")))
    with pytest.raises(InputRefused) as caught:
        predict_coating(CoatingTask((wrong,), local_gravity=0.0))
    assert [refusal.field for refusal in caught.value.refusals] == [
        "local_gravity", "layer[0].arm", "layer[1].count", "layer[2].name", "layer[2]",
    ]  # fmt: skip

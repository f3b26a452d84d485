"""A correction as the records hold it becomes a ballast file, and the file is worked out: page and command agree."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from contextlib import suppress
from functools import lru_cache
from typing import Any

from hingeline.balance.ballast import plan_ballast, predict_change
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.correcting.handed_over import swung_inertia
from hingeline_app.bench.typed import kept_as_a_file_takes
from hingeline_app.figures.wording import measured_places
from hingeline_app.files.ballast_file import FORMAT, BallastJob, read_ballast
from hingeline_app.files.toml_text import toml_text
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord
from hingeline_app.report.quantities import value_of

MOMENT_LIMITS = ("lower", "upper")
NONE_OF_IT = 5e-7  # kg: less than nothing can be fitted or taken off
# What is changed is weighed and measured at the bench as well as this, where the places say nothing else
# (common practice, no source): said on the page, changed in the file.
OF_A_CHANGE = {"arm": {"limit": "1 mm"}, "mass": {"limit": "0.5 g"}}
OF_A_PLACE = ("name", "arm", "side", "spanwise", "largest_mass", "smallest_mass", "smallest_step", "fixed_mass",
              "present_mass")  # fmt: skip


def correction_tables(job: JobRecord, weighing: MeasurementRecord, document: Mapping[str, Any]) -> dict[str, Any]:
    """Give the tables of a ballast file (``hingeline/ballast/1``) for what a weighing found.

    Parameters
    ----------
    job, weighing : JobRecord, MeasurementRecord
    document : mapping
        The result of that weighing.
    """
    told, fitted = job.details.get("correct") or {}, job.fitted
    known = fitted.document if fitted else {}
    return {
        "format": FORMAT,
        "local_gravity": job.local_gravity,
        "moment": _moment(document["static_moment"]),
        "inertia": _of_now(job, "inertia", told.get("inertia") or swung_inertia(job.details)),
        "product_of_inertia": _of_now(job, "product", told.get("product") or None),
        "target": (told.get("plan") or {}).get("target") or clear_target(document) or "nearest",
        "surface": _surface(job, weighing, known),
        "limits": _limits(document, job.local_gravity),
        "place": [place_now(each, fitted_so_far(job)) for each in told.get("place") or [] if each and each.get("name")],
        "uncertainty": OF_A_CHANGE,
        "sheet": {"aircraft": f"{job.type_name} · {job.registration}", "job": f"{job.number:04d}",
                  "weighing": str(weighing.number), "date": weighing.begun_on.isoformat()},
    }  # fmt: skip


def correction_text(job: JobRecord, weighing: MeasurementRecord, document: Mapping[str, Any]) -> str:
    """Give the ballast file as text, as ``hingeline ballast`` reads it."""
    return toml_text(correction_tables(job, weighing, document))


def worked_out(text: str, amounts: Sequence[str] | None = None) -> dict[str, Any]:
    """Let the library plan, or predict what chosen amounts would do.

    Raises
    ------
    InputRefused
        With every fault.
    """
    return dict(_planned(text) if amounts is None else _chosen(text, tuple(amounts)))


@lru_cache(maxsize=256)
def _planned(text: str) -> Mapping[str, Any]:
    return to_document(plan_ballast(_read(text).task))


@lru_cache(maxsize=256)
def _chosen(text: str, amounts: tuple[str, ...]) -> Mapping[str, Any]:
    task = _read(text).task
    return to_document(predict_change(task, [float(read(each, "mass")) for each in amounts]))


def _read(text: str) -> BallastJob:
    return read_ballast(text.encode())


def _moment(moment: Mapping[str, Any]) -> Any:
    value = f"{moment['value']!r} N m"
    if moment.get("expanded_uncertainty") is None:
        return value
    stated = {"value": value, "expanded": f"{moment['expanded_uncertainty']!r} N m", "k": moment["coverage_factor"]}
    freedom = moment.get("degrees_of_freedom")
    return stated if freedom is None else stated | {"degrees_of_freedom": freedom}


def clear_target(document: Mapping[str, Any]) -> str | None:
    """Give the moment nearest to what was weighed that is clear of the limits by U and a tenth of it.

    What is predicted to lie on a limit will be weighed outside as often as inside. None without U, or where
    the limits are too close together.
    """
    moment, limits = document["static_moment"], document.get("limits") or {}
    expanded = moment.get("expanded_uncertainty")
    ends = [(limits.get(name) or {}).get("value") for name in MOMENT_LIMITS]
    if not expanded or ends == [None, None]:
        return None
    low, high = (None if end is None else end + sign * 1.1 * expanded for end, sign in zip(ends, (1, -1), strict=True))
    if low is not None and high is not None and low >= high:
        return None
    places = measured_places(moment["value"], expanded)
    wanted = moment["value"]
    if high is not None and wanted > high:
        return f"{math.floor(high * 10**places) / 10**places:.{places}f} N m"
    if low is not None and wanted < low:
        return f"{math.ceil(low * 10**places) / 10**places:.{places}f} N m"
    return f"{wanted:.{places}f} N m"


def _limits(document: Mapping[str, Any], local_gravity: str) -> dict[str, Any]:
    """Give the limits that held for the weighed surface: of several bands the one of its mass."""
    limits = document.get("limits") or {}
    ends = {name: _as_given(limits.get(name), local_gravity) for name in MOMENT_LIMITS}
    return {**ends, "rule": document.get("rule") or "simple", "source": document.get("limits_source") or None}


def _as_given(quantity: Mapping[str, Any] | None, local_gravity: str) -> str | None:
    """Give an end as it was typed, or in N m where its typing says another moment by now than on the weighing's day."""
    if quantity is None or quantity.get("value") is None:
        return None
    typed, value = quantity.get("typed"), quantity["value"]
    return str(typed) if typed and _says(typed, value, local_gravity) else f"{value!r} N m"


def _says(typed: str, value: float, local_gravity: str) -> bool:
    """Tell whether what was typed, kg cm by the workshop's gravity among it, is still read as this moment."""
    with suppress(InputRefused):
        return read(typed, "moment", local_gravity=read(local_gravity, "acceleration")) == value
    return False


def _surface(job: JobRecord, weighing: MeasurementRecord, known: Mapping[str, Any]) -> dict[str, Any]:
    given = weighing.set_up.get("surface") or {}
    mass = given.get("mass") or None
    if known and _is_older(given, known):
        mass = _after(known, "mass_after", "kg") or mass
    depth = kept_as_a_file_takes(job.hinge_to_trailing_edge, "length")
    return {"name": job.surface_name, "mass": mass, "hinge_to_trailing_edge": depth}


def _of_now(job: JobRecord, name: str, given: str | None) -> str | None:
    """Give an inertia as it is now: what was typed or swung since the correction was fitted, else what that left."""
    fitted = [each.document.get(f"{name}_before") for each in job.proposals if each.fitted_at_change is not None]
    if given and not any(before and read(given, "inertia") == before["value"] for before in fitted):
        return given
    return _after(job.fitted.document if job.fitted else {}, f"{name}_after", "kg m^2") or given


def _is_older(given: Mapping[str, Any], known: Mapping[str, Any]) -> bool:
    """Tell whether the mass of a set-up is the one from before the correction: it was carried over."""
    before = known.get("mass_before")
    try:
        return bool(before and given.get("mass") and read(given["mass"], "mass") == before["value"])
    except InputRefused:
        return False


def fitted_so_far(job: JobRecord) -> list[Mapping[str, Any]]:
    """Give the corrections that were fitted, in their order."""
    fitted = [each for each in job.proposals if each.fitted_at_change is not None]
    return [each.document for each in sorted(fitted, key=lambda each: each.fitted_at_change or 0)]


def place_now(table: Mapping[str, Any], fitted: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """Give a place as it is now: with what the last correction that named it left there, unless more was typed since.

    A later correction of another place leaves it as it is.
    """
    given = {name: table[name] for name in OF_A_PLACE if table.get(name)}
    bracket = read(given["fixed_mass"], "mass") if "fixed_mass" in given else 0.0
    carried = _carried(given["name"], bracket, fitted)
    if carried is None or _is_typed_since(given, fitted):
        return given
    if bracket and abs(carried - bracket) <= NONE_OF_IT:
        # Only bracket and screws are left: they are no change any more, and take their part of what may be there.
        given |= _less(given, bracket)
        del given["fixed_mass"]
    given["present_mass"] = f"{max(round(carried - bracket, 9), 0.0)!r} kg"
    return given


def _carried(name: str, bracket: float, fitted: Sequence[Mapping[str, Any]]) -> float | None:
    """Give what a place carries in all, bracket and screws with it [kg]; None where no correction named it.

    Once they were left alone there, the next plan is not told of them: what it counts in all is without them.
    """
    carried, is_alone = None, False
    for document in fitted:
        told: Mapping[str, Any] = next((each for each in document.get("places") or () if each["name"] == name), {})
        is_untold = is_alone and bool(told) and not value_of(told.get("fixed_mass"))
        for change in document["changes"]:
            if change["place"] == name:
                carried = change["mass_after"]["value"] + (bracket if is_untold else 0.0)
                is_alone = bool(bracket) and abs(carried - bracket) <= NONE_OF_IT
    return carried


def _is_typed_since(given: Mapping[str, Any], fitted: Sequence[Mapping[str, Any]]) -> bool:
    """Whether what is said to be present at a place is none of what the corrections were worked out from."""
    typed = read(given["present_mass"], "mass") if "present_mass" in given else 0.0
    places = [each for document in fitted for each in document.get("places") or () if each["name"] == given["name"]]
    then = [value_of(each.get("present_mass")) or 0.0 for each in places]
    return bool(then) and all(abs(typed - each) > NONE_OF_IT for each in then)


def _less(given: Mapping[str, Any], bracket: float) -> dict[str, str]:
    names = [name for name in ("largest_mass", "smallest_mass") if name in given]
    return {name: f"{max(round(read(given[name], 'mass') - bracket, 9), 0.0)!r} kg" for name in names}


def _after(known: Mapping[str, Any], name: str, unit: str) -> str | None:
    quantity = known.get(name)
    return None if not quantity else f"{quantity['value']!r} {unit}"


def chosen_amounts(details: Mapping[str, Any]) -> tuple[str, ...] | None:
    """Give what a person chose at each place, in their order; None where the library plans."""
    told = details.get("correct") or {}
    chosen = (told.get("plan") or {}).get("amounts")
    if chosen is None:
        return None
    return tuple(str(chosen.get(name) or "0 g") for name in place_names(details))


def place_names(details: Mapping[str, Any]) -> tuple[str, ...]:
    """Name the places, in their order; one that was taken out again is left out."""
    places = (details.get("correct") or {}).get("place") or []
    return tuple(str(each["name"]) for each in places if each and each.get("name"))

"""A weighing as the records hold it becomes a weighing file, and the file is weighed: page, print and command agree."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from hingeline.balance import plan_weighing, weigh
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.limits.limits_of import limits_table
from hingeline_app.bench.typed import kept_as_a_file_takes
from hingeline_app.files.toml_text import toml_text
from hingeline_app.files.weighing_file import FORMAT, WeighingJob, read_weighing
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord, ReadingRecord
from hingeline_app.records.queries.matter import OPEN

_UNIT = re.compile(r"[^\d.,\s]*$")
OF_A_SUPPORT = ("arm", "side", "pushes", "tare", "arm_uncertainty", "tare_uncertainty")


def weighing_tables(job: JobRecord, weighing: MeasurementRecord) -> dict[str, Any]:
    """Give the tables of a weighing file (``hingeline/weighing/1``) for one weighing of a job.

    Parameters
    ----------
    job, weighing : JobRecord, MeasurementRecord
        As the records hold them; readings that were withdrawn do not count.

    Returns
    -------
    dict
        Plain data: quantities as texts with their units.

    Raises
    ------
    InputRefused
        Which way the plus of the limits points cannot be understood.
    """
    set_up = weighing.set_up
    return {
        "format": FORMAT,
        "local_gravity": job.local_gravity,
        "surface": _surface(job, set_up),
        "support": [_support(each, number, weighing) for number, each in enumerate(set_up.get("support") or [], 1)],
        "hung": list(set_up.get("hung") or []),
        "part": list(set_up.get("part") or []),
        "uncertainty": _uncertainty(weighing),
        "limits": limits_table(job.limit_row),
        "sheet": _sheet(job, weighing),
    }


def weighing_text(job: JobRecord, weighing: MeasurementRecord) -> str:
    """Give the weighing file as text, as ``hingeline weigh`` reads it.

    Raises
    ------
    InputRefused
        As :func:`weighing_tables` does.
    """
    return toml_text(weighing_tables(job, weighing))


def text_as_it_stands(job: JobRecord, weighing: MeasurementRecord) -> str:
    """Give the weighing file; an earlier weighing, and one of a closed job, keeps the surface and gravity of its day.

    What is corrected later of the surface or of the workshop says nothing of a result that was recorded before.

    Raises
    ------
    InputRefused
        As :func:`weighing_tables` does.
    """
    tables, kept = weighing_tables(job, weighing), weighing.result
    is_last = job.weighing is not None and job.weighing.identifier == weighing.identifier
    if kept and not weighing.is_stale and not (is_last and job.state == OPEN):
        tables |= {name: kept.asked[name] for name in ("surface", "local_gravity") if name in kept.asked}
    return toml_text(tables)


def weighed(text: str) -> dict[str, Any]:
    """Weigh what a file says, and give the result document.

    Raises
    ------
    InputRefused
        With every fault: what is missing, and how to mend it.
    """
    return dict(_weighed(text))


def planned(text: str) -> dict[str, Any]:
    """Say before the work what the scale may show (the reading window).

    Raises
    ------
    InputRefused
        With every fault.
    """
    return dict(to_document(plan_weighing(_read(text).weighing)))


@lru_cache(maxsize=256)
def _weighed(text: str) -> Mapping[str, Any]:
    return to_document(weigh(_read(text).weighing))


def _read(text: str) -> WeighingJob:
    return read_weighing(text.encode())


def _surface(job: JobRecord, set_up: Mapping[str, Any]) -> dict[str, Any]:
    given = dict(set_up.get("surface") or {})
    depth = kept_as_a_file_takes(job.hinge_to_trailing_edge, "length")
    return {"name": job.surface_name, "hinge_to_trailing_edge": depth, **given}


def _support(table: Mapping[str, Any], number: int, weighing: MeasurementRecord) -> dict[str, Any]:
    place = f"support {number}"
    told = {name: table[name] for name in OF_A_SUPPORT if table.get(name) not in (None, "")}
    columns = {"readings": place, "rising": f"{place} rising", "falling": f"{place} falling"}
    by = {name: [each for each in weighing.counting if each.place == where] for name, where in columns.items()}
    as_typed = _one_unit(each for column in by.values() for each in column)
    readings = {name: [_written(each, as_typed) for each in column] for name, column in by.items() if column}
    return {**told, **readings, "scale": weighing.scale["name"] if weighing.scale else None}


def _one_unit(readings: Iterable[ReadingRecord]) -> bool:
    """Whether all were typed in one unit, as a file wants it."""
    return len({_UNIT.search(each.typed).group() for each in readings}) <= 1  # type: ignore[union-attr]


def _written(reading: ReadingRecord, as_typed: bool) -> str:
    """Write a reading as it was typed where the file's reader takes it for the same number, or else in SI."""
    dimension = "mass" if reading.si_unit == "kg" else "force"
    if as_typed:
        try:
            if read(reading.typed, dimension) == reading.si_value:
                return reading.typed
        except InputRefused:
            pass
    return f"{reading.si_value!r} {reading.si_unit}"


def _uncertainty(weighing: MeasurementRecord) -> dict[str, Any]:
    """Gather the ± of the scale and of the stand, set once, and what this weighing adds."""
    scale, stand = weighing.scale or {}, weighing.stand or {}
    step = {"scale": {"resolution": scale["step"]}} if scale.get("step") else {}
    return {
        **step,
        **(scale.get("uncertainty") or {}),
        **(stand.get("uncertainty") or {}),
        # One that was taken back again leaves what scale and stand say.
        **{name: stated for name, stated in (weighing.set_up.get("uncertainty") or {}).items() if stated},
    }


def _sheet(job: JobRecord, weighing: MeasurementRecord) -> dict[str, Any]:
    row = job.limit_row
    return {
        "aircraft": f"{job.type_name} · {job.registration}",
        "serial": job.surface_serial or None,
        "job": f"{job.number:04d}",
        "weighing": str(weighing.number),
        "date": weighing.begun_on.isoformat(),
        "scale_calibrated": _certificate_words(weighing.scale or {}),
        "document": f"{row.document}, issue {row.issue}, page {row.page}" if row else None,
    }


def _certificate_words(scale: Mapping[str, Any]) -> str | None:
    """Say from when until when the certificate of the day holds; nobody may have entered the first day."""
    begins, expires = scale.get("certificate_begins"), scale.get("certificate_expires")
    if expires is None:
        return None
    if begins is None:
        return f"certificate holds until {expires.isoformat()}, since when is not known"
    return f"certificate holds from {begins.isoformat()} until {expires.isoformat()}"

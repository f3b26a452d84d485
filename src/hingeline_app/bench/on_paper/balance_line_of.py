"""A job's line for the aircraft's weight-and-balance record: what was fitted, and the datum arm where it is known."""

from __future__ import annotations

from collections.abc import Iterator

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.figures.correction.words import mass_of
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.report.balance_line import BalanceLine, PlaceChange
from hingeline_app.report.quantities import signed_arm

FARTHEST = 100.0  # [m]
# Where a job holds how far aft of the aircraft's datum its hinge line lies.
HINGE_FROM_DATUM = "balance_line.hinge_from_datum"


def balance_line_of(job: JobRecord, workshop: str, typed_arm: str = "") -> BalanceLine:
    """Compose the line.

    Parameters
    ----------
    job : JobRecord
    workshop : str
    typed_arm : str
        Arm of the hinge line from the aircraft's datum, aft positive, as typed with its unit; else the one that the
        job holds at ``balance_line.hinge_from_datum``; else the line asks for it.

    Raises
    ------
    InputRefused
        The arm is no length, or no aircraft is that long.
    """
    text = typed_arm.strip() or str(value_at(job.details, HINGE_FROM_DATUM) or "")
    weighing = job.weighing
    return BalanceLine(
        aircraft=f"{job.type_name} · {job.registration}",
        surface=job.surface_name,
        record=f"{job.number:04d}",
        date=(weighing.begun_on if weighing else job.opened_on).isoformat(),
        workshop=workshop,
        changes=tuple(_changes(job)),
        hinge_from_datum=_arm(text) if text else None,
    )


def _arm(text: str) -> float:
    arm = float(read(text, "length", field="arm", page=True))
    if abs(arm) > FARTHEST:
        raise InputRefused.of("arm", text, f"at most {FARTHEST:.0f} m from the datum", "Give it with its unit: 4.32 m.")
    return arm


def _changes(job: JobRecord) -> Iterator[PlaceChange]:
    for proposal in job.proposals:
        if proposal.fitted_at_change is not None:
            for each in proposal.document.get("changes") or []:
                yield PlaceChange(str(each.get("place") or ""), mass_of(each), signed_arm(each))

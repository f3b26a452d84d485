"""A correction is proposed, then fitted; after that the surface is weighed again before anything is signed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.measuring import found_by, spelled
from hingeline_app.records.actions.working import working
from hingeline_app.records.models import BallastProposal
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command


def propose_ballast(
    actor: Actor, job: UUID, document: Mapping[str, Any], command: Command | None = None
) -> BallastProposal:
    """Keep a correction that was worked out. It is predicted, not weighed.

    Raises
    ------
    NotAllowed, InputRefused
        The table of roles has no yes; it is no document.
    """
    with working(actor, Act.PROPOSE_BALLAST, "ballast proposed", job, command=command) as work:
        proposal = BallastProposal(**spelled(document), **work.made)
        work.keep(proposal)
    return proposal


def fit_ballast(actor: Actor, proposal: UUID, command: Command | None = None) -> BallastProposal:
    """Say that a proposed correction was fitted: weigh again.

    Raises
    ------
    NotAllowed
        It was fitted before.
    """
    kept: BallastProposal = found_by(actor, BallastProposal, proposal)
    with working(actor, Act.WORK, "ballast fitted", kept.job_id, command=command) as work:
        kept.refresh_from_db()
        if kept.fitted_at_change is not None:
            raise NotAllowed(_("This correction was fitted before."))
        kept.fitted_at_change, kept.fitted_by = work.job.changes, work.person
        work.keep(kept)
    return kept


def take_fitting_back(actor: Actor, proposal: UUID, undoes: int, command: Command | None = None) -> BallastProposal:
    """Say that a correction was not fitted after all.

    Raises
    ------
    NotAllowed
        It is not fitted; or the surface was weighed since.
    """
    kept: BallastProposal = found_by(actor, BallastProposal, proposal)
    says = {"undoes": undoes}
    with working(actor, Act.WORK, "ballast fitted", kept.job_id, says=says, command=command) as work:
        kept.refresh_from_db()
        if kept.fitted_at_change is None:
            raise NotAllowed(_("This correction is not fitted."))
        if work.job.measurements.filter(kind="weighing", change__gt=kept.fitted_at_change).exists():
            raise NotAllowed(_("The surface was weighed since: propose another correction."))
        kept.fitted_at_change, kept.fitted_by = None, None
        work.keep(kept)
    return kept

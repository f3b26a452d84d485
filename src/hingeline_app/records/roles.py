"""Who may do what: one table, deny unless a cell says yes.

A cell holds the condition under which the role may do the act. An administrator's rights
never include a signature. A person may hold several roles; what one person may not do
twice on one job is in the conditions, and they compare persons, not accounts.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

ENGINEER = "engineer"
SECOND_INSPECTOR = "second inspector"
CERTIFYING = "certifying"
OWNER = "owner"
ADMINISTRATOR = "administrator"
ROLES = (ENGINEER, SECOND_INSPECTOR, CERTIFYING, OWNER, ADMINISTRATOR)

# A role that two administrators have to agree on before it counts.
BY_TWO_ADMINISTRATORS = frozenset({CERTIFYING})


class Act(StrEnum):
    """What can be done in the records."""

    SEE = "see a job"
    WORK = "open a job, weigh, upload"
    CORRECT = "correct an entry"
    PROPOSE_BALLAST = "propose ballast"
    ENTER_LIMITS = "enter limits"
    CONFIRM_LIMITS = "confirm limits"
    INSPECT = "second inspection"
    INSPECT_AGAIN = "inspect again as the same person"
    RELEASE = "release"
    WITHDRAW_RELEASE = "withdraw a release"
    DELETE = "delete"
    KEEP_EQUIPMENT = "keep scales, stands and materials"
    KEEP_AIRCRAFT = "keep aircraft, surfaces, parts and counters"
    TRANSCRIBE = "transcribe a paper record"
    SEE_CHECKS = "see checks ahead, and keep a calendar of them"
    KEEP_TASKS = "keep the tasks of the approved programme"
    SIGN_OFF = "enter that a check was done, or put off"
    MANAGE_PEOPLE = "manage people and devices"
    MANAGE_WORKSHOP = "set the workshop up"
    BACK_UP = "back up and restore"
    READ_SECURITY = "read the security log"
    EXPORT = "export the records"
    VERIFY = "verify the ledger"


class Condition(StrEnum):
    """When a role may do an act. What stands in no cell is never allowed."""

    ALWAYS = "always"
    OWN_AIRCRAFT = "own aircraft only"
    BEFORE_RELEASE = "before release"
    OWN_BEFORE_RELEASE = "own entry, before release"
    OTHER_PERSON = "not by the person who entered it"
    NOT_OWN_WORK = "not on own work"
    OWN_WORK = "on own work only"
    INSPECTED_AND_PROVED = "after the inspection by another person, with fresh proof"


# Acts that end in a signature: a licence must be there and must not have expired.
SIGNATURES = frozenset({Act.CONFIRM_LIMITS, Act.INSPECT, Act.INSPECT_AGAIN, Act.RELEASE, Act.WITHDRAW_RELEASE})

_ALWAYS = Condition.ALWAYS
CELLS: Mapping[Act, Mapping[str, Condition]] = {
    Act.SEE: {
        ENGINEER: _ALWAYS,
        SECOND_INSPECTOR: _ALWAYS,
        CERTIFYING: _ALWAYS,
        OWNER: Condition.OWN_AIRCRAFT,
        ADMINISTRATOR: _ALWAYS,
    },
    Act.WORK: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS},
    Act.CORRECT: {ENGINEER: Condition.OWN_BEFORE_RELEASE, CERTIFYING: Condition.BEFORE_RELEASE},
    Act.PROPOSE_BALLAST: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS},
    Act.ENTER_LIMITS: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS},
    Act.CONFIRM_LIMITS: {SECOND_INSPECTOR: Condition.OTHER_PERSON, CERTIFYING: Condition.OTHER_PERSON},
    Act.INSPECT: {SECOND_INSPECTOR: Condition.NOT_OWN_WORK, CERTIFYING: Condition.NOT_OWN_WORK},
    Act.INSPECT_AGAIN: {SECOND_INSPECTOR: Condition.OWN_WORK, CERTIFYING: Condition.OWN_WORK},
    Act.RELEASE: {CERTIFYING: Condition.INSPECTED_AND_PROVED},
    Act.WITHDRAW_RELEASE: {CERTIFYING: _ALWAYS},
    Act.DELETE: {},
    Act.KEEP_EQUIPMENT: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS},
    Act.KEEP_AIRCRAFT: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS, ADMINISTRATOR: _ALWAYS},
    Act.TRANSCRIBE: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS},
    Act.SEE_CHECKS: {
        ENGINEER: _ALWAYS,
        SECOND_INSPECTOR: _ALWAYS,
        CERTIFYING: _ALWAYS,
        OWNER: _ALWAYS,
        ADMINISTRATOR: _ALWAYS,
    },
    Act.KEEP_TASKS: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS},
    Act.SIGN_OFF: {ENGINEER: _ALWAYS, CERTIFYING: _ALWAYS},
    Act.MANAGE_PEOPLE: {ADMINISTRATOR: _ALWAYS},
    Act.MANAGE_WORKSHOP: {ADMINISTRATOR: _ALWAYS},
    Act.BACK_UP: {ADMINISTRATOR: _ALWAYS},
    Act.READ_SECURITY: {ADMINISTRATOR: _ALWAYS},
    Act.EXPORT: {ADMINISTRATOR: _ALWAYS},
    Act.VERIFY: {
        ENGINEER: _ALWAYS,
        SECOND_INSPECTOR: _ALWAYS,
        CERTIFYING: _ALWAYS,
        OWNER: Condition.OWN_AIRCRAFT,
        ADMINISTRATOR: _ALWAYS,
    },
}

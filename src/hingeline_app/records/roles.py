"""Who may do what: one table, deny unless a cell says yes.

An administrator's rights never include a signature. A person may hold several roles; the
acts on one job must still be by different persons, which ``separation`` looks at.
"""

from __future__ import annotations

ENGINEER = "engineer"
SECOND_INSPECTOR = "second inspector"
CERTIFYING = "certifying"
OWNER = "owner"
ADMINISTRATOR = "administrator"
ROLES = (ENGINEER, SECOND_INSPECTOR, CERTIFYING, OWNER, ADMINISTRATOR)

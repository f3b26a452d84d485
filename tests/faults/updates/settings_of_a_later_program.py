"""The embedded settings of a program with one more step."""

from hingeline_app.settings.embedded import *  # noqa: F403

MIGRATION_MODULES = {"records": "tests.faults.updates.steps"}

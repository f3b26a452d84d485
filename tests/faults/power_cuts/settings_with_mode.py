"""The embedded settings, with the journal mode that a test asks for: CUTS_MODE is ``wal FULL`` or the like."""

import os

from hingeline_app.settings.databases import sqlite_file
from hingeline_app.settings.embedded import *  # noqa: F403
from hingeline_app.settings.embedded import DATA_FOLDER
from hingeline_app.settings.sqlite_gate import JournalMode

SQLITE_MODE = JournalMode(*os.environ["CUTS_MODE"].split())
DATABASES = {"default": sqlite_file(DATA_FOLDER, SQLITE_MODE)}

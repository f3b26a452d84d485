"""For the tests: a folder of their own, quick hashing of passwords, SQLite unless HINGELINE_DATABASE names another.

The folder is made when tests begin (tests/conftest.py), so that a check that only reads these settings leaves none.
"""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

from hingeline_app.settings import common
from hingeline_app.settings.common import *  # noqa: F403
from hingeline_app.settings.databases import postgresql, sqlite_file
from hingeline_app.settings.places import database_address

DATA_FOLDER = Path(tempfile.gettempdir()) / f"hingeline-test-{os.getpid()}"
JOURNAL_FOLDER = DATA_FOLDER / "journal"
BACKUP_FOLDER = DATA_FOLDER / "backups"
ALLOWED_HOSTS = ["testserver", "localhost"]
# The test client speaks plainly; how the pages travel is tried with a real server.
SECURE_SSL_REDIRECT = False
SECRET_KEY = "only for tests " * 4
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
DATABASES = {"default": postgresql(address) if (address := database_address()) else sqlite_file(DATA_FOLDER)}
# A real file, so that several threads and connections see one database.
DATABASES["default"]["TEST"] = {} if address else {"NAME": os.fspath(DATA_FOLDER / "test.sqlite3")}
WRITE_LOCK_SECONDS = common.WRITE_LOCK_SECONDS


def _take_away(maker: int) -> None:
    """Leave nothing behind; a process that was forked off leaves its maker's folder alone."""
    if os.getpid() == maker:
        shutil.rmtree(DATA_FOLDER, ignore_errors=True)


atexit.register(_take_away, os.getpid())

"""A larger workshop: the same pages on PostgreSQL, named by HINGELINE_DATABASE; long work done by workers."""

from hingeline_app.settings import common
from hingeline_app.settings.common import *  # noqa: F403
from hingeline_app.settings.common import DATA_FOLDER, arriving_folder, kept_secret
from hingeline_app.settings.databases import postgresql
from hingeline_app.settings.places import database_address

DATA_FOLDER.mkdir(mode=0o700, parents=True, exist_ok=True)
FILE_UPLOAD_TEMP_DIR = arriving_folder(DATA_FOLDER)
SECRET_KEY = kept_secret(DATA_FOLDER)
DATABASES = {"default": postgresql(database_address() or "")}

LONG_WORK = "workers"
INSTALLED_APPS = [*common.INSTALLED_APPS, "django_tasks", "django_tasks_db"]
TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend", "QUEUES": ["long work"]}}
DATABASE_ROUTERS = ["hingeline_app.longwork.router.QueueStaysHere"]

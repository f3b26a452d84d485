"""What every way of running shares. ``embedded`` and ``server`` start from here."""

from __future__ import annotations

import secrets
from pathlib import Path
from typing import Any

from hingeline_app.settings import places

DATA_FOLDER: Path = places.data_folder()
JOURNAL_FOLDER: Path = places.journal_folder()
WRITE_LOCK_SECONDS = 10.0


def kept_secret(folder: Path) -> str:
    """Read the key that signs sessions; make it once, readable by this user alone."""
    path = folder / "keys" / "sessions.key"
    if not path.exists():
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        path.touch(mode=0o600)
        path.write_text(secrets.token_urlsafe(64), encoding="ascii")
    return path.read_text("ascii")


DEBUG = False
INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "hingeline_app.records",
    "hingeline_app.web",
]
AUTH_USER_MODEL = "records.Account"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
USE_I18N = True
LANGUAGE_CODE = "en"
ROOT_URLCONF = "hingeline_app.web.urls"
WSGI_APPLICATION = "hingeline_app.web.wsgi.application"

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    }
]
STATIC_URL = "static/"

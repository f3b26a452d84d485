"""What every way of running shares. ``embedded`` and ``server`` start from here."""

from __future__ import annotations

import os
import secrets
from datetime import timedelta
from pathlib import Path
from typing import Any

from hingeline_app.settings import places

DATA_FOLDER: Path = places.data_folder()
JOURNAL_FOLDER: Path = places.journal_folder()
BACKUP_FOLDER: Path = places.backup_folder()
WRITE_LOCK_SECONDS = 10.0


def kept_secret(folder: Path) -> str:
    """Read the key that signs sessions; make it once, readable by this user alone.

    It is put in its place whole: of several processes that begin at once all have the first one's key, and a start
    that was broken off leaves no empty one.
    """
    path = folder / "keys" / "sessions.key"
    if path.exists() and not path.stat().st_size:
        path.unlink(missing_ok=True)
    if not path.exists():
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        part = path.with_name(f".{path.name}.{secrets.token_hex(8)}")
        part.touch(mode=0o600)
        part.write_text(secrets.token_urlsafe(64), encoding="ascii")
        try:
            os.link(part, path)
        except FileExistsError:
            pass
        except OSError:
            # A file system that has no second names.
            part.replace(path)
        part.unlink(missing_ok=True)
    return path.read_text("ascii")


def arriving_folder(folder: Path) -> Path | None:
    """Give where uploads lie until they are taken in: the system's temporary folder may be memory, and small."""
    path = folder / "arriving"
    try:
        path.mkdir(mode=0o700, exist_ok=True)
    except OSError:
        return None
    return path


DEBUG = False
LOOPBACK: bool = places.on_loopback()
READ_ONLY: bool = places.read_only()
DEMO_TABLET: str = places.demo_tablet()
IS_INVENTED: bool = places.is_invented()
ALLOWED_HOSTS: list[str] = places.allowed_hosts()

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "axes",
    "csp",
    "hingeline_app.records",
    "hingeline_app.web",
]
AUTH_USER_MODEL = "records.Account"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
USE_I18N = True
LANGUAGE_CODE = "en"
# German and French: every room of the library is in the book of phrases (decision 186).
LANGUAGES = [("en", "English"), ("de", "Deutsch"), ("fr", "Français")]
ROOT_URLCONF = "hingeline_app.web.urls"
WSGI_APPLICATION = "hingeline_app.web.wsgi.application"

MIDDLEWARE = [
    "hingeline_app.web.middleware.when_it_fails.WhenItFails",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "hingeline_app.web.middleware.what_may_come.WhatMayCome",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "hingeline_app.web.middleware.what_may_come.FilesFromInside",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "hingeline_app.web.middleware.who_is_here.WhoIsHere",
    "hingeline_app.web.middleware.only_for_reading.OnlyForReading",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "axes.middleware.AxesMiddleware",
]
TEMPLATES: list[dict[str, Any]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "OPTIONS": {
            # Each value that a page shows as words is said in the reader's language.
            "loaders": [("django.template.loaders.cached.Loader", ["hingeline_app.web.saying.SayingLoader"])],
            "builtins": ["hingeline_app.web.saying", "hingeline_app.web.why_here"],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
                "hingeline_app.web.frame.around_the_sheet",
            ],
        },
    }
]
# Long work by a process of our own; a server's settings leave it to workers.
LONG_WORK = "own process"
STATIC_URL = "static/"
# Files of the pages come straight from the packages: nothing to collect before a start.
WHITENOISE_USE_FINDERS = True

# ------------------------------------------------------------------ who comes in

AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "hingeline_app.records.ways_in.PasswordWay",
    "hingeline_app.records.ways_in.PinWay",
    "hingeline_app.records.ways_in.PasskeyWay",
]
LOGIN_URL = "sign-in"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
SESSION_ENGINE = "hingeline_app.records.sessions"
# A tablet lies about in a hangar: the page locks soon, and a day's work ends the session whatever happens.
IDLE_SECONDS = 5 * 60
HARD_END_SECONDS = 12 * 60 * 60
SESSION_COOKIE_AGE = HARD_END_SECONDS
SESSION_EXPIRE_AT_BROWSER_CLOSE = True

# By person and device: a colleague at another tablet, and another person at this one, are not locked out.
AXES_HANDLER = "hingeline_app.records.attempts.AttemptsInTurn"
AXES_USERNAME_CALLABLE = "hingeline_app.records.attempts.person_and_device"
AXES_USERNAME_FORM_FIELD = "username"
AXES_LOCKOUT_PARAMETERS = ["username"]
AXES_FAILURE_LIMIT = 5
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
AXES_RESET_ON_SUCCESS = True
AXES_DISABLE_ACCESS_LOG = True
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False
AXES_LOCKOUT_CALLABLE = "hingeline_app.web.middleware.when_it_fails.locked_out"
AXES_SENSITIVE_PARAMETERS = ["password", "pin", "proof_password", "code", "assertion", "username"]

# ------------------------------------------------------------------ what goes over the wire

# A "__Host-" cookie belongs to this very host and travels over TLS only; plain loopback cannot have one.
_prefix = "" if LOOPBACK else "__Host-"
SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = f"{_prefix}session", f"{_prefix}form"
TABLET_COOKIE_NAME = f"{_prefix}tablet"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = not LOOPBACK
SESSION_COOKIE_HTTPONLY = CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Strict"
# Short enough that a workshop whose certificate authority is made anew is not shut out of its own page for a year.
SECURE_HSTS_SECONDS = 0 if LOOPBACK else 30 * 24 * 60 * 60
SECURE_HSTS_INCLUDE_SUBDOMAINS = not LOOPBACK
SILENCED_SYSTEM_CHECKS = [
    # Browsers' preload lists are for names on the public net; a workshop's server is not on it.
    "security.W021",
    # The device is in the name that is counted: the enrolled tablet, whose secret cannot be made up, else the address.
    "axes.W006",
]
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'self'"],
        "script-src": ["'self'"],
        "style-src": ["'self'"],
        "object-src": ["'none'"],
        "base-uri": ["'none'"],
        "frame-ancestors": ["'none'"],
        "form-action": ["'self'"],
    }
}
CSRF_FAILURE_VIEW = "hingeline_app.web.middleware.when_it_fails.forged"

# A form is small; files have their own limit, looked at before anything is read.
DATA_UPLOAD_MAX_MEMORY_SIZE = 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000
DATA_UPLOAD_MAX_NUMBER_FILES = 20
FILE_UPLOAD_MAX_MEMORY_SIZE = 1024 * 1024
LARGEST_REQUEST = 2 * 1024 * 1024 * 1024
FILE_UPLOAD_PERMISSIONS = 0o600

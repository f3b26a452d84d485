"""What is not installed, and the one line that installs it."""

from __future__ import annotations

from hingeline.errors import MissingExtra

BROUGHT_BY = {
    "icalendar": "app",
    "pydantic": "app",
    "pypdf": "app",
    "rich": "app",
    "segno": "app",
    "tomli_w": "app",
    "typst": "app",
    "axes": "web",
    "cryptography": "web",
    "csp": "web",
    "defusedxml": "web",
    "django": "web",
    "fido2": "web",
    "gunicorn": "web",
    "openpyxl": "web",
    "PIL": "web",
    "pillow_heif": "web",
    "rfc8785": "web",
    "whitenoise": "web",
    "django_tasks": "server",
    "django_tasks_db": "server",
    "psycopg": "server",
    "distributed": "cluster",
    "av": "video",
    "cv2": "video",
    "numba": "fast",
}
"""The extra of ``pyproject.toml`` that brings a package, by the name that it is imported by."""


def what_installs_it(missing: ImportError) -> str | None:
    """Give the sentence for a package that an extra brings; None where something else is wrong.

    Parameters
    ----------
    missing : ImportError
        What stopped the command.
    """
    if isinstance(missing, MissingExtra):
        return str(missing)
    package = (missing.name or "").partition(".")[0]
    if not isinstance(missing, ModuleNotFoundError) or package not in BROUGHT_BY:
        return None
    return f'This command needs the package "{package}": pip install "hingeline[{BROUGHT_BY[package]}]".'

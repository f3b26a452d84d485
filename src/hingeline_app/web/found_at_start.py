"""What was found when the server started, or looked at since: shown on the ledger's page, asked before any signature.

Several processes may serve the pages: the newest look lies in a file, so that what one of them finds holds for all.
"""

from __future__ import annotations

import json
import secrets
from contextlib import suppress
from pathlib import Path

from django.conf import settings
from django.utils.translation import gettext_lazy

from hingeline_app.records.looking.findings import Findings, findings_of

LAST_LOOK = "last-look.json"
HELD = gettext_lazy("The records were found not to agree at the last look: nothing is signed until that is settled.")
"""What every page says where a signature is held."""
_found: list[Findings] = []
_written: list[int] = []
"""When the file that we know of was written."""


def remember(findings: Findings) -> None:
    """Keep the newest look at the records."""
    path = _file()
    # A name of its own: two processes may look at the same moment.
    part = path.with_name(f".{path.name}.{secrets.token_hex(8)}")
    part.touch(mode=0o600)
    part.write_text(json.dumps(findings.document()), "utf-8")
    part.replace(path)
    _found[:], _written[:] = [findings], [path.stat().st_mtime_ns]


def last_look() -> Findings | None:
    """Give the newest look, if there was one since the server started."""
    with suppress(FileNotFoundError):
        written = _file().stat().st_mtime_ns
        if _written and written != _written[0]:
            _found[:], _written[:] = [findings_of(json.loads(_file().read_text("utf-8")))], [written]
    return _found[0] if _found else None


def signing_is_held() -> bool:
    """Whether the newest look found something that no signature may be put under."""
    findings = last_look()
    return findings is not None and not findings.may_sign


def _file() -> Path:
    return Path(settings.DATA_FOLDER) / LAST_LOOK

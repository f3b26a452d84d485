"""Run as a program: a workshop in a folder of its own that set a text of its own, and took it back.

tell_of_texts.py FOLDER

The journal of such a folder was frozen as ``frozen_ledgers/texts-1``; it is never made again.
"""

from __future__ import annotations

import sys
from pathlib import Path

from hingeline_app.records.opening import open_records


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    open_records(folder, must_exist=False)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    tell()


def tell() -> None:
    from hingeline_app.records.actions.workshop_texts import set_workshop_text
    from tests.hingeline_app.records.workshop import fenholt

    shop = fenholt()
    set_workshop_text(shop.ed, "release_wording", "Arbeit an {aircraft}:\n\n{work}")
    set_workshop_text(shop.ed, "release_wording", "")


if __name__ == "__main__":
    main(Path(sys.argv[1]))

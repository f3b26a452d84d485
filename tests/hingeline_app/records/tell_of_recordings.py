"""Run as a program: a workshop in a folder of its own that took a recording in and judged it.

tell_of_recordings.py FOLDER

The journal of such a folder was frozen as ``frozen_ledgers/recordings-1``; it is never made again.
"""

from __future__ import annotations

import sys
from pathlib import Path

from hingeline_app.records.opening import open_records
from tests.doors.checkouts import ROOT


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    open_records(folder, must_exist=False)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    tell()


def tell() -> None:
    from hingeline_app.evidence.answer import answer_of_file
    from hingeline_app.evidence.asked import Asked
    from hingeline_app.records.actions.recordings import About, TakenIn, keep_finding, take_recording_in
    from tests.hingeline_app.records.merle import merle
    from tests.hingeline_app.records.workshop import fenholt

    shop = fenholt()
    job = merle(shop)
    data = (ROOT / "examples" / "motion" / "04-growing.csv").read_bytes()
    table = TakenIn("table", [data], len(data), "text/csv", "growing.csv")
    kept = take_recording_in(shop.anna, About(aircraft=job.aircraft.pk), table)
    document = answer_of_file(data, Asked(), "growing.csv").document
    keep_finding(shop.anna, kept.pk, document, Asked().plain())


if __name__ == "__main__":
    main(Path(sys.argv[1]))

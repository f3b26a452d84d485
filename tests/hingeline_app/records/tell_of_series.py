"""Run as a program: a workshop in a folder of its own that put two recordings together to a series.

tell_of_series.py FOLDER

The journal of such a folder was frozen as ``frozen_ledgers/series-1``; it is never made again.
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
    from hingeline_app.evidence.series import AskedSeries, answer_of_series, member_of
    from hingeline_app.records.actions.recordings import About, TakenIn, keep_finding, take_recording_in
    from hingeline_app.records.actions.series import keep_series
    from hingeline_app.records.queries.series import offered
    from tests.hingeline_app.records.merle import merle
    from tests.hingeline_app.records.workshop import fenholt

    shop = fenholt()
    job = merle(shop)
    weights = {"04-growing.csv": "0 g", "06-tap-on-the-ground.csv": "120 g"}
    for name in weights:
        data = (ROOT / "examples" / "motion" / name).read_bytes()
        table = TakenIn("table", [data], len(data), "text/csv", name)
        kept = take_recording_in(shop.anna, About(aircraft=job.aircraft.pk), table)
        keep_finding(shop.anna, kept.pk, answer_of_file(data, Asked(), name).document, Asked().plain())
    members = [member_of(each, weights[each.name]) for each in offered(shop.anna.person)]  # type: ignore[arg-type]
    asked = AskedSeries("weight", "the same", "within its limits")
    document = answer_of_series(members, asked)
    keep_series(shop.anna, job.aircraft.pk, None, document, asked.plain(members), said="on the bench")


if __name__ == "__main__":
    main(Path(sys.argv[1]))

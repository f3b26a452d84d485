"""Run as a program: a workshop in a folder of its own in which everything happened once.

tell_story.py FOLDER

The journal of such a folder was frozen under ``frozen_ledgers`` when the format of entries was settled; it is
never made again. A new table is frozen by a story of its own, beside it.
"""

from __future__ import annotations

import sys
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from hingeline_app.records.opening import open_records


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    open_records(folder, must_exist=False)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    tell()


def tell() -> None:
    from tests.hingeline_app.records.merle import merle
    from tests.hingeline_app.records.workshop import fenholt

    shop = fenholt()
    job = merle(shop)
    tell_of_people(shop)
    tell_of_equipment(shop, job)
    tell_of_parts(shop, job)
    tell_of_the_job(shop, job)


def tell_of_people(shop: Any) -> None:
    from hingeline_app.records.actions.accounts import set_pin
    from hingeline_app.records.actions.security import SIGNED_IN, note_security
    from hingeline_app.records.actions.tablets import enrol_tablet
    from hingeline_app.records.models import Passkey
    from hingeline_app.records.write_door import write_door

    set_pin(shop.anna, shop.anna.account.pk, "271828")
    enrol_tablet(shop.fred, "Bench 1")
    note_security(shop.anna, SIGNED_IN, {"by": "password"})
    with write_door(shop.cy, "passkey added") as entry:
        entry.keep(
            Passkey(
                account=shop.cy.account,
                name="phone",
                credential="AAAA",
                public_key="pQECAyYg",
                server_name="bench.fenholt.example",
                added_on=date(2026, 11, 2),
            )
        )


def tell_of_equipment(shop: Any, job: Any) -> None:
    from hingeline_app.records.actions.equipment import add_material, add_stand, check_scale

    check_scale(shop.anna, job.scale.pk, "1.005 kg")
    add_stand(shop.anna, "Stand 1", masses=[{"name": "mandrel", "mass": "84 g"}], uncertainty={"arm": "2 mm"})
    add_material(shop.anna, "Balance lead", "B7", "RC 5", date(2026, 2, 3))


def tell_of_parts(shop: Any, job: Any) -> None:
    from hingeline_app.records.actions.attaching import Upload, transcribe
    from hingeline_app.records.actions.counters import change_meter, read_counter
    from hingeline_app.records.actions.parts import add_part, fit_part, remove_part

    day = date(2026, 3, 1)
    read_counter(shop.anna, job.aircraft.pk, "hours", Decimal("801.5"), day)
    change_meter(
        shop.anna,
        job.aircraft.pk,
        "hours",
        old_shown=Decimal("801.5"),
        new_shown=Decimal("0"),
        on=day + timedelta(days=1),
    )
    part = add_part(shop.anna, "weight arm", "0071", hours_when_new_fitted=Decimal("122.4"))
    fit_part(shop.anna, part.pk, job.aircraft.pk, day, surface=job.surface.pk)
    remove_part(shop.anna, part.pk, day + timedelta(days=9), "to be inspected")
    transcribe(
        shop.anna,
        job.aircraft.pk,
        original_date=date(2019, 6, 1),
        original_signer="H. Moss",
        says="Weighed after paint",
        moment="1.9 N m tail-heavy",
        photograph=Upload("page", b"a scanned page", "image/jpeg"),
    )


def tell_of_the_job(shop: Any, job: Any) -> None:
    from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
    from hingeline_app.records.actions.correcting import correct_reading
    from hingeline_app.records.actions.jobs import open_order
    from hingeline_app.records.actions.releasing import withdraw_release
    from tests.hingeline_app.records.merle import PLAN, proof, released, weighed

    open_order(shop.anna, job.aircraft.pk, "Repaint")
    weighing = weighed(job)
    correct_reading(shop.anna, weighing.readings.first().pk, "850 g", "misread")
    fit_ballast(shop.anna, propose_ballast(shop.anna, job.job.pk, PLAN).pk)
    released(job)
    withdraw_release(shop.cy, job.job.pk, "wrong surface", proof(shop.cy))


if __name__ == "__main__":
    main(Path(sys.argv[1]))

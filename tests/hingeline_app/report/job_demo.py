"""The demo workshop's job as it is printed on two sides: invented, written out by hand."""

from __future__ import annotations

from dataclasses import replace

from hingeline_app.report.job_record import (
    AGAIN,
    RELEASE,
    RELEASED,
    SECOND,
    ArmPoint,
    ChangeMade,
    GivenHead,
    JobRecord,
    LookedAt,
    OtherWeighing,
    RefitValue,
    Signed,
    WithdrawnReading,
)
from hingeline_app.report.sheet import SheetDetails
from tests.hingeline_app.report.demo import SHEET, WEIGHING, cause, demo_result, moment, quantity, support

HEAD = GivenHead(
    "128-7K3M-9QRS-TVWX-YZ01-C",
    "HLH1.GFJQ2L6SRZDWPKDLTDNYGAYKTA.R.128.MFRGGZDFMZTWQ2LKNNWG23TPOBYXE43UOV3HO6DZPIYDCMRTGQ2Q.20270312T094100000Z."
    "0123456789ABCDEF.MFRGGZDFMZTWQ2LKNNWG23TPOBYXE43UOV3HO6DZPIYDCMRTGQ2TMNZYHFQWEY3EMVTGO2DJNNWG23TPOBYXE43UOV3HO6DZPI",
    "2027-03-12 09:41 UTC",
)
SECOND_SIGNED = Signed(SECOND, "Ines Okoro", "FI.66.0207", "2027-03-12, 15:20", "passkey")
RELEASED_BY = Signed(RELEASE, "Marit Brandt", "FI.66.0113", "2027-03-12, 16:05", "password")
AGAIN_SIGNED = Signed(
    AGAIN, "Marit Brandt", "FI.66.0113", "2027-03-12, 15:20", "passkey", "Away from base; nobody else could be called."
)

OPEN_JOB = JobRecord(
    sheet=SHEET,
    weighing_text=WEIGHING,
    result=demo_result(),
    in_the_way=("The last weighing is not shown to be inside the limits.", "No second inspection is signed."),
    weighed_by="Marit Brandt, FI.66.0113",
    weighed_on="2027-03-12",
    withdrawn=(WithdrawnReading("950 g", "support 1", "the hangar door was opened", "MB"),),
    weighings=(OtherWeighing("1", "2027-03-12", "2.106 ± 0.044 N·m tail-heavy", "outside"),),
    head=HEAD,
)

DONE_JOB = replace(
    OPEN_JOB,
    sheet=replace(SHEET, weighing="2"),
    result=demo_result(static_moment=moment(1.852, 0.0444), statement="inside", statement_simple="inside",
                       statement_guarded="inside"),
    state=RELEASED,
    in_the_way=(),
    withdrawn=(),
    weighings=(
        OtherWeighing("1", "2027-03-12", "2.106 ± 0.044 N·m tail-heavy", "outside"),
        OtherWeighing("2", "2027-03-12", "1.852 ± 0.044 N·m tail-heavy", "inside"),
    ),
    changes=(
        ChangeMade("forward tube", "180 mm forward", "+145 g", "0.256 N·m nose-heavy", "T2-34-118, batch 7", "MB"),
    ),
    arm=(
        ArmPoint("root weld", "no crack", "", "dye penetrant", "MB"),
        ArmPoint("wall, 40 mm from the root", "light pitting, dressed", "1.46 mm", "ultrasonic", "MB"),
    ),
    refit=(
        RefitValue("travel up", "25.2°", "24 … 26°", "inside", "protractor P-2", "MB"),
        RefitValue("travel down", "20.4°", "19 … 21°", "inside", "protractor P-2", "MB"),
        RefitValue("free play at the trailing edge", "1.1 mm", "up to 2.0 mm", "inside", "dial gauge D-1", "MB"),
        RefitValue("friction", "2.4 N", "up to 4.0 N", "inside", "spring scale F-1", "MB"),
        RefitValue("moves in the right sense", "seen", "", "", "", "IO"),
    ),
    items=(
        LookedAt("hinge bolts, left half", "agreed", "split pins in", "IO"),
        LookedAt("ballast on the forward tube", "agreed", "", "IO"),
        LookedAt("control travel and sense", "agreed", "", "IO"),
    ),
    signatures=(SECOND_SIGNED, RELEASED_BY),
)  # fmt: skip


ENDED_JOB = replace(
    DONE_JOB,
    state="open",
    signatures=(
        replace(SECOND_SIGNED, holds=False, ended_because="the job changed after it was signed, at change 14"),
        replace(RELEASED_BY, holds=False, ended_because="withdrawn by Ines Okoro: the ballast was found loose again"),
    ),
)


def german() -> JobRecord:
    """German words and long names everywhere, three of each."""
    long = "Aerodynamisch ausgeglichene Höhenruderhälfte mit Massenausgleichsgewichtsträger, Rechtsausführung"
    words = "Trimmklappengestängebefestigungsbolzen gesichert und wieder angezogen"
    weld = "Schweißnaht an der Massenausgleichsgewichtsträgerwurzel"
    door = "Hallentor wurde während der Messung geöffnet"
    travel = "Ruderausschlag nach oben, gemessen an der Hinterkante"
    device = "Signed from the same device within two minutes of the other signature."
    surface = {**demo_result()["surface"], "name": "Höhenruderhälfte links außen mit Trimmruder und Entladern"}
    sheet = SheetDetails(
        workshop="Luftfahrttechnischer Betrieb Fenholt Instandhaltungsgesellschaft",
        aircraft="Merle T2 · D-FNHLT-07",
        part="T2-34-110-außen-links",
        serial="0071/Ä-2",
        job="0412",
        weighing="2",
        date="2027-03-12",
        scale_calibrated="2026-11-04",
        document="Betriebs- und Wartungshandbuch, Ausgabe C, Änderung 14, Seite 3-17",
    )
    return replace(
        DONE_JOB,
        sheet=sheet,
        result=demo_result(surface=surface, notes=[f"{long}: {words}."] * 3),
        withdrawn=(WithdrawnReading("1 234.5 g", "support 3 falling", door, "M.B.-W."),) * 3,
        changes=(ChangeMade(long, "1180.5 mm forward", "+1145.25 g", "13.256 N·m nose-heavy", weld, "M.B.-W."),) * 3,
        arm=(ArmPoint(weld, words, "1.46 mm", "Farbeindringprüfung", "M.B.-W."),) * 3,
        refit=(
            RefitValue(travel, "125.25 mm", "124.00 … 126.00 mm", "too close to tell", "Winkelmesser P-2", "M.B.-W."),
        )
        * 4,
        items=(LookedAt(words, "not looked at", long, "I.O.-N."),) * 3,
        signatures=(
            replace(SECOND_SIGNED, name="Ines Wilhelmine Okoro-Nowakowska", number="FI.66.0207-B1", notes=(device,)),
            replace(RELEASED_BY, name="Marit Brandt-Wiesengrund"),
        ),
    )


def forty() -> JobRecord:
    """Forty readings on each of three supports."""
    grams = [quantity(800.0 + number, "g") for number in range(40)]
    supports = [
        support(grams, quantity(819.5, "g"), 8.036, arm=quantity(0.2 + 0.02 * number, "m")) for number in range(3)
    ]
    causes = [cause(f"cause {number} of twenty", 0.001, "kg", 0.05) for number in range(20)]
    return replace(
        DONE_JOB,
        sheet=replace(SHEET, job="0413"),
        result=demo_result(
            supports=supports,
            terms=[{"name": f"support {n + 1}", "moment": quantity(0.7, "N m")} for n in range(3)],
            budget=causes,
        ),
        withdrawn=tuple(WithdrawnReading(f"{900 + n} g", f"support {n % 3 + 1}", "draught", "MB") for n in range(8)),
    )


CASES: dict[str, list[JobRecord]] = {
    "open": [OPEN_JOB],
    "done": [DONE_JOB],
    "ended": [ENDED_JOB],
    "german": [german()],
    "forty": [forty()],
    "again": [replace(DONE_JOB, signatures=(AGAIN_SIGNED,), state="open", in_the_way=("Released by nobody.",))],
    "voided": [replace(OPEN_JOB, state="voided", head=None)],
}
CASES["order"] = [DONE_JOB, forty(), replace(OPEN_JOB, sheet=replace(SHEET, job="0414"))]

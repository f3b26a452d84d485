"""A record for every document format that is settled: what a frozen document is made of."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import hingeline
from hingeline import document
from hingeline.arm import ArmTask, examine
from hingeline.balance import (
    HungMass,
    Limits,
    MassLimits,
    MomentBand,
    Part,
    ReadingLimits,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    check_rows,
    plan_weighing,
    weigh,
)
from hingeline.balance.ballast import BallastTask, plan_ballast
from hingeline.balance.coating import predict_coating
from hingeline.balance.simulate import simulate
from hingeline.balance.spread import dynamic_balance
from hingeline.balance.swing import inertia_by_swing
from hingeline.due import DueQuestion, what_is_due
from hingeline.flutter import analyse, scatter_onsets
from hingeline.flutter.stick import at_the_stick
from hingeline.motion import OnsetTask, Recording, RecordingAt, judge, modes_by_tap, onset_of
from hingeline.motion.marks import KnownLength, Mark, Marks, PixelTrack, PixelTracks
from hingeline.surface import BalanceWeight
from hingeline.units import Typed, read
from hingeline_app.files.arm_file import read_arm
from hingeline_app.files.ballast_file import read_ballast
from hingeline_app.files.coating_file import read_coating
from hingeline_app.files.due_file import read_due
from hingeline_app.files.dynamic_file import read_dynamic
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.files.limits_file import read_limits
from hingeline_app.files.recordings import read_recording
from hingeline_app.files.stick_file import read_stick
from hingeline_app.files.swing_file import read_swing
from hingeline_app.files.weighing_file import read_weighing

FOLDER = Path(__file__).with_name("frozen")
EXAMPLES = Path(__file__).parents[2] / "examples"

# Written by commands that are not finished yet. When one is, its record goes below, and its name out of here.
IN_THE_MAKING: set[str] = set()
# Written by the application for people and scripts, and never read back.
NEVER_READ_BACK = {"hingeline/selftest/1"}


def of(text: str, dimension: str) -> Typed:
    """Read a quantity with the gravity of the weighing below."""
    return read(text, dimension, local_gravity=9.81)


def everything() -> Weighing:
    """A weighing in which no field of one support is left out; some typed on a page, some plain numbers."""
    step, fraction = Stated(of("5 g", "mass"), "kg", "resolution"), Stated(of("2.5 %", "ratio"), "1", "triangular")
    return Weighing(
        surface=Surface(
            "Höhenruder, links",
            mass=read("4,100 kg", "mass", page=True),
            mass_uncertainty=Stated(0.005, "kg", "standard", None, 12.0),
            hinge_to_trailing_edge=of("270 mm", "length"),
            vertical_offset=of("-20 mm", "length"),
            balance_weights=(BalanceWeight(of("0.9 kg", "mass"), of("90 mm", "length")),),
        ),
        supports=(
            Support(
                arm=of("10.04 in", "length"),
                readings=(of("940 g", "mass"), of("945 g", "mass"), 0.94),
                tare=of("100 g", "mass"),
                scale="HL-3",
                arm_uncertainty=Stated(of("1 mm", "length"), "m"),
                tare_uncertainty=step,
            ),
        ),
        hung=(HungMass(of("0.02 lb", "mass"), of("12.6 in", "length"), "forward", Stated(0.0001, "kg"), fraction),),
        parts=(
            Part("tab pushrod", "not fitted", of("40 g", "mass"), of("120 mm", "length")),
            Part("rigging pin", "fitted, not counted", 0.01, 0.0, "forward", fraction, Stated(0.001, "m")),
        ),
        uncertainty=StatedUncertainty(
            scale=step,
            calibration=Stated(of("10 g", "mass"), "kg", "expanded", 2.0),
            arm=Stated(of("2 mm", "length"), "m"),
            friction=Stated(of("0.1 N", "force"), "N"),
            air=fraction,
            level=Stated(of("0.5 deg", "angle"), "rad"),
            gravity=Stated(0.0005, "m/s^2"),
            mass_uncertainty=Stated(of("0.1 g", "mass"), "kg"),
            tare_uncertainty=step,
            repeatability=step,
            coverage=0.95,
        ),
        limits=Limits(
            rule="guarded",
            friction_fraction=0.025,
            source="Merle T2 maintenance manual, page 27-4, revision 2",
            bands=(
                MomentBand(of("3.5 kg", "mass"), of("4.1 kg", "mass"), of("2 in-lb nose-heavy", "moment"), None),
                MomentBand(of("4.1 kg", "mass"), of("4.6 kg", "mass"), None, of("20.0 kg cm", "moment")),
            ),
            mass=MassLimits(3.0, of("4.5 kg", "mass")),
            reading=ReadingLimits(0.0, of("9.0 N", "force"), "N"),
        ),
        local_gravity=of("9.81 m/s^2", "acceleration"),
    )


def across_friction() -> Weighing:
    """A rising and falling pair on a hook that pulls, with nothing typed."""
    pair = Support(0.3, "forward", rising=(8.4, 8.5), falling=(8.1,), reading_unit="N", pushes="down")
    return Weighing(Surface("rudder"), (pair,), limits=Limits(0.0, 3.0, friction_fraction=0.02))


def example(name: str) -> Weighing:
    """Read an example as the command does."""
    return read_weighing((EXAMPLES / name).read_bytes()).weighing


def printed_limits() -> Any:
    """Check the example of rows that disagree."""
    return check_rows(read_limits((EXAMPLES / "07-limits-that-disagree.toml").read_bytes()))


def coating(name: str) -> Any:
    """Read an example of a coating as the command does."""
    return read_coating((EXAMPLES / name).read_bytes())


def swing() -> Any:
    """Read the example of a swing as the command does."""
    return read_swing((EXAMPLES / "14-rudder-swung-with-a-mass.toml").read_bytes())


def dynamic() -> Any:
    """Read the example of spread masses as the command does."""
    return read_dynamic((EXAMPLES / "15-aileron-dynamic-balance.toml").read_bytes())


def flutter(name: str) -> Any:
    """Read an example of a flutter model as the command does."""
    return read_flutter((EXAMPLES / "flutter" / name).read_bytes())


def scattered() -> Any:
    """Give an answer in which everything stands that can be asked for."""
    task = flutter("01-elevator-strip.toml")
    result = analyse(task, roots_at=(10.0, 40.0), with_sensitivities=True)
    return replace(result, speed_distribution=scatter_onsets(task, 200, seed=1, below=38.0))


def stick() -> Any:
    """Read the example of a surface at the stick as the command does."""
    return read_stick((EXAMPLES / "16-elevator-at-the-stick.toml").read_bytes())


def due(name: str) -> DueQuestion:
    """Read an example of what is due as the command does."""
    return read_due((EXAMPLES / "due" / name).read_bytes())


def answered(question: DueQuestion) -> Any:
    """Say what is due."""
    return what_is_due(question.aircraft, question.parts, question.tasks, question.on)


def correction(name: str) -> BallastTask:
    """Read the example of a correction as the command does."""
    return read_ballast((EXAMPLES / name).read_bytes()).task


def arm(name: str) -> ArmTask:
    """Read an example of an arm as the command does."""
    return read_arm((EXAMPLES / "arm" / name).read_bytes())


def recording(name: str) -> Recording:
    """Read an example recording as the command does."""
    return read_recording((EXAMPLES / "motion" / name).read_bytes(), name=name)


def followed() -> PixelTracks:
    """Two dots and a printed marker over four pictures, one lost, stopped before the end; no decoder is asked."""
    marks = Marks(
        (
            Mark("forward", "dot", "section", (202.25, 181.0)),
            Mark("aft", "patch", "surface", (430.0, 179.5), size=31.0),
            Mark("wall, high", "marker", "background", number=3),
        ),
        "right",
        KnownLength(of("160 mm", "length"), ("forward", "aft")),
        (288.0, 180.0),
        "on a stand",
        of("18 ms", "time"),
        "Merle T2 stabilator on the bench",
    )
    places = ((202.31, 202.4, 202.52, 202.6), (430.02, 430.1, None, 430.3), (60.5, 60.51, 60.49, 60.5))
    tracks = (
        PixelTrack(mark.name, across, tuple(None if x is None else 180.0 + index for x in across), 14.2, 96.0)
        for index, (mark, across) in enumerate(zip(marks.marks, places, strict=True))
    )
    return PixelTracks(
        marks=marks, ticks=(0, 1001, 2002, 3003), tick=(1, 60_000), tracks=tuple(tracks), width=640.0, height=360.0,
        turn=90, capture_rate=240.0, expected=9, missing=1, finished=False, doubts=("1 frame could not be decoded.",),
        container="mov", codec="h264", sha256="ab" * 32, going_on="[[1,2]]", name="swing.mov",
    )  # fmt: skip


def series() -> OnsetTask:
    """Two recordings against the weight fitted."""
    files = ("04-growing.csv", "06-tap-on-the-ground.csv")
    taken = (RecordingAt(0.12 * index, recording(name)) for index, name in enumerate(files))
    return OnsetTask(tuple(taken), "weight", "bench")


RECORDS: dict[str, Callable[[], Any]] = {
    "due-record-1-example": lambda: due("01-checks-of-a-merle.toml"),
    "due-record-1-fleet": lambda: due("02-a-fleet-before-the-season.toml"),
    "due-result-1-example": lambda: answered(due("01-checks-of-a-merle.toml")),
    "due-result-1-fleet": lambda: answered(due("02-a-fleet-before-the-season.toml")),
    "motion-record-1-example": lambda: recording("04-growing.csv"),
    "motion-result-1-example": lambda: judge(recording("04-growing.csv")),
    "motion-result-1-irregular": lambda: judge(recording("02-in-turbulence.csv")),
    "pixel-tracks-record-1-example": followed,
    "tap-result-1-example": lambda: modes_by_tap(recording("06-tap-on-the-ground.csv")),
    "onset-record-1-example": series,
    "onset-result-1-example": lambda: onset_of(series()),
    "ballast-record-1-example": lambda: correction("09-elevator-correction.toml"),
    "ballast-record-1-from-stock": lambda: correction("11-aileron-from-stock.toml"),
    "ballast-result-1-example": lambda: plan_ballast(correction("09-elevator-correction.toml")),
    "ballast-result-1-out-of-reach": lambda: plan_ballast(correction("10-rudder-out-of-reach.toml")),
    "ballast-result-1-from-stock": lambda: plan_ballast(correction("11-aileron-from-stock.toml")),
    "weighing-record-1-everything": everything,
    "weighing-record-1-across-friction": across_friction,
    "weighing-record-1-example": lambda: example("01-elevator-left-half.toml"),
    "weighing-result-1-everything": lambda: weigh(everything()),
    "weighing-result-1-across-friction": lambda: weigh(across_friction()),
    "weighing-result-1-example": lambda: weigh(example("01-elevator-left-half.toml")),
    "weighing-result-1-too-close": lambda: weigh(example("08-too-close-to-tell.toml")),
    "weighing-plan-1-example": lambda: plan_weighing(example("01-elevator-left-half.toml")),
    "limits-result-1-example": printed_limits,
    "weighing-simulation-1-example": lambda: simulate(example("01-elevator-left-half.toml"), draws=20_000, seed=1),
    "coating-record-1-example": lambda: coating("12-aileron-repaint.toml"),
    "coating-record-1-halves": lambda: coating("13-elevator-strip-and-patch.toml"),
    "coating-result-1-example": lambda: predict_coating(coating("12-aileron-repaint.toml")),
    "coating-result-1-halves": lambda: predict_coating(coating("13-elevator-strip-and-patch.toml")),
    "swing-record-1-example": swing,
    "swing-result-1-example": lambda: inertia_by_swing(swing()),
    "dynamic-record-1-example": dynamic,
    "dynamic-result-1-example": lambda: dynamic_balance(dynamic()),
    "flutter-record-1-strip": lambda: flutter("01-elevator-strip.toml"),
    "flutter-record-1-weight-on-an-arm": lambda: flutter("03-tailplane-weight-on-an-arm.toml"),
    "flutter-record-1-aileron": lambda: flutter("04-wing-aileron-balanced-inboard.toml"),
    "flutter-record-1-measured-modes": lambda: flutter("05-measured-modes-elevator.toml"),
    "flutter-record-1-free-play": lambda: flutter("06-tailplane-free-play.toml"),
    "flutter-result-1-everything": scattered,
    "stick-record-1-example": stick,
    "stick-result-1-example": lambda: at_the_stick(stick()),
    "flutter-result-1-tab": lambda: analyse(flutter("02-elevator-tab-rod-broken.toml")),
    "flutter-result-1-free-play": lambda: analyse(flutter("06-tailplane-free-play.toml")),
    "arm-record-1-stripped": lambda: arm("01-elevator-arm-stripped.toml"),
    "arm-record-1-round-the-tube": lambda: arm("02-rudder-arm-crack-round-the-tube.toml"),
    "arm-record-1-bar": lambda: arm("03-aileron-arm-solid-bar.toml"),
    "arm-result-1-stripped": lambda: examine(arm("01-elevator-arm-stripped.toml")),
    "arm-result-1-round-the-tube": lambda: examine(arm("02-rudder-arm-crack-round-the-tube.toml"), samples=500, seed=1),
    "arm-result-1-bar": lambda: examine(arm("03-aileron-arm-solid-bar.toml")),
}


def declared() -> dict[str, type]:
    """Every document format that the library declares, with its record: all its modules are looked at."""
    for module in pkgutil.walk_packages(hingeline.__path__, "hingeline."):
        importlib.import_module(module.name)
    return {name: record for record, name in document._FORMATS.items() if record.__module__.startswith("hingeline.")}

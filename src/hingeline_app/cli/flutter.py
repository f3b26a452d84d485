"""``hingeline flutter``: parse, one call, present."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, NamedTuple

import click

from hingeline.document import to_document
from hingeline.flutter import FlutterResult, FlutterTask, analyse
from hingeline.units import read
from hingeline_app.cli.options import job_file, picture_file
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.progress import working
from hingeline_app.cli.run import Run
from hingeline_app.cli.varying import INTERRUPTED, Share, read_variation, with_variation
from hingeline_app.cli.whole_file import put_whole
from hingeline_app.files.flutter_file import read_flutter

SPEEDS = 101
STOPPED = "Stopped after {done} of {count} models: the scatter is of those alone."
SCATTER_LEFT_OUT = "The file states uncertain numbers: --scatter 1000 shows how the speed scatters with them."


class Wanted(NamedTuple):
    """What --scatter was asked for."""

    models: int
    seed: int
    below: str | None


@click.command("flutter", short_help="Estimate where a model of a control surface starts to flutter.")
@job_file
@click.option("--roots", is_flag=True, help="Frequency and damping of every mode, speed by speed.")
@click.option("--sensitivity", is_flag=True, help="How the speed moves with each number of the file.")
@click.option("--scatter", type=click.IntRange(10, 1_000_000), metavar="N", help="Draw N models by the file's scatter.")
@click.option("--seed", type=click.IntRange(0, 2**32 - 1), default=0, show_default=True, help="For --scatter.")
@click.option("--below", metavar="SPEED", help='For --scatter: the part of all models that grow below, as "73 kn".')
@click.option("--vary", multiple=True, metavar="FIELD=FROM:TO", help="Onset over a number of the file; twice: a map.")
@click.option("--cores", type=click.IntRange(1, 256), help="Processes of this machine that share --scatter, --vary.")
@click.option("--cluster", metavar="ADDRESS", help="A cluster that works --scatter, --vary, as tcp://host:8786.")
@picture_file("Draw damping and frequency over speed; with --vary, the onset.")
@click.pass_obj
def command(
    run: Run,
    file: str,
    as_json: bool,
    roots: bool,
    sensitivity: bool,
    scatter: int | None,
    seed: int,
    below: str | None,
    vary: tuple[str, ...],
    cores: int | None,
    cluster: str | None,
    picture: str | None,
) -> int:
    """Estimate where a model of a control surface starts to flutter.

    FILE holds mass, stiffness and air of a strip, a tailplane, a wing with aileron or
    measured modes, or is - for standard input. The page shows the speed at which a
    motion starts to grow, every crossing, divergence, and what was assumed. It is a
    model, never a proof: nothing here shows that an aircraft is free of flutter.

    Each quantity carries its unit, as "73 kn". Positive are: down, nose up, trailing edge
    down, mass aft. Damping below 0 grows. Speeds are true airspeed.

    Example: hingeline flutter examples/flutter/01-elevator-strip.toml
    """
    data = run.read(file)
    task = read_flutter(data)
    varied, share = read_variation(vary, data, task), Share(cores, cluster)
    low, high = task.speeds
    followed = roots or (picture is not None and not varied)
    with working(f"Searching from {low:g} to {high:g} m/s"):
        result = _analysed(task, followed=followed, sensitivity=sensitivity, scattered=scatter is not None)
    started = time.perf_counter()
    status = 0
    if scatter is not None:
        result, status = _scattered(task, result, Wanted(scatter, seed, below), share, run)
    if varied and status == 0:
        result, status = with_variation(task, result, varied, share, run)
    document = with_about(to_document(result))
    if scatter is not None or varied:
        document["about"]["elapsed"] = round(time.perf_counter() - started, 3)
    if picture is not None:
        _draw(picture, document)
    if not roots:
        document["roots"] = None
    if as_json:
        write_json(document)
    else:
        from hingeline_app.cli.flutter_page import show_flutter

        show_flutter(document)
    if picture is not None:
        say(f"The picture was written to {picture}.")
    return status


def _analysed(task: FlutterTask, *, followed: bool, sensitivity: bool, scattered: bool) -> FlutterResult:
    """Make the one call; say what the file states and the answer leaves out."""
    result = analyse(task, roots_at=speeds_of(task) if followed else (), with_sensitivities=sensitivity)
    if task.scatter and not scattered:
        result = replace(result, notes=(*result.notes, SCATTER_LEFT_OUT))
    return result


def _scattered(
    task: FlutterTask, result: FlutterResult, wanted: Wanted, share: Share, run: Run
) -> tuple[FlutterResult, int]:
    """Add how the onset scatters, of the draws done if somebody stopped it; give the exit status too."""
    from hingeline.flutter.scatter import scatter_onsets
    from hingeline_app.cli.compiled_cache import keep_compiled_loops
    from hingeline_app.cli.counted import counted
    from hingeline_app.longwork.sharing import shared

    keep_compiled_loops()
    count, seed = wanted.models, wanted.seed
    speed = None if wanted.below is None else float(read(wanted.below, "speed", field="--below"))
    with shared(*share) as workers, counted(f"Drawing {count} models", count, run) as report:
        found = scatter_onsets(task, count, seed=seed, below=speed, progress=report, run=workers)
    result = replace(result, speed_distribution=found)
    if found is not None and found.samples == count:
        return result, 0
    stopped = STOPPED.format(done=0 if found is None else found.samples, count=count)
    say(stopped)
    return replace(result, notes=(*result.notes, stopped)), INTERRUPTED


def speeds_of(task: FlutterTask) -> tuple[float, ...]:
    """Give the speeds at which roots are shown: the range in even steps, both ends as stated."""
    low, high = task.speeds
    inner = (low + (high - low) * index / (SPEEDS - 1) for index in range(1, SPEEDS - 1))
    return (low, *inner, high)


def _draw(out: str, document: Mapping[str, Any]) -> None:
    if document["variation"] is not None:
        from hingeline_app.cli.varied_plot import variation_svg as drawn
    else:
        from hingeline_app.cli.flutter_plot import speed_curves_svg as drawn
    put_whole(out, drawn(document).encode("utf-8"), "--picture")

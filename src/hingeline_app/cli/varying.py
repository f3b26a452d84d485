"""``hingeline flutter --vary``: the onset over one number of the file, or over two."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from hingeline.errors import InputRefused
from hingeline.flutter import FlutterResult, FlutterTask, SweepPoint, Variation, sweep, two_way_map
from hingeline.flutter.where_from import unit_of
from hingeline_app.cli.output import say
from hingeline_app.cli.run import Run
from hingeline_app.files.flutter_variants import Varied, read_varied
from hingeline_app.files.job_text import read_job

INTERRUPTED = 130
STOPPED = "Stopped after {done} of {count} variants: what was varied is shown as far as that."


class Share(NamedTuple):
    """Who works it: so many processes of this machine, or a cluster by its address."""

    cores: int | None
    cluster: str | None


def read_variation(texts: Sequence[str], data: bytes, task: FlutterTask) -> tuple[Varied, ...]:
    """Read what is to be varied: one number of the file, or two.

    Raises
    ------
    InputRefused
        It is not written as it should be, or there are more than two.
    """
    if len(texts) > 2:
        raise InputRefused.of("--vary", len(texts), "one number of the file, or two", "Leave the others out.")
    document = read_job(data) if texts else {}
    return tuple(read_varied(text, document, task) for text in texts)


def with_variation(
    task: FlutterTask, result: FlutterResult, varied: tuple[Varied, ...], share: Share, run: Run
) -> tuple[FlutterResult, int]:
    """Add how the onset moves, of the variants done if somebody stopped it; give the exit status too."""
    from hingeline_app.cli.compiled_cache import keep_compiled_loops
    from hingeline_app.cli.counted import counted
    from hingeline_app.longwork.sharing import shared

    keep_compiled_loops()
    count = len(varied[0].values) * (len(varied[1].values) if len(varied) > 1 else 1)
    points: tuple[SweepPoint, ...]
    with shared(*share) as workers, counted(f"Varying over {count} models", count, run) as report:
        if len(varied) == 1:
            points = sweep(task, varied[0].field, varied[0].values, report, run=workers)
        else:
            first, second = varied
            fields = (first.field, second.field)
            points = two_way_map(task, fields, first.values, second.values, report, run=workers)
    names = tuple(one.field for one in varied)
    found = replace(result, variation=Variation(names, tuple(unit_of(task, name) for name in names), points))
    if len(points) == count:
        return found, 0
    stopped = STOPPED.format(done=len(points), count=count)
    say(stopped)
    return replace(found, notes=(*found.notes, stopped)), INTERRUPTED

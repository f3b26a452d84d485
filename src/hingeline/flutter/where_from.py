"""Where the numbers of a model come from, and how sure each of them is."""

from __future__ import annotations

from typing import Annotated, Any, get_args, get_origin, get_type_hints

from hingeline.fields import Unit
from hingeline.flutter.dotted import field_at, value_of
from hingeline.flutter.model import FlutterTask, StatedSource


def stated_sources(task: FlutterTask) -> tuple[StatedSource, ...]:
    """Carry the sources of a task into its answer, each with its number and its uncertainty.

    Parameters
    ----------
    task : FlutterTask

    Returns
    -------
    tuple of StatedSource
        In the order of the task: a weighing, a tap test, a drawing, a guess.
    """
    spreads = {one.field: one for one in task.scatter}
    found = []
    for source in task.sources:
        value, spread = value_of(task, source.field), spreads.get(source.field)
        size = None if spread is None else spread.deviation(value)
        found.append(StatedSource(source.field, source.source, value, unit_of(task, source.field), size))
    return tuple(found)


def unit_of(task: FlutterTask, field: str) -> str:
    """Give the SI symbol of a number of a task, 1 where it is a plain one.

    Examples
    --------
    >>> from hingeline.flutter.model import Air, Section
    >>> strip = Section(("plunge", "pitch"), 0.5, -0.2, 10.0, pitch_inertia=1.0)
    >>> given = FlutterTask(Air(density=1.225), (1.0, 50.0), section=strip)
    >>> unit_of(given, "section.pitch_inertia"), unit_of(given, "section.elastic_axis")
    ('kg m', '1')
    """
    record, name = field_at(task, field)
    return _symbol(get_type_hints(type(record), include_extras=True)[name])


def _symbol(hint: Any) -> str:
    if get_origin(hint) is Annotated:
        return next((mark.symbol for mark in get_args(hint)[1:] if isinstance(mark, Unit)), "1")
    return next((symbol for kind in get_args(hint) if (symbol := _symbol(kind)) != "1"), "1")

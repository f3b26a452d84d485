"""A surface's history as a picture: one limit bar a row, year by year, on one axis; paint marked, drift called out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.axis import PADDING, Axis, LimitBar
from hingeline_app.figures.lettering import Ground, Label
from hingeline_app.figures.limits.bar import draw_axis, sense_labels
from hingeline_app.figures.limits.parts import draw_band, draw_point
from hingeline_app.figures.svg import Drawing
from hingeline_app.figures.wording import capitalised, format_measured
from hingeline_app.figures.writing import write_labels

LABELS, MARGIN = 112.0, 14.0
ROW, BAND, WORK = 40.0, 20.0, 26.0
TOP = 30.0


@dataclass(frozen=True, slots=True)
class YearRow:
    """One row of the history.

    Parameters
    ----------
    label : str
        The day, as it is written.
    note : str
        Under the label: which job, or that it was copied from paper.
    bar : LimitBar
        The moment and the limits of that day [N m].
    work_before : str
        What was done since the row before: "painted"; empty where nothing is recorded.
    called_out : str
        Words for a change that nothing recorded explains; empty where there is none.
    is_from_paper : bool
        Without a ± of ours: drawn open.
    """

    label: str
    note: str
    bar: LimitBar
    work_before: str = ""
    called_out: str = ""
    is_from_paper: bool = False


def draw_moment_over_years(rows: Sequence[YearRow], width: float = 650) -> str:
    """Draw the moment over the years as SVG text.

    Parameters
    ----------
    rows : sequence of YearRow
        The earliest first.
    width : float
        The width it will be shown at, in pixels: 650 on a tablet and on paper, 348 on a phone.
    """
    axis = _axis(rows, LABELS, width - MARGIN)
    drawing, ground = Drawing(width, 0.0, history_words(rows)), Ground(width)
    ground.put(*sense_labels(axis, 18.0))
    y = TOP
    for row in rows:
        y = _draw_work(drawing, ground, axis, row, y)
        _draw_row(drawing, ground, axis, row, y)
        y += ROW
    drawing.height = draw_axis(drawing, ground, axis, y - 8.0) + 6.0
    write_labels(drawing, ground.labels)
    return drawing.finished("moment-over-years")


def history_words(rows: Sequence[YearRow]) -> str:
    """Say what the picture shows, in sentences."""
    sentences = ["Moment over the years, a limit bar a row"]
    for row in rows:
        if row.work_before:
            sentences.append(capitalised(row.work_before))
        if row.called_out:
            sentences.append(capitalised(row.called_out))
        if row.bar.value is not None:
            measured = format_measured(row.bar.value, row.bar.uncertainty, "N m", sense=True)
            said = f", {row.bar.statement}" if row.bar.statement else ""
            sentences.append(f"{row.label}: {measured}{said}")
    return ". ".join(sentences) + "."


def _axis(rows: Sequence[YearRow], left: float, right: float) -> Axis:
    ends = [0.0]
    for row in rows:
        bar = row.bar
        ends += [*bar.limits, *(bar.interval or ()), *(() if bar.value is None else (bar.value,))]
    low, high = min(ends), max(ends)
    extent = high - low or 1.0
    return Axis(low - PADDING * extent, high + PADDING * extent, left, right)


def _draw_work(drawing: Drawing, ground: Ground, axis: Axis, row: YearRow, y: float) -> float:
    """Draw what happened before a row: work as a chain line, a change that nothing explains as a dashed one."""
    for words, style, text in ((row.work_before, "chain-thin", "quiet"), (row.called_out, "lead", "strong")):
        if words:
            drawing.line((MARGIN, y + 4.0), (drawing.width - MARGIN, y + 4.0), style)
            ground.put(Label(words, MARGIN, y + 19.0, text))
            y += WORK
    return y


def _draw_row(drawing: Drawing, ground: Ground, axis: Axis, row: YearRow, y: float) -> None:
    ground.put(Label(row.label, MARGIN, y + 14.0, "strong"))
    ground.put(Label(row.note, MARGIN, y + 30.0, "quiet"))
    draw_band(drawing, axis, row.bar, y + 4.0, BAND)
    drawing.line((axis.x(0.0), y), (axis.x(0.0), y + 8.0 + BAND), "axis")
    if row.bar.value is None:
        return
    draw_point(drawing, axis, row.bar, y + 4.0 + BAND / 2.0, 6.0)
    if row.is_from_paper:
        drawing.circle((axis.x(row.bar.value), y + 4.0 + BAND / 2.0), 5.0, "open")

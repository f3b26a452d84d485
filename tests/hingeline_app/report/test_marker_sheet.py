"""The sheet of marks is true to scale and can be read back by what follows markers."""

from __future__ import annotations

from datetime import UTC, datetime

import cv2
import numpy as np
import pypdfium2
import pytest

from hingeline.errors import InputRefused
from hingeline_app.recordings.markers import Marker, pattern
from hingeline_app.report.marker_sheet import make_marker_sheet
from hingeline_app.said import reading_in

MADE = datetime(2026, 3, 4, 5, 6, 7, tzinfo=UTC)
DOTS_PER_MM = 10.0


def printed(side: float, numbers: range, paper: str = "a4") -> np.ndarray:
    """Make a sheet and print it at ten points a millimetre."""
    pdf = make_marker_sheet({number: pattern(number) for number in numbers}, side, 10.0, MADE, "1.0", paper)  # type: ignore[arg-type]
    (page,) = pypdfium2.PdfDocument(pdf)
    bitmap = page.render(scale=DOTS_PER_MM * 25.4 / 72.0, grayscale=True)
    return np.ascontiguousarray(bitmap.to_numpy().reshape(bitmap.height, -1)[:, : bitmap.width])


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("side", "numbers"), [(30.0, range(0, 8)), (50.0, range(10, 14)), (15.0, range(20, 50))])
def test_every_marker_on_the_sheet_is_found_at_its_size(side: float, numbers: range, paper: str) -> None:
    """Each printed marker is found once, by its number, and its black square measures what is written (0.2 mm)."""
    sheet = printed(side, numbers, paper)
    for number in numbers:
        marker = Marker(number)
        assert marker.begin(sheet) is None
        assert marker.size / DOTS_PER_MM == pytest.approx(side, abs=0.2)


def test_the_line_measures_what_it_says() -> None:
    """The ruler's outer strokes are 100.0 mm apart, within the point of the print."""
    sheet = printed(30.0, range(0, 4))
    strip = sheet[int((297.0 - 20.0 - 1.5) * DOTS_PER_MM)]
    (dark,) = np.nonzero(strip < 128)
    dark = dark[dark < 116 * DOTS_PER_MM]
    assert (dark.max() - dark.min() - 1) / DOTS_PER_MM == pytest.approx(100.0, abs=0.2)


def test_the_dots_measure_what_they_say() -> None:
    """A dot of 10 mm covers the area of a disk of 10 mm, within 1 %."""
    sheet = printed(30.0, range(0, 4))
    number, _, stats, _ = cv2.connectedComponentsWithStats((sheet < 128).astype(np.uint8))
    areas = [stats[i, 4] for i in range(1, number) if abs(stats[i, 2] - 100) < 4 and abs(stats[i, 3] - 100) < 4]
    assert len(areas) >= 5
    assert np.mean(areas) == pytest.approx(np.pi * 50.0**2, rel=0.01)


@pytest.mark.parametrize(("side", "count"), [(5.0, 4), (130.0, 1), (60.0, 20)])
def test_what_cannot_be_followed_or_does_not_fit_is_refused(side: float, count: int) -> None:
    """Too small, too large, or too many for one sheet: refused with the sizes that are possible."""
    with pytest.raises(InputRefused, match="side"):
        make_marker_sheet({number: pattern(number) for number in range(count)}, side, 10.0, MADE, "1.0")


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", ("number 3", "black squares of 30 mm, dots of 10 mm", "100 mm between the outer strokes", "made 2026")),
        ("de", ("Nummer 3", "schwarze Quadrate von 30 mm, Punkte von 10 mm", "100 mm zwischen", "gedruckt 2026")),
        ("fr", ("numéro 3", "carrés noirs de 30 mm, points de 10 mm", "100 mm entre", "imprimé le 2026")),
    ],
)
def test_the_sheet_is_in_the_readers_language_and_its_foot_says_when_it_was_made(
    language: str, said: tuple[str, ...]
) -> None:
    """With the zone, by which version; each word of the sheet is said (our own German and French)."""
    with reading_in(language):
        pdf = make_marker_sheet({3: pattern(3)}, 30.0, 10.0, MADE, "1.0")
    (page,) = pypdfium2.PdfDocument(pdf)
    text = page.get_textpage().get_text_range().replace("\u00a0", " ")
    assert all(each in text for each in (*said, "Hingeline 1.0", "05:06 UTC")), text


def test_the_same_sheet_is_the_same_file() -> None:
    """The same marks at the same time give the same bytes."""
    marks = {0: pattern(0)}
    assert make_marker_sheet(marks, 30.0, 10.0, MADE, "1.0") == make_marker_sheet(marks, 30.0, 10.0, MADE, "1.0")

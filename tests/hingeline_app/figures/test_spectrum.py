"""The spectrum of a recording says its peak and the width of a pure tone, each with its unit, in every language."""

from __future__ import annotations

import pytest

from hingeline_app.figures.motion.spectrum import SpectrumPicture, draw_spectrum
from hingeline_app.said import reading_in
from tests.hingeline_app.figures.reading_svg import parsed, texts

SAID = {
    ("en", "Hz"): ("Peak at 5.30 Hz; half its power at", "show 0.33 Hz wide"),
    ("en", "cycles a second of the file"): (
        "Peak at 5.30 cycles a second of the file",
        "0.33 cycles a second of the file wide",
    ),
    ("de", "Hz"): ("Spitze bei 5.30 Hz; halbe Leistung bei", "0.33 Hz breit; diese Spitze ist"),
    ("de", "cycles a second of the file"): (
        "bei 5.30 Perioden je Sekunde der Datei;",
        "0.33 Perioden je Sekunde der Datei breit",
    ),
    ("fr", "Hz"): ("Pic à 5.30 Hz", "aurait 0.33 Hz de large"),
    ("fr", "cycles a second of the file"): (
        "Pic à 5.30 cycles par seconde du fichier",
        "0.33 cycles par seconde du fichier de large",
    ),
}


@pytest.mark.parametrize("width", [0.4, 0.9])
@pytest.mark.parametrize(("language", "unit"), SAID)
def test_peak_and_pure_tone_stand_with_their_unit(language: str, unit: str, width: float) -> None:
    """What the picture says has a unit to each number, also where nobody knows how fast the camera ran."""
    pairs = tuple((0.1 * step, 1.0 / (1.0 + (0.1 * step - 5.3) ** 2)) for step in range(100))
    spectrum = SpectrumPicture(pairs, 5.3, (5.3 - width / 2.0, 5.3 + width / 2.0), 0.33, "pitch", unit)
    with reading_in(language):
        written = " ".join(texts(parsed(draw_spectrum(spectrum, 348.0)))).replace("\u00a0", " ").replace("\u202f", " ")
    for words in SAID[language, unit]:
        assert words in written

"""From a motion document and its recording to a picture: the evidence strip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hingeline.motion import Recording, Trace, trace_of
from hingeline_app.evidence.words import HEADLINES, frequency_text, interval_text, phase_text
from hingeline_app.figures.motion.evidence_strip import EvidenceStrip, draw_evidence_strip
from hingeline_app.figures.style import embedded

Document = Mapping[str, Any]
Pairs = Sequence[tuple[float, float]]

SHOWN = {"m": ("mm", 1e3), "rad": ("deg", 57.29577951308232), "m/s^2": ("m/s²", 1.0), "1": ("parts of full scale", 1.0)}


def evidence_svg(document: Document, recording: Recording) -> str:
    """Draw the evidence of one recording, as a picture that stands alone."""
    trace = trace_of(recording)
    return embedded(draw_evidence_strip(strip_of(document, trace, trace.portrait)))


def strip_of(
    document: Document, trace: Trace, portrait: Pairs, words: tuple[str, str] = ("plunge", "angle")
) -> EvidenceStrip:
    """Give what is drawn of a recording.

    Parameters
    ----------
    document : mapping
        The motion result.
    trace : Trace
    portrait : sequence of (float, float)
        One against the other.
    words : tuple of str
        Across, up.
    """
    unit, factor = SHOWN[trace.unit]
    across = max((abs(one) for one, _ in portrait), default=0.0) or 1.0
    up = max((abs(other) for _, other in portrait), default=0.0) or 1.0
    return EvidenceStrip(
        finding=_finding(document),
        quantity=f"{trace.quantity}, {unit}, drift taken out",
        times=trace.times,
        values=[factor * value for value in trace.values],
        envelope=[factor * value for value in trace.envelope],
        start=trace.start,
        stop=trace.stop,
        line=[factor * value for value in trace.line],
        grows=document["statement"] == "growing",
        portrait=[(one / across, other / up) for one, other in portrait],
        portrait_words=words,
        remark=phase_text(document) if document["phase"] is not None else "",
    )


def _finding(document: Document) -> tuple[str, ...]:
    numbers = f"Frequency {frequency_text(document)}."
    if document["growth_rate"] is not None:
        numbers += f" Growth rate {interval_text(document['growth_rate'])}."
    last = "From one recording, by rules tried on simulated ones only."
    return (*filter(None, (document["name"],)), f"{HEADLINES[document['statement']]}.", numbers, last)

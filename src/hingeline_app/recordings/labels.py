"""What a label's QR code says, read off a still photograph."""

from __future__ import annotations

import numpy as np

# A detector that finds nothing in the whole picture may find it in a smaller one: a photograph from close by.
SMALLER = (1.0, 0.5, 0.25)


def read_label(picture: bytes) -> str | None:
    """Give the text of the QR code in a picture; None where there is none that can be read.

    Parameters
    ----------
    picture : bytes
        A JPEG that we drew anew ourselves: nothing of a stranger's file is decoded here.
    """
    import cv2

    grey = cv2.imdecode(np.frombuffer(picture, dtype=np.uint8), cv2.IMREAD_GRAYSCALE)
    if grey is None:
        return None
    detector = cv2.QRCodeDetector()
    for part in SMALLER:
        smaller = grey if part == 1.0 else cv2.resize(grey, None, fx=part, fy=part, interpolation=cv2.INTER_AREA)
        text, _corners, _straight = detector.detectAndDecode(smaller)
        if text:
            return str(text)
    return None

"""A square code (QR, ISO/IEC 18004) as a picture for print."""

from __future__ import annotations

from hingeline.errors import MissingExtra


def square_code(text: str) -> str:
    """Draw a text as a square code, its quiet zone of four modules included.

    Raises
    ------
    MissingExtra
        The package that encodes it is not installed.
    """
    try:
        import segno
    except ImportError as missing:
        raise MissingExtra('Square codes need the package segno: pip install "hingeline[app]".') from missing
    code = segno.make(text, error="m", micro=False)
    rows = [list(row) for row in code.matrix_iter(border=4)]
    strokes = "".join(_runs(row, number) for number, row in enumerate(rows))
    size = len(rows)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" width="{size}" height="{size}">'
        f'<rect width="{size}" height="{size}" fill="#ffffff"/><path d="{strokes}" fill="#000000"/></svg>'
    )


def _runs(row: list[int], number: int) -> str:
    """Write the dark runs of a row as rectangles: neighbours that touch would show a hair between them."""
    found, start = "", 0
    for column in range(1, len(row) + 1):
        if column == len(row) or row[column] != row[start]:
            if row[start]:
                found += f"M{start} {number}h{column - start}v1.02h{start - column}z"
            start = column
    return found

"""The field that both papers hold, looked at as ink on a drawn sheet."""

import pypdfium2

MM_PT = 72 / 25.4
FIELD_MM = (190, 259)
SHEET_MM = {"a4": (210, 297), "letter": (216, 279)}
EDGE_MM = 0.5
"""For the width of lines and the rounding of the picture."""


def size_mm(sheet: pypdfium2.PdfPage) -> tuple[int, int]:
    width, height = sheet.get_size()
    return round(width / MM_PT), round(height / MM_PT)


def beyond_field_mm(sheet: pypdfium2.PdfPage, scale: float = 2.0) -> float:
    """Say by how much ink leaves the field; below nothing, how far it stays away."""
    picture = sheet.render(scale=scale, grayscale=True).to_numpy()
    rows, columns = (picture.reshape(picture.shape[:2]) < 250).nonzero()
    if not len(rows):
        return 0.0
    wide, high = (
        (side / MM_PT - inner) / 2
        for side, inner in zip(sheet.get_size(), FIELD_MM, strict=True)
    )
    unit = MM_PT * scale
    return max(
        wide - columns.min() / unit,
        columns.max() / unit - wide - FIELD_MM[0],
        high - rows.min() / unit,
        rows.max() / unit - high - FIELD_MM[1],
    )

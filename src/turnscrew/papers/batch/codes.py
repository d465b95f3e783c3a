"""How is a number drawn so that a scanner and a phone can read it?"""

from turnscrew.errors import BadArgumentError

QR_MODULE_MM = 0.5
"""Width of a module of the square code. [mm]"""

BAR_MODULE_MM = 0.26
"""Width of the thinnest bar; below 0.25 mm a print at 300 dpi cannot be read. [mm]"""

_QUIET = 10
"""Modules left white on either side of the bars: ISO/IEC 15417, from memory."""


def qr_svg(text: str) -> str:
    """
    Draw a number as a square code.

    Parameters
    ----------
    text
        The number.

    Returns
    -------
    str
        A drawing in its natural size, with its white margin.
    """
    import segno  # noqa: PLC0415 - slow library

    code = segno.make(text, error="m", micro=False)
    return code.svg_inline(unit="mm", scale=QR_MODULE_MM, border=4)


def bars_svg(text: str, height_mm: float) -> str:
    """
    Draw a number as bars, Code 128.

    Parameters
    ----------
    text
        The number; plain characters.
    height_mm
        Height of the bars. [mm]

    Returns
    -------
    str
        A drawing in its natural size, with its white margins.

    Raises
    ------
    BadArgumentError
        If the text holds a character the code lacks.
    """
    from barcode.codex import Code128  # noqa: PLC0415 - slow library
    from barcode.errors import BarcodeError  # noqa: PLC0415 - slow library

    try:
        modules = Code128(text).build()[0]
    except BarcodeError as error:
        raise BadArgumentError(f"number: found {text!r}, wanted plain text") from error
    width_mm = (len(modules) + 2 * _QUIET) * BAR_MODULE_MM
    bars: list[str] = []
    at = 0
    while at < len(modules):
        end = at
        while end < len(modules) and modules[end] == modules[at]:
            end += 1
        if modules[at] == "1":
            bars.append(
                f'<rect x="{(at + _QUIET) * BAR_MODULE_MM:.3f}" y="0" '
                f'width="{(end - at) * BAR_MODULE_MM:.3f}" height="{height_mm:g}"/>'
            )
        at = end
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm:.3f}mm" '
        f'height="{height_mm:g}mm" viewBox="0 0 {width_mm:.3f} {height_mm:g}">'
        + "".join(bars)
        + "</svg>"
    )

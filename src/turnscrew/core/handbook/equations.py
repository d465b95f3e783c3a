"""
Which equation stands behind each reckoning of the handbook?

The table names every public function that gives a figure or an answer.
"""

from turnscrew.core.model.equation import Equation, equation_in

_DEFINED = "definition"
_PAGES = "fastener pages that follow the thread standards"
_CALCULATORS = "two web calculators with worked examples"
_ROWS = "as each row of the table says"
_PIXELS = "ISO 13406-2, read on an encyclopaedia page"
_SERVICE = "service worksheet in a handbook of design for six sigma"
_STUDY = "tables 5 and 6 of an open disassembly study"

_TABLE = (
    Equation("stress_area_mm2", "As = pi / 4 (d - 0.9382 P)^2", _PAGES),
    Equation(
        "strength_of",
        "class a.b: Rm = 100 a, yield = 10 a b",
        "ISO 898-1 classes, read in a tightening pocket guide",
    ),
    Equation("tensile_load_n", "F = As Rm", "EN ISO 898-1 loads on a fastener page"),
    Equation(
        "breaking_torque_nm",
        "MB = tau pi / 16 (d2min - 0.57735 P)^3; tau = 0.84 Rm",
        "ISO 898-7, read in its preview; 0.84 from memory",
    ),
    Equation("preload_n", "F = share x proof x As", _CALCULATORS),
    Equation("torque_nm", "T = K F d; no set-point for M3 and smaller", _CALCULATORS),
    Equation(
        "engagement_mm",
        "Le = J x 2 As / (0.5 pi (D - 0.64952 P))",
        "two thread-engagement pages with worked examples",
    ),
    Equation("turns_engaged", "turns = engaged length / pitch", _DEFINED),
    Equation(
        "length_verdict", "never longer than the record", "common practice, no source"
    ),
    Equation("pan_head", "table of ISO 7045", "read on a dimension page"),
    Equation("hexalobular", "table of ISO 14581", "read in tables of part libraries"),
    Equation("rated_matings", "table", _ROWS),
    Equation("matings_left", "left = low end - done, at least 0", _ROWS),
    Equation("pixel_limits", "floor(million pixels x faults per million)", _PIXELS),
    Equation("n_sub_pixels", "n = 3 x across x down", "a product manual"),
    Equation("old_class_of", "0 is the old I; new I has no like", "a community page"),
    Equation(
        "grade_for",
        "given up or faulty: destroy; stays: clear; leaves: purge",
        "NIST SP 800-88, read on pages that sum it up",
    ),
    Equation(
        "restoration_of",
        "repair = localization + correction + checkout; active = technical + repair; "
        "corrective = logistic + active; restoration = detection + administrative + "
        "corrective",
        "IEC 60050-192, figures 1 and 2",
    ),
    Equation(
        "availability",
        "A = OT / (OT + TTR)",
        "EN 13306, in a maintenance society's note",
    ),
    Equation("row_s", "t = tool + n (operation + set-aside)", _SERVICE),
    Equation("strip_s", "Td = sum of t", _SERVICE),
    Equation("service_s", "Ts = Td + Tr; Tr = 1.255 Td if not timed", _SERVICE),
    Equation("refit_ratio", "ratio = Tr / Td", _SERVICE),
    Equation("labour_minor", "cost = t L / 3600", _SERVICE),
    Equation("service_efficiency", "efficiency = tmin Nm / Ts", _SERVICE),
    Equation("assembly_index", "E = 3 s x NM / TM", "a manual-assembly worksheet"),
    Equation(
        "tmu_s",
        "t = 3600 s n / 100 000",
        "operation-sequence technique, read on an encyclopaedia page",
    ),
    Equation("spread_of", "m = sum t / n; s^2 = sum (t - m)^2 / (n - 1)", _DEFINED),
    Equation("cleaned", "within 1.5 quartile widths of the quartiles", _STUDY),
    Equation("mean_ratio", "mean of (second / first)", _STUDY),
)

EQUATIONS = {equation.name: equation for equation in _TABLE}
"""Equations by name of the function."""


def equation_of(name: str) -> Equation:
    """
    Say which equation a function reckons with.

    Parameters
    ----------
    name
        Name of the function.

    Returns
    -------
    Equation
        The equation and its source.

    Raises
    ------
    BadFieldError
        If no reckoning has this name.
    """
    return equation_in(EQUATIONS, name)

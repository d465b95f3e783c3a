"""
Which equation stands behind each reckoning of the power path?

The table names every public function that gives a figure or an answer.
"""

from turnscrew.core.model.equation import Equation, equation_in

_OHM = "Ohm's law"
_DEFINED = "definition"
_GAUGE = "ASTM B258, read on web pages that cite it"
_COPPER = "International Annealed Copper Standard, read on an encyclopaedia page"
_METER = "article on four-terminal sensing, notes of a meter's maker"
_CC = "levels on a distributor's answer page; 2.04 V and Rd within 10 % from memory"
_RULES = "Power Delivery rules, read on a maker's training page"
_CABLE = "USB-C cable rules, read in an article that reproduces them"
_VBUS = "VBUS levels quoted in an open header and a public note"
_GUIDE = "a maker's selection guide"
_PRACTICE = "common practice, no source"
_CELL = "a forum thread that quotes a cell's data page"
_ONE_ORIGIN = "battery pages that agree, likely of one origin"
_AIR = "transport pages on PI 965, 966 and 967; check the edition in force"

_TABLE = (
    Equation("gauge_diameter_mm", "d = 0.127 mm x 92^((36 - n) / 39)", _GAUGE),
    Equation("thickening", "ratio = 92^(n / 39)", _GAUGE),
    Equation("section_mm2", "A = pi d^2 / 4", "geometry"),
    Equation("warm_ratio", "R_T / R_20 = 1 + 0.00393 (T - 20)", _COPPER),
    Equation("ohm_per_m", "r = 1 / (58 A) x (1 + 0.00393 (T - 20))", _COPPER),
    Equation("lead_drop_v", "V = 2 L r I, both conductors", _OHM),
    Equation("drop_v", "V = I R", _OHM),
    Equation("contact_heat_w", "P = I^2 R", "Joule's law"),
    Equation(
        "jack_reading",
        "30 mΩ new at most, 100 mΩ after 5000 matings",
        "two drawings of barrel connectors rated 5 A",
    ),
    Equation("lead_error", "R2 = R + Rleads; R4 = R; error = Rleads / R", _METER),
    Equation("smallest_two_wire_ohm", "R = Rleads / error", _METER),
    Equation("offset_free_ohm", "R = (V_on - V_off) / I", _METER),
    Equation("reversal_ohm", "R = (V+ - V-) / (2 I)", "from memory"),
    Equation("rating_w", "P = V I", _DEFINED),
    Equation(
        "fit_of",
        "volts within the tolerance; amps and watts at least; same polarity",
        _PRACTICE,
    ),
    Equation(
        "coaxial_plug",
        "bands end at 3.15, 6.3, 10.5, 13.5, 18 V",
        "RC-5320A, read on an encyclopaedia page",
    ),
    Equation("cc_level", "levels from 0.20, 0.66, 1.23 V, up to 2.04 V", _CC),
    Equation("cc_pair", "the pin at 0.20 V or more", _CC),
    Equation("source_sees_rd", "0.85 V <= CC <= 2.45 V", _CC),
    Equation("cc_divider_v", "V = Vbus Rd / (Rp + Rd)", "voltage divider"),
    Equation("cc_source_v", "V = I Rd", _OHM),
    Equation("cc_worst_case_v", "V = Vbus Rd / (Rp + Rd), tolerances against it", _CC),
    Equation(
        "offers_by_rating",
        "5 V; 9 V above 15 W; 15 V above 27 W; 20 V above 45 W; I = P / V, 3 A at "
        "most, 5 A at 20 V",
        _RULES,
    ),
    Equation("extended_rating_w", "P = V x 5 A at 28, 36, 48 V", "summary pages"),
    Equation("cable_current_a", "3 A; 5 A if marked", _CABLE),
    Equation("delivered_w", "P = V min(Isource, Icable)", _RULES),
    Equation(
        "offer_taken",
        "most power within the sink's limits; of equal power the higher voltage",
        "source of an open kernel; one policy of several",
    ),
    Equation("cable_limit", "R = V / I with 0.5 V in VBUS, 0.25 V in ground", _CABLE),
    Equation("fixed_level_v", "0.95 V to 1.05 V", _VBUS),
    Equation("vbus_level", "ends at 0.8, 3.67, 4.75, 5.5 V; then 5 % a level", _VBUS),
    Equation("vbus_row", "row of the table", f"{_VBUS}; next looks {_PRACTICE}"),
    Equation("rating_needed_a", "UL In >= I / 0.75 / K; IEC In >= I / K", _GUIDE),
    Equation("next_standard_a", "the next value to be had", _PRACTICE),
    Equation("fuse_choice", "UL In >= I / 0.75 / K; IEC In >= I / K; next", _GUIDE),
    Equation("fuse_heat_w", "P = I V", _DEFINED),
    Equation(
        "like_for_like",
        "same amps, size, speed, family; volts and interrupting rating not lower; "
        "melting figures within 25 %",
        f"{_GUIDE}; the 25 % are {_PRACTICE}",
    ),
    Equation(
        "duties_at",
        "UL: 1.0 holds 4 h, 1.35 opens in 1 h; IEC: 1.5 holds 1 h, 2.1 opens in 30 min",
        "UL 248-14 in a maker's guide, IEC 60127 in an article; pages differ",
    ),
    Equation(
        "slow_chip_state",
        "200 % opens in 1 to 120 s, 300 % in 0.1 to 3 s",
        "a data page of slow chip fuses",
    ),
    Equation("pulse_a2s", "ip^2 t x 1, 1/2, 1/3, 1/5 by shape", _GUIDE),
    Equation("trapezoid_a2s", "(ip^2 + ip ib + ib^2) t / 3", _GUIDE),
    Equation("pulse_share", "48, 38, 29, 22 % to 100, 1000, 10^4, 10^5", _GUIDE),
    Equation("melting_needed_a2s", "I2t of the pulse / share", _GUIDE),
    Equation("energy_wh", "Wh = V x Ah", _DEFINED),
    Equation("held_wh", "E = Wh x share", _DEFINED),
    Equation("rate_c", "C = I / Ah", _DEFINED),
    Equation("health_share", "full-charge / design capacity", _PRACTICE),
    Equation(
        "inner_ohm",
        "R = (U1 - U2) / (I2 - I1)",
        "IEC 61960, direct-current method, as quoted on a web page",
    ),
    Equation("voltage_limits", "2.50 V and 2.00 V x cells", _ONE_ORIGIN),
    Equation("charging_limits", "4.20 V and 3.00 V x cells; 0.1 C; 0.02-0.07 C", _CELL),
    Equation("switch_share", "Ah at the switch / Ah when full", _CELL),
    Equation(
        "charge_time",
        "t_cc = Q (s - s0) / I; tau = Q (1 - s) / (I - Ic); t_cv = tau ln(I / Ic)",
        "exponential taper, worked out here; a model only",
    ),
    Equation("charge_time_floor_h", "t = Wh (1 - s0) / (P eta)", "energy balance"),
    Equation("shelf_loss", "row of the next hotter temperature", _ONE_ORIGIN),
    Equation("cycles_at", "row of the next deeper discharge", _ONE_ORIGIN),
    Equation("is_lighter", "battery <= 100 Wh, cell <= 20 Wh", _AIR),
    Equation("air_rule", "damaged never; loose PI 965; in PI 967; with PI 966", _AIR),
    Equation("strap_current_a", "I = V / R", f"{_OHM}; 1 MΩ from memory"),
    Equation(
        "esd_reading",
        "strap < 3.5e7 Ω; floor with footwear and work surface < 1e9 Ω",
        "summary of ANSI/ESD S20.20 (2007) and EN 61340-5-1",
    ),
    Equation("coupler", "C6 I 2.5 A; C8 II 2.5 A; C14 I 10 A", "table of IEC 60320"),
    Equation("compared", "low <= reading <= high", "as the chosen limit says"),
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

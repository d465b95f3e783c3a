"""
What does mending one device take and cost?

One opening and one closing are charged however many faults there are. A part that two
faults ask for is exchanged once. Standard minutes of the terms win over the computed
opening, which serves where the terms have none.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from turnscrew.core.model.batch import BatchLine
from turnscrew.core.model.model_terms import FaultTerms
from turnscrew.core.model.quote import Charge, Work
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.core.price.money import labour_minor, part_price_minor, taxed


def work_of(line: BatchLine, terms: Terms, opening_minutes: int | None = None) -> Work:
    """
    Give the minutes of a device.

    Parameters
    ----------
    line
        The device.
    terms
        The terms; they must know its model and its faults.
    opening_minutes
        Computed opening and closing, used where the terms give none. [min]

    Returns
    -------
    Work
        Minutes for mending and for stripping it.
    """
    minutes = terms.models[line.model].minutes
    faults = terms.faults_of(line)
    open_close = 0
    if any(fault.is_opened for fault in faults):
        standard = minutes.open_close
        open_close = (opening_minutes or 0) if standard is None else standard
    return Work(
        receive=minutes.receive,
        finish=minutes.finish,
        open_close=open_close,
        exchange=sum(fault.minutes or 0 for fault in faults),
        strip=minutes.strip + minutes.storage,
        charge=minutes.charge,
    )


def parts_needed(
    line: BatchLine,
    terms: Terms,
    parts: Mapping[str, SparePart],
    opening_uses: tuple[str, ...] | None = None,
) -> tuple[str, ...]:
    """
    Give the spare parts a device needs, those used up by opening among them.

    Parameters
    ----------
    line
        The device.
    terms
        The terms.
    parts
        Spare parts by number.
    opening_uses
        What the opening path uses up; by the terms if there is none.

    Returns
    -------
    tuple[str, ...]
        Part numbers in the order of faults, what is exchanged once, what opening uses
        up as often as it is used.
    """
    faults = terms.faults_of(line)
    wanted = [name for fault in faults for name in _fitting(fault, line, parts)]
    exchanged = tuple(dict.fromkeys(wanted))
    if not any(fault.is_opened for fault in faults):
        return exchanged
    if opening_uses is None:
        opening_uses = terms.models[line.model].opening_uses
    # What is exchanged anyway is not needed a second time for closing.
    return exchanged + tuple(one for one in opening_uses if one not in exchanged)


def charges_for(
    minutes: int, needed: Iterable[str], terms: Terms, parts: Mapping[str, SparePart]
) -> tuple[Charge, ...]:
    """
    Write the lines of a quote.

    Parameters
    ----------
    minutes
        Standard minutes charged. [min]
    needed
        Part numbers, each with a known cost.
    terms
        The terms.
    parts
        Spare parts by number.

    Returns
    -------
    tuple[Charge, ...]
        One line for labour, one for each part.
    """
    labour = labour_minor(minutes, terms.rate_minor)
    work = Charge("labour", f"{minutes} min of work", labour, n=minutes)
    items = [
        Charge(
            "parts",
            parts[name].description,
            part_price_minor(parts[name].cost_minor or 0, terms.markup),
            part=name,
        )
        for name in needed
    ]
    return tuple(with_tax(charge, terms) for charge in (work, *items))


def with_tax(charge: Charge, terms: Terms) -> Charge:
    """
    Part a line from its tax.

    Parameters
    ----------
    charge
        The line, its whole amount as net.
    terms
        The terms.

    Returns
    -------
    Charge
        The line with net and tax.
    """
    rates = [tax for tax in terms.taxes if charge.kind in tax.on]
    apart = taxed(charge.net_minor, rates, is_included=terms.tax_included)
    return replace(charge, net_minor=apart.net_minor, tax_minor=apart.tax_minor)


def is_taxed_by(charge: Charge, terms: Terms) -> bool:
    """
    Say whether the tax on a line is that of the rates of some terms.

    Parameters
    ----------
    charge
        The line; its share of a line of several pieces may be off by one for rounding.
    terms
        The terms.

    Returns
    -------
    bool
        True if the rates give this tax, each of them rounded by itself.
    """
    rates = [tax for tax in terms.taxes if charge.kind in tax.on]
    percent = sum((Fraction(tax.percent) for tax in rates), Fraction(0))
    off = abs(charge.net_minor * percent / 100 - charge.tax_minor)
    return off <= 1 + Fraction(len(rates), 2)


def _fitting(
    fault: FaultTerms, line: BatchLine, parts: Mapping[str, SparePart]
) -> list[str]:
    return [name for name in fault.parts if parts[name].fits(line.model, line.revision)]

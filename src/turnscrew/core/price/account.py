"""What does a batch bring, what is credited, and what is left of it?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from turnscrew.core.model.person import Person
from turnscrew.core.model.quote import Charge, DecidedDevice, net_sum
from turnscrew.core.model.spare_part import SparePart
from turnscrew.core.model.terms import Terms
from turnscrew.core.price.money import half_up, labour_minor
from turnscrew.core.price.quote import with_tax


@dataclass(frozen=True)
class InvoiceItem:
    """
    What is billed for one device.

    Parameters
    ----------
    device
        The device.
    charges
        Its lines; none for a comeback.
    credits
        Credits for its parts used elsewhere, each below 0.
    """

    device: DecidedDevice
    charges: tuple[Charge, ...]
    credits: tuple[Charge, ...] = ()


@dataclass(frozen=True)
class Account:
    """
    The money of a batch, before tax if not said otherwise.

    Parameters
    ----------
    repairs_minor
        Repairs. [minor units]
    strip_diagnosis_minor
        Diagnosis of what is stripped. [minor units]
    no_fault_found_minor
        Trials without a fault. [minor units]
    donor_credit_minor
        Credit for donor parts. [minor units]
    tax_minor
        Tax on the invoice. [minor units]
    parts_cost_minor
        Cost of the parts used that were bought. [minor units]
    labour_minor
        Pay for the time at work. [minor units]
    """

    repairs_minor: int
    strip_diagnosis_minor: int
    no_fault_found_minor: int
    donor_credit_minor: int
    tax_minor: int
    parts_cost_minor: int
    labour_minor: int

    @property
    def total_minor(self) -> int:
        """
        Give all that is charged before credits.

        Returns
        -------
        int
            The sum. [minor units]
        """
        return (
            self.repairs_minor + self.strip_diagnosis_minor + self.no_fault_found_minor
        )

    @property
    def invoice_minor(self) -> int:
        """
        Give what is to be paid before tax.

        Returns
        -------
        int
            The sum. [minor units]
        """
        return self.total_minor - self.donor_credit_minor

    @property
    def margin_minor(self) -> int:
        """
        Give what is left after parts and pay.

        Returns
        -------
        int
            The margin. [minor units]
        """
        return self.invoice_minor - self.parts_cost_minor - self.labour_minor


@dataclass(frozen=True)
class PartUse:
    """
    One piece used in a device.

    Parameters
    ----------
    device
        Number of the device.
    part
        Part number.
    donor
        Number of the donor; 0 if it was bought.
    """

    device: int
    part: str
    donor: int = 0


def billed(
    devices: Iterable[DecidedDevice],
    uses: Iterable[PartUse],
    terms: Terms,
    parts: Mapping[str, SparePart],
) -> tuple[InvoiceItem, ...]:
    """
    Write what is billed for each device.

    A strip pays its receiving, a comeback nothing. A donor part is billed like a new
    one and credited at the same price to the donor it came from; what a device used
    that pays for no such part, as a comeback or one without a price, earns none.

    Parameters
    ----------
    devices
        The devices to be billed.
    uses
        Pieces used.
    terms
        The terms.
    parts
        Spare parts by number.

    Returns
    -------
    tuple[InvoiceItem, ...]
        One item a device, in the order given.
    """
    listed = list(devices)
    charges = {device.name: charges_of(device, terms) for device in listed}
    paid: dict[tuple[int, str], list[Charge]] = {}
    for name, lines in charges.items():
        for line in lines:
            paid.setdefault((name, line.part), []).append(line)
    credits: dict[int, list[Charge]] = {}
    for use in uses:
        left = paid.get((use.device, use.part))
        if use.donor and left:
            line = left.pop()
            part = parts[use.part].description
            says = f"credit: {part}, used for device {use.device}"
            credit = Charge(
                "parts", says, -line.net_minor, -line.tax_minor, part=use.part
            )
            credits.setdefault(use.donor, []).append(credit)
    return tuple(
        InvoiceItem(device, charges[device.name], tuple(credits.get(device.name, ())))
        for device in listed
    )


def charges_of(device: DecidedDevice, terms: Terms) -> tuple[Charge, ...]:
    """
    Give what one device is charged, whatever was answered to it.

    Parameters
    ----------
    device
        The device, decided.
    terms
        The terms.

    Returns
    -------
    tuple[Charge, ...]
        Its lines; none for a comeback, the diagnosis alone for a strip.
    """
    if device.decision.code == "comeback":
        return ()
    if device.decision.code == "strip":
        minutes = device.work.receive
        amount = labour_minor(minutes, terms.rate_minor)
        says = f"diagnosis, {minutes} min"
        return (with_tax(Charge("labour", says, amount, n=minutes), terms),)
    return device.charges


def account_of(
    items: Iterable[InvoiceItem],
    uses: Iterable[PartUse],
    parts: Mapping[str, SparePart],
    pay_minor: int,
) -> Account:
    """
    Add up a batch.

    Parameters
    ----------
    items
        What is billed.
    uses
        Pieces used.
    parts
        Spare parts by number.
    pay_minor
        Pay for the time at work. [minor units]

    Returns
    -------
    Account
        The sums.
    """
    sums = {"repairs": 0, "strip": 0, "no_fault_found": 0}
    credit = tax = 0
    for item in items:
        code = item.device.decision.code
        kind = code if code in sums else "repairs"
        sums[kind] += net_sum(item.charges)
        credit -= net_sum(item.credits)
        tax += sum(line.tax_minor for line in (*item.charges, *item.credits))
    cost = sum(parts[use.part].cost_minor or 0 for use in uses if not use.donor)
    return Account(
        repairs_minor=sums["repairs"],
        strip_diagnosis_minor=sums["strip"],
        no_fault_found_minor=sums["no_fault_found"],
        donor_credit_minor=credit,
        tax_minor=tax,
        parts_cost_minor=cost,
        labour_minor=pay_minor,
    )


def pay_minor(worked: Mapping[str, Fraction], people: Mapping[str, Person]) -> int:
    """
    Give the pay for everybody's time, rounded once for each person.

    Parameters
    ----------
    worked
        Time at work by role. [min]
    people
        People by role.

    Returns
    -------
    int
        The pay. [minor units]
    """
    return sum(
        half_up(minutes * people[role].pay_minor / 60)
        for role, minutes in worked.items()
    )

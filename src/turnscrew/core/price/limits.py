"""How much may be mended without asking, and how much of it is spoken for?"""

from collections.abc import Iterable, Set
from dataclasses import dataclass

from turnscrew.core.model.quote import DecidedDevice
from turnscrew.core.model.terms import Terms


@dataclass(frozen=True)
class Running:
    """
    What goes without asking against one cap.

    Parameters
    ----------
    of
        What the cap is for, in words.
    taken_minor
        Sum of what goes without asking, as the cap counts it. [minor units]
    cap_minor
        The cap; ``None`` if none was agreed. [minor units]
    """

    of: str
    taken_minor: int
    cap_minor: int | None

    @property
    def left_minor(self) -> int | None:
        """
        Give what is left under the cap.

        Returns
        -------
        int or None
            The rest; ``None`` without a cap. [minor units]
        """
        return None if self.cap_minor is None else self.cap_minor - self.taken_minor


def unclear_limits(terms: Terms) -> str:
    """
    Say what must be asked about the limits before anything goes by them.

    Parameters
    ----------
    terms
        The terms.

    Returns
    -------
    str
        The question; empty if there is none.
    """
    limits = (terms.ask_limit_minor, terms.batch_limit_minor, terms.day_limit_minor)
    if all(limit is None for limit in limits):
        return ""
    if terms.limit_currency and terms.limit_currency != terms.currency:
        return (
            f"the limits are in {terms.limit_currency} and the prices in "
            f"{terms.currency}: ask for limits in {terms.currency}"
        )
    if terms.taxes and terms.limits_with_tax is None:
        return "nobody said whether the limits are with or without tax: ask"
    return ""


def counted_minor(net_minor: int, tax_minor: int, terms: Terms) -> int:
    """
    Give an amount as the limits count it.

    Parameters
    ----------
    net_minor
        Amount before tax. [minor units]
    tax_minor
        Tax on it. [minor units]
    terms
        The terms.

    Returns
    -------
    int
        With tax where the limits are with tax. [minor units]
    """
    return net_minor + (tax_minor if terms.limits_with_tax else 0)


def device_minor(device: DecidedDevice, terms: Terms) -> int:
    """
    Give what mending a device costs as the limits count it.

    Parameters
    ----------
    device
        The device, decided.
    terms
        The terms.

    Returns
    -------
    int
        The amount; 0 without a quote. [minor units]
    """
    tax_minor = sum(charge.tax_minor for charge in device.charges)
    return counted_minor(device.decision.quote_minor or 0, tax_minor, terms)


def running_sums(
    devices: Iterable[DecidedDevice],
    terms: Terms,
    let_go_before: Set[int] = frozenset(),
) -> tuple[Running, ...]:
    """
    Give what goes without asking against each cap.

    Parameters
    ----------
    devices
        The devices, decided.
    terms
        The terms.
    let_go_before
        Numbers of those let go on an earlier day: they take nothing of this day's cap.

    Returns
    -------
    tuple[Running, ...]
        That of the batch, and that of a day if a cap of the day was agreed.
    """
    minor = {
        device.name: device_minor(device, terms)
        for device in devices
        if device.decision.code == "go"
    }
    sums = [Running("the batch", sum(minor.values()), terms.batch_limit_minor)]
    if terms.day_limit_minor is not None:
        today = sum(n for name, n in minor.items() if name not in let_go_before)
        sums.append(Running("one day", today, terms.day_limit_minor))
    return tuple(sums)

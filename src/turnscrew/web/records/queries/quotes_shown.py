"""Which quotes does a page show, and are they the ones that stand?"""

from collections.abc import Iterable, Iterator, Mapping

from turnscrew.core.model.amounts import money
from turnscrew.core.model.quote import DecidedDevice
from turnscrew.web.records.refusal import RefusedError

Quoted = tuple[int | None, str]
"""What one device is quoted, and for what was found. [minor units]"""

Shown = Mapping[int, Quoted]


def quotes_of(devices: Iterable[DecidedDevice]) -> dict[int, Quoted]:
    """Give by device what a page shows of its quote; nothing if nothing was found."""
    return {
        one.name: (one.decision.quote_minor, ", ".join(one.line.found))
        for one in devices
        if one.line.found
    }


def refuse_other_quotes(devices: Iterable[DecidedDevice], shown: Shown | None) -> None:
    """Refuse to go by quotes that are not those a page showed, if it tells them."""
    if shown is None:
        return
    reasons = list(_others(quotes_of(devices), shown))
    if reasons:
        raise RefusedError(*reasons)


def _others(now: Shown, shown: Shown) -> Iterator[str]:
    for line in sorted(now.keys() | shown.keys()):
        stands, was = now.get(line), shown.get(line)
        if stands != was:
            yield f"device {line}: {_other(stands, was)}"


def _other(stands: Quoted | None, was: Quoted | None) -> str:
    if stands is None:
        return (
            f"found it with no quote here by now, wanted the {_told(was)} that the "
            "page showed"
        )
    if was is None:
        return f"found {_told(stands)} by now, wanted it with none, as the page showed"
    return f"found {_told(stands)} by now, wanted the {_told(was)} that the page showed"


def _told(quoted: Quoted | None) -> str:
    minor, found = quoted or (None, "")
    return f"{'no amount' if minor is None else money(minor)} for {found}"

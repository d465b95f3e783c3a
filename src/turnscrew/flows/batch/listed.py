"""What does the comparison with the customer's list ask for, device by device?"""

from collections import defaultdict
from collections.abc import Iterator
from itertools import chain

from turnscrew.core.model.batch_input import BatchInput
from turnscrew.core.model.hold import Hold
from turnscrew.core.reconcile.answer import Reconciliation
from turnscrew.core.reconcile.match import reconciled


def compared(batch: BatchInput) -> Reconciliation:
    """
    Compare a batch with the customer's list.

    Parameters
    ----------
    batch
        The batch.

    Returns
    -------
    Reconciliation
        What is where, and what is doubtful.
    """
    names = {
        model.name.casefold(): short
        for short, model in batch.terms.models.items()
        if model.name
    }
    return reconciled(batch.lines, batch.listed, names)


_PHOTO_WANTED = "take a photo of its label, or of where one should be"


def holds_from_list(
    found: Reconciliation,
) -> dict[int, tuple[Hold, ...]]:
    """
    Say for each device what must be settled because of the list.

    Parameters
    ----------
    found
        The batch compared with the list.

    Returns
    -------
    dict
        Holds by device.
    """
    holds: dict[int, list[Hold]] = defaultdict(list)
    for line, words in chain(_twins(found), _doubts(found)):
        holds[line].append(Hold("list", words))
    for line in () if found.is_list_empty else found.extra:
        holds[line].append(Hold("list", "not on the customer's list: whose is it"))
    return {line: tuple(own) for line, own in holds.items()}


def _twins(found: Reconciliation) -> Iterator[tuple[int, str]]:
    for kind, groups in (
        ("serial", found.duplicate_serials),
        ("owner's number", found.duplicate_assets),
    ):
        for group in groups:
            for line in group:
                others = ", ".join(str(other) for other in group if other != line)
                words = f"the same as {others}; look at the bodies again"
                yield line, f"duplicate {kind}: {words}"


def _doubts(found: Reconciliation) -> Iterator[tuple[int, str]]:
    for near in found.near_serials:
        for line in near.lines:
            yield line, f"near serial: {near}"
    for blank in found.blanks:
        fields = ["owner's number" if f == "asset" else f for f in blank.fields]
        yield blank.line, f"no {' and no '.join(fields)} on the body"
        if "serial" in blank.fields:
            yield blank.line, f"serial unread: {_PHOTO_WANTED}"
    for one in found.differing:
        words = "; ".join(str(difference) for difference in one.differences)
        yield one.line, f"differs from the list: {words}; the body is trusted"

"""Which papers does a batch have, and how is each made?"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from turnscrew.core.batch.answer import BatchAnswer
from turnscrew.papers.batch import (
    approval,
    batch_sheet,
    bench,
    evidence,
    labels,
    order_list,
    receipt,
    trade,
)
from turnscrew.papers.batch.beside import NOTHING, Beside
from turnscrew.papers.page import Page

Make = Callable[[], bytes | str | None]
"""Makes a paper; ``None`` where there is nothing to say."""


def every_paper(
    answer: BatchAnswer,
    page: Page,
    openings: Sequence[tuple[str, str, str]],
    beside: Beside = NOTHING,
) -> Mapping[str, Make]:
    """
    Name every paper of a batch.

    Parameters
    ----------
    answer
        The batch.
    page
        Paper size.
    openings
        Computed openings, as words.
    beside
        What records know of the devices beside that.

    Returns
    -------
    Mapping
        How each is made, by file name, in the order of the trade.
    """
    papers: dict[str, Make] = {
        "batch-sheet.pdf": lambda: batch_sheet.batch_sheet(
            answer, page, list(openings)
        ),
        "approval-message.pdf": lambda: approval.approval_message(answer, page),
        "approval-message.txt": lambda: approval.approval_text(answer, page),
        "order-list.pdf": lambda: order_list.order_list(answer, page, beside),
        "kit-lists.pdf": lambda: bench.kit_lists(answer, page),
        "device-labels.pdf": lambda: labels.device_labels(answer, page),
        "isolation-labels.pdf": lambda: labels.isolation_labels(answer, page),
        "donor-cards.pdf": lambda: bench.donor_cards(answer, page),
        "receipt.pdf": lambda: receipt.receipt(answer, page, beside),
        "invoice.pdf": lambda: trade.invoice(answer, page) if answer.devices else None,
        "evidence.pdf": lambda: evidence.evidence(answer, page, beside),
    }
    for role in answer.batch.people:
        papers[f"day-sheet-{role}.pdf"] = partial(bench.day_sheet, answer, role, page)
    return papers

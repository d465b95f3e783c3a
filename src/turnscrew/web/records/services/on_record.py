"""May anything still be written about a customer, or into a batch?"""

from turnscrew.web.records.models import Batch, Customer, Job, OrderLine
from turnscrew.web.records.services.refusal import RefusedError

LEFT_OUT = "words left out: customer erased"
"""Stands where money or an end must be written, but no words are taken in."""


def require_on_record(customer_id: int) -> None:
    """
    Refuse whose people were erased: what came in now would never be erased.

    It is asked of the tables, as others may have erased since the row was read.
    """
    if _is_erased(customer_id):
        raise RefusedError("customer: found one erased, wanted one on record")


def require_open(batch: Batch) -> None:
    """Refuse what would come into a batch that is closed: nobody looks there."""
    day = Batch.objects.filter(pk=batch.pk).values_list("closed_on", flat=True).first()
    if day is not None:
        raise RefusedError(f"batch: found one closed on {day}, wanted an open one")


def require_job_on_record(job: Job | None) -> None:
    """Refuse words about a device of an erased customer; about none they may come."""
    if job is not None and _is_erased(job.batch.customer_id):
        raise RefusedError(
            "device: found one of an erased customer, wanted it left out of the words"
        )


def words_about(customer_id: int, words: str) -> str:
    """Give words to keep about a customer; fixed ones once the people were erased."""
    return LEFT_OUT if words.strip() and _is_erased(customer_id) else words


def words_about_order(line: OrderLine | None, words: str) -> str:
    """Give words to keep about what came by an order, of a customer's batch or none."""
    if line is None or line.batch is None:
        return words
    return words_about(line.batch.customer_id, words)


def _is_erased(customer_id: int) -> bool:
    return Customer.objects.filter(pk=customer_id, is_erased=True).exists()

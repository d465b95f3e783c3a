"""May anything still be written about a customer?"""

from turnscrew.web.records.models import Customer, Job
from turnscrew.web.records.services.refusal import RefusedError


def require_on_record(customer_id: int) -> None:
    """
    Refuse whose people were erased: what came in now would never be erased.

    It is asked of the tables, as others may have erased since the row was read.
    """
    if Customer.objects.filter(pk=customer_id, is_erased=True).exists():
        raise RefusedError("customer: found one erased, wanted one on record")


def require_job_on_record(job: Job | None) -> None:
    """Refuse words about a device of an erased customer; about none they may come."""
    if job is None:
        return
    if Customer.objects.filter(pk=job.batch.customer_id, is_erased=True).exists():
        raise RefusedError(
            "device: found one of an erased customer, wanted it left out of the words"
        )

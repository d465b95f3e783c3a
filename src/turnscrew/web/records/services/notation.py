"""How does a workshop choose how figures are shown?"""

from turnscrew.web.records.models import HowItReads
from turnscrew.web.records.services.refusal import RefusedError
from turnscrew.web.records.services.writing import writing


@writing
def choose_notation(lengths: str, sign: str, week: str) -> None:
    """Show lengths, decimal numbers and weeks so from now on; nothing kept changes."""
    reasons = [
        f"{name}: found {found or 'none'}, wanted one of {', '.join(dict(known))}"
        for name, found, known in (
            ("lengths", lengths, HowItReads.LENGTHS),
            ("decimal sign", sign, HowItReads.SIGNS),
            ("first day of the week", week, HowItReads.WEEKS),
        )
        if found not in dict(known)
    ]
    if reasons:
        raise RefusedError(*reasons)
    chosen = {"lengths": lengths, "sign": sign, "week": week}
    HowItReads.objects.update_or_create(pk=1, defaults=chosen)

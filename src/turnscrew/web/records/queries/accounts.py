"""How does somebody come in?"""

from django_otp import user_has_device

from turnscrew.web.records.models import Person


def has_second_factor(person: Person) -> bool:
    """Say whether somebody has set a second factor up."""
    return person.user is not None and user_has_device(person.user)

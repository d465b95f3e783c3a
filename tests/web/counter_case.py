"""Signed-in browsers without a browser, one a person."""

from typing import Any

from django.test import Client


def signed_in(person: Any) -> Client:
    """Give a client that a person has signed in with."""
    client = Client()
    client.force_login(person.user, backend="django.contrib.auth.backends.ModelBackend")
    return client

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Say that nothing is here, to a stranger as to a member."""
    return render(request, "counter/not_found.html", status=404)

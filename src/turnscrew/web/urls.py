"""Where everything is."""

from django.urls import include, path

from turnscrew.web.api.routes import api

handler404 = "turnscrew.web.counter.views.errors.not_found"

urlpatterns = [
    path("api/", api.urls),
    path("bench/", include("turnscrew.web.bench.urls")),
    path("", include("turnscrew.web.counter.urls")),
]

"""Where the pages of photos are."""

from django.urls import path

from turnscrew.web.counter.views import photos

urlpatterns = [
    path("jobs/<slug:ref>/photos/", photos.job_photos, name="job_photos"),
    path("photos/<slug:ref>/", photos.photo, name="photo"),
    path("photos/<slug:ref>/preview/", photos.preview, name="preview"),
    path("photos/<slug:ref>/<slug:copy>/", photos.picture, name="picture"),
    path(
        "answer/<str:address>/photos/<slug:ref>/", photos.cleared, name="cleared_photo"
    ),
]

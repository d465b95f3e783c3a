"""All pages, those of photos among them, wherever they are hung in."""

from django.urls import include, path

from turnscrew.web import urls as web
from turnscrew.web.api.routes import api
from turnscrew.web.counter import photo_urls, urls

handler404 = web.handler404
known = {str(one.pattern) for one in urls.urlpatterns}
pages = [
    *urls.urlpatterns,
    *(one for one in photo_urls.urlpatterns if str(one.pattern) not in known),
]
urlpatterns = [path("api/", api.urls), path("", include((pages, "counter")))]

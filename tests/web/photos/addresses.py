"""The pages of the counter with those of photos among them."""

from django.urls import include, path

from turnscrew.web import urls as web
from turnscrew.web.counter import photo_urls, urls

handler404 = web.handler404
known = {str(one.pattern) for one in urls.urlpatterns}
pages = [
    *urls.urlpatterns,
    *(one for one in photo_urls.urlpatterns if str(one.pattern) not in known),
]
urlpatterns = [path("", include((pages, "counter")))]

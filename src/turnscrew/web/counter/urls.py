from django.urls import URLPattern

app_name = "counter"
urlpatterns: list[URLPattern] = []

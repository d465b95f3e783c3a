from django.apps import AppConfig


class RecordsConfig(AppConfig):
    name = "turnscrew.web.records"
    label = "records"

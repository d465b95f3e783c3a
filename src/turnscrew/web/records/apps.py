from django.apps import AppConfig
from django.urls import register_converter

from turnscrew.web.part_address import PartNumberConverter


class RecordsConfig(AppConfig):
    name = "turnscrew.web.records"
    label = "records"

    def ready(self) -> None:
        register_converter(PartNumberConverter, "part")

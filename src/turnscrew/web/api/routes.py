"""The routes of the programming interface."""

from ninja import NinjaAPI

api = NinjaAPI(title="Turnscrew records", version="1", urls_namespace="api")

"""Addresses: the pages, the administrator's tables, and what a watcher of the service asks."""

from django.contrib import admin
from django.urls import include, path

from planner.config.health import healthz, readyz
from planner.config.metrics import metrics

admin.autodiscover()

handler500 = "api.base.problems.server_error"

urlpatterns = [
    path("healthz", healthz, name="healthz"),
    path("readyz", readyz, name="readyz"),
    path("metrics", metrics, name="metrics"),
    path("admin/", admin.site.urls),
    path("api/v1/", include("api.urls")),
    path("", include("planner.web.urls")),
]

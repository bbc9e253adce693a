"""Addresses of the fleet's pages."""

from django.urls import path

from planner.web.fleet import fleet, machine

urlpatterns = [
    path("fleet/", fleet.fleet, name="fleet"),
    path("fleet/machines/<slug:code>/", machine.machine, name="machine"),
    path("fleet/machines/<slug:code>/hours/", machine.hours, name="machine_hours"),
    path("fleet/machines/<slug:code>/fit/", machine.fit, name="machine_fit"),
    path("fleet/machines/<slug:code>/take-off/", machine.take_off, name="machine_take_off"),
]

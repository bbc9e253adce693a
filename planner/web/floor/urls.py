"""Addresses of the floor page."""

from django.urls import path

from planner.web.floor import attending, closing, floor_page, tap

urlpatterns = [
    path("floor/", floor_page.floor, name="floor"),
    path("floor/tap/", tap.tap, name="floor_tap"),
    path("floor/closing/", closing.closing, name="bay_closing"),
    path("alarm/", attending.alarm, name="alarm"),
]

"""Addresses of the floor page."""

from django.urls import path

from planner.web.floor import attending, closing, floor_page, tap

urlpatterns = [
    path("floor/", floor_page.floor, name="floor"),
    path("floor/tap/", tap.tap, name="floor_tap"),
    path("floor/closing/", closing.closing, name="bay_closing"),
    path("alarm/", attending.alarm, name="alarm"),
    path("floor/attend/<int:damage_id>/", attending.sign_on, name="watch_sign_on"),
    path("floor/attend/<int:damage_id>/off/", attending.sign_off, name="watch_sign_off"),
    path("floor/attend/<int:damage_id>/hand-over/", attending.hand_over, name="watch_hand_over"),
]

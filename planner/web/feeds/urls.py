"""Addresses of the page about feeds, under a site, and of the feeds themselves."""

from django.urls import path

from planner.web.feeds import pages, reading

urlpatterns = [
    path("calendar/", pages.calendar, name="calendar"),
    path("calendar/<slug:kind>/make/", pages.make, name="calendar_make"),
    path("calendar/<slug:kind>/stop/", pages.stop, name="calendar_stop"),
]
secret_addresses = [path("feeds/<slug:secret>.ics", reading.feed, name="calendar_feed")]

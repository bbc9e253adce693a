"""Addresses of the floor page."""

from django.urls import path

from planner.web.floor import floor_page

urlpatterns = [path("floor/", floor_page.floor, name="floor")]

"""Addresses of the materials page."""

from django.urls import path

from planner.web.materials import materials, receiving, taking

urlpatterns = [
    path("materials/", materials.materials, name="materials"),
    path("materials/take/", taking.take, name="material_take"),
    path("materials/receive/", receiving.receive, name="lot_receive"),
]

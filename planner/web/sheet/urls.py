"""Addresses of the shift sheets."""

from django.urls import path

from planner.web.sheet import views

urlpatterns = [
    path("sheets/", views.sheets, name="sheets"),
    path("sheets/pdf/", views.sheets_pdf, name="sheets_pdf"),
]

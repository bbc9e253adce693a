"""Addresses of the repair record and its photos."""

from django.urls import path

from planner.web.record import photos, record, signing

urlpatterns = [
    path("orders/<int:number>/record/", record.record, name="repair_record"),
    path("orders/<int:number>/record/pdf/", record.record_pdf, name="repair_record_pdf"),
    path("orders/<int:number>/record/inspect/", signing.inspect, name="repair_inspect"),
    path("orders/<int:number>/record/sign/", signing.sign, name="record_sign"),
    path("orders/<int:number>/injuries/<int:injury>/photos/", photos.add, name="photo_add"),
    path("photos/<int:photo_id>/", photos.photo, name="photo"),
]

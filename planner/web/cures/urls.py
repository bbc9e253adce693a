"""Addresses of the cure pages."""

from django.urls import path

from planner.web.cures import decide, logs, looking, measure

urlpatterns = [
    path("orders/<int:number>/cures/", logs.logs, name="cure_logs"),
    path("orders/<int:number>/cures/<int:injury>/upload/", logs.upload, name="cure_log_upload"),
    path("orders/<int:number>/cures/<int:injury>/readings/", logs.readings, name="cure_readings"),
    path("orders/<int:number>/injuries/<int:injury>/measure/", measure.measure, name="damage_measure"),
    path("cure-logs/<int:upload_id>/", looking.look, name="cure_log_look"),
    path("cure-logs/<int:upload_id>/keep/", looking.keep, name="cure_log_keep"),
    path("cure-logs/<int:upload_id>/put-away/", looking.put_away, name="cure_log_put_away"),
    path("orders/<int:number>/cures/logs/<int:log_id>/decide/", decide.decide, name="cure_decide"),
]

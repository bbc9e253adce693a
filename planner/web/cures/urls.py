"""Addresses of the cure pages."""

from django.urls import path

from planner.web.cures import decide, limits, logs, looking, measure, readings

urlpatterns = [
    path("orders/<int:number>/cures/", logs.logs, name="cure_logs"),
    path("orders/<int:number>/cures/<int:injury>/upload/", logs.upload, name="cure_log_upload"),
    path("orders/<int:number>/cures/<int:injury>/readings/", logs.typed, name="cure_readings"),
    path("orders/<int:number>/cures/<int:injury>/reading/", readings.add, name="cure_reading_add"),
    path("orders/<int:number>/cures/<int:injury>/judge/", readings.judge, name="cure_readings_judge"),
    path(
        "orders/<int:number>/cures/readings/<int:reading_id>/correct/",
        readings.correct,
        name="cure_reading_correct",
    ),
    path("cure-limits/", limits.limits, name="cure_limits"),
    path("cure-limits/add/", limits.add, name="cure_limit_add"),
    path("cure-limits/<int:row_id>/remove/", limits.remove, name="cure_limit_remove"),
    path("orders/<int:number>/injuries/<int:injury>/measure/", measure.measure, name="damage_measure"),
    path("cure-logs/<int:upload_id>/", looking.look, name="cure_log_look"),
    path("cure-logs/<int:upload_id>/keep/", looking.keep, name="cure_log_keep"),
    path("cure-logs/<int:upload_id>/put-away/", looking.put_away, name="cure_log_put_away"),
    path("orders/<int:number>/cures/logs/<int:log_id>/decide/", decide.decide, name="cure_decide"),
]

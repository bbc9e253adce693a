"""Addresses of notices and of following a tyre."""

from django.urls import path

from planner.web.notices import following, notices, tellings

urlpatterns = [
    path("notices/", notices.notices, name="notices"),
    path("notices/read/", notices.read_all, name="notices_read"),
    path("notices/choice/", notices.choose, name="notice_choice"),
    path("notices/<int:notice_id>/", notices.opened, name="notice"),
    path("orders/<int:number>/follow/", following.follow, name="follow"),
    path("orders/<int:number>/unfollow/", following.unfollow, name="unfollow"),
    path("plan/<int:plan_id>/tells/", tellings.tells, name="plan_tells"),
]

"""Addresses of the plan's pages."""

from django.urls import path

from planner.web.supervisor import building, editing, help_wanted, moved, odds, panel, plan_page, publishing

urlpatterns = [
    path("plan/", plan_page.plan_now, name="plan"),
    path("plan/versions/", plan_page.versions, name="plan_versions"),
    path("plan/build/", building.build, name="plan_build"),
    path("plan/again/", building.again, name="plan_again"),
    path("plan/builds/<int:build_id>/", building.progress, name="plan_progress"),
    path("plan/builds/<int:build_id>/cancel/", building.cancel, name="plan_build_cancel"),
    path("plan/<int:plan_id>/", plan_page.plan_shown, name="plan_shown"),
    path("plan/<int:plan_id>/publish/", publishing.publish, name="plan_publish"),
    path("plan/<int:plan_id>/drop/", publishing.drop, name="plan_drop"),
    path("plan/<int:plan_id>/move/", editing.move, name="plan_move"),
    path("plan/<int:plan_id>/lock/", editing.lock, name="plan_lock"),
    path("plan/<int:plan_id>/unlock/", editing.unlock, name="plan_unlock"),
    path("plan/<int:plan_id>/leave-out/", editing.leave_out, name="plan_leave_out"),
    path("plan/<int:plan_id>/first/", editing.put_first, name="plan_first"),
    path("plan/<int:plan_id>/late/", plan_page.late_shown, name="plan_late"),
    path("plan/<int:plan_id>/moved/", moved.moved_shown, name="plan_moved"),
    path("plan/<int:plan_id>/help/", help_wanted.help_shown, name="plan_help"),
    path("plan/<int:plan_id>/help/ask/", help_wanted.help_ask, name="plan_help_ask"),
    path("plan/<int:plan_id>/help/cancel/", help_wanted.help_cancel, name="plan_help_cancel"),
    path("plan/<int:plan_id>/odds/", odds.odds_shown, name="plan_odds"),
    path("plan/<int:plan_id>/odds/ask/", odds.odds_ask, name="plan_odds_ask"),
    path("plan/<int:plan_id>/job/<str:job>/", panel.job_panel, name="plan_job"),
]

"""Addresses of the queue, the orders and the bay's resources."""

from django.urls import path

from planner.web.accounts import uses
from planner.web.maintenance import (
    damage_import,
    decide,
    find,
    need,
    parts,
    promise_why,
    queue,
    queue_paper,
    queue_views,
    register,
    resources,
    work_order,
)

urlpatterns = [
    path("queue/", queue.queue, name="queue"),
    path("queue/register/", register.register, name="damage_register"),
    path("queue/register/need/", need.need, name="need"),
    path("queue/register/file/", damage_import.damage_file, name="damage_file"),
    path("queue/register/file/<slug:kind>/", damage_import.damage_blank, name="damage_blank"),
    path("queue/views/keep/", queue_views.keep, name="queue_view_keep"),
    path("queue/views/<int:view_id>/remove/", queue_views.remove, name="queue_view_remove"),
    path("queue/pdf/", queue_paper.queue_pdf, name="queue_pdf"),
    path("find/", find.find, name="find"),
    path("orders/<int:number>/", work_order.work_order, name="work_order"),
    path("orders/<int:number>/why/", promise_why.why, name="promise_why"),
    path("orders/<int:number>/date/", decide.set_date, name="work_order_date"),
    path("orders/<int:number>/decide/<slug:move>/", decide.decide, name="work_order_decide"),
    path("orders/<int:number>/use/", uses.uses, name="work_order_use"),
    path("bay/", resources.resources, name="resources"),
    path("bay/parts/<int:row>/", parts.part, name="set_part"),
]

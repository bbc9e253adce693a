"""Addresses of the queue, the orders and the bay's resources."""

from django.urls import path

from planner.web.accounts import uses
from planner.web.maintenance import decide, promise_why, queue, register, resources, work_order

urlpatterns = [
    path("queue/", queue.queue, name="queue"),
    path("queue/register/", register.register, name="damage_register"),
    path("orders/<int:number>/", work_order.work_order, name="work_order"),
    path("orders/<int:number>/why/", promise_why.why, name="promise_why"),
    path("orders/<int:number>/date/", decide.set_date, name="work_order_date"),
    path("orders/<int:number>/decide/<slug:move>/", decide.decide, name="work_order_decide"),
    path("orders/<int:number>/use/", uses.uses, name="work_order_use"),
    path("bay/", resources.resources, name="resources"),
]

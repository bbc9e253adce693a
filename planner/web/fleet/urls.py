"""Addresses of the fleet's pages."""

from django.urls import path

from planner.web.fleet import fleet, machine, spare_changes, spares

urlpatterns = [
    path("fleet/", fleet.fleet, name="fleet"),
    path("fleet/machines/<slug:code>/", machine.machine, name="machine"),
    path("fleet/machines/<slug:code>/hours/", machine.hours, name="machine_hours"),
    path("fleet/machines/<slug:code>/fit/", machine.fit, name="machine_fit"),
    path("fleet/machines/<slug:code>/take-off/", machine.take_off, name="machine_take_off"),
    path("fleet/spares/", spares.spares, name="spares"),
    path("fleet/spares/size/", spares.size, name="spare_size"),
    path("fleet/spares/assume/", spare_changes.assume, name="removal_assume"),
    path("fleet/spares/order/", spare_changes.order, name="delivery_order"),
    path("fleet/spares/orders/<int:delivery>/date/", spare_changes.put_off, name="delivery_date"),
    path("fleet/spares/orders/<int:delivery>/receive/", spare_changes.receive, name="delivery_receive"),
    path("fleet/spares/orders/<int:delivery>/call-off/", spare_changes.call_off, name="delivery_call_off"),
]

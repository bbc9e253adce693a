"""Work orders as they are answered and asked for."""

from rest_framework import serializers

from api.base.named import Named
from planner.domain.states import WorkOrderState
from planner.selectors.nouns import WorkOrder


class WorkOrderShape(serializers.ModelSerializer[WorkOrder]):
    """A work order with its tyre, machine and route by what people call them."""

    code = serializers.CharField(read_only=True)
    serial = serializers.CharField(source="tyre.serial", read_only=True)
    size = serializers.CharField(source="tyre.size", read_only=True)
    machine = Named(slug_field="code", read_only=True, allow_null=True)
    route = Named(slug_field="code", read_only=True, allow_null=True)

    class Meta:
        """The order itself."""

        model = WorkOrder
        fields = (
            "number", "code", "version", "state", "state_reason", "tyre", "serial", "size", "machine",
            "route", "priority", "received_at", "released_at", "needed_by", "closed_at",
        )  # fmt: skip


class WorkOrderSearch(serializers.Serializer[WorkOrder]):
    """Which orders; the open ones unless states are named."""

    state = serializers.MultipleChoiceField(
        choices=[state.value for state in WorkOrderState], required=False, help_text="empty: the open ones"
    )
    search = serializers.CharField(
        required=False, max_length=60, help_text="in serial, size, machine and number"
    )


class WorkOrderReceive(serializers.Serializer[WorkOrder]):
    """A damaged tyre that came in; priority is the machine's where none is given."""

    tyre = serializers.IntegerField(min_value=1, max_value=999999999)
    needed_by = serializers.DateTimeField()
    priority = serializers.IntegerField(required=False, min_value=1, max_value=100)
    machine = serializers.IntegerField(required=False, min_value=1, max_value=999999999)
    released_at = serializers.DateTimeField(required=False)
    received_at = serializers.DateTimeField(required=False)
    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class WorkOrderDate(serializers.Serializer[WorkOrder]):
    """When the tyre is needed, and how much each late minute weighs."""

    needed_by = serializers.DateTimeField()
    priority = serializers.IntegerField(min_value=1, max_value=100)
    why = serializers.CharField(max_length=300)


class WorkOrderMove(serializers.Serializer[WorkOrder]):
    """A decision on an order; all but a decision to repair and a release need their reason."""

    move = serializers.ChoiceField(choices=("decide_to_repair", "reject", "hold", "release", "call_off"))
    why = serializers.CharField(allow_blank=True, max_length=300, default="")

"""Tyres and damage as they are answered and asked for."""

from rest_framework import serializers

from api.base.named import Named
from planner.domain.injury import Zone
from planner.selectors.nouns import Damage, Tyre

_MOVES = ("fit", "demount", "quarantine", "clear", "take_out_of_service")


class TyreShape(serializers.ModelSerializer[Tyre]):
    """A tyre; its machine by code."""

    machine = Named(slug_field="code", read_only=True, allow_null=True)

    class Meta:
        """All but its site."""

        model = Tyre
        exclude = ("site",)


class TyreRegister(serializers.ModelSerializer[Tyre]):
    """A new tyre; its size as it is written on the sidewall."""

    class Meta:
        """Marks that stand in the size may be left out."""

        model = Tyre
        fields = (
            "serial", "size_as_written", "maker", "pattern", "tread_depth_mm", "tread_depth_new_mm",
            "hours_run", "distance_run_km", "made_on", "repairs_before",
        )  # fmt: skip


class TyreMove(serializers.Serializer[Tyre]):
    """A move of a tyre; a fit names the machine by its row and the position on it."""

    move = serializers.ChoiceField(choices=_MOVES)
    machine = serializers.IntegerField(required=False, min_value=1, max_value=999999999)
    machine_position = serializers.CharField(required=False, max_length=20)
    why = serializers.CharField(allow_blank=True, max_length=300, default="")


class TyreSearch(serializers.Serializer[Tyre]):
    """What to look for."""

    search = serializers.CharField(required=False, max_length=60, help_text="in serial and size")


class DamageShape(serializers.ModelSerializer[Damage]):
    """An injury of a tyre [mm]."""

    noted_by = Named(slug_field="username", read_only=True)
    work_order = Named(slug_field="number", read_only=True, allow_null=True)

    class Meta:
        """The injury itself."""

        model = Damage
        fields = (
            "id", "version", "tyre", "work_order", "zone", "length_mm", "width_mm", "depth_mm", "plies",
            "source", "note", "noted_at", "noted_by",
        )  # fmt: skip


class DamageSizes(serializers.Serializer[Damage]):
    """The greatest length, width and depth [mm] and the plies cut."""

    length_mm = serializers.IntegerField(min_value=1, max_value=5000)
    width_mm = serializers.IntegerField(min_value=1, max_value=5000)
    depth_mm = serializers.IntegerField(min_value=1, max_value=500)
    plies = serializers.IntegerField(min_value=0, max_value=100, default=0)


class DamageRecord(DamageSizes):
    """A new injury, as big as it looks."""

    zone = serializers.ChoiceField(choices=[zone.value for zone in Zone])
    note = serializers.CharField(allow_blank=True, max_length=300, default="")


class DamageMeasure(DamageSizes):
    """An injury as measured after skiving."""

    why = serializers.CharField(allow_blank=True, max_length=300, default="")

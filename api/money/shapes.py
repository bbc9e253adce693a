"""Money as it is answered: amounts as decimal text, each with its currency."""

from typing import Any

from rest_framework import serializers


class MoneyShape(serializers.Serializer[Any]):
    """An amount in a currency."""

    amount = serializers.CharField()
    currency = serializers.CharField()


class CostLineShape(serializers.Serializer[Any]):
    """One line of a sheet: `quantity` ÷ `per` × `price`, rounded once."""

    kind = serializers.CharField()
    item = serializers.CharField()
    quantity = serializers.CharField()
    unit = serializers.CharField()
    price = MoneyShape()
    per = serializers.IntegerField()
    amount = MoneyShape()


class EstimateShape(serializers.Serializer[Any]):
    """The estimate of a repair at today's prices, and whose approval it needs."""

    total = MoneyShape(source="sheet.total")
    lines = CostLineShape(source="sheet.lines", many=True)
    approvals_needed = serializers.IntegerField(source="need.persons")
    approvals_missing = serializers.IntegerField(source="need.missing")


class OptionCostShape(serializers.Serializer[Any]):
    """What one option costs."""

    option = serializers.CharField(source="option.kind")
    outlay = MoneyShape(source="option.outlay")
    hours = serializers.CharField(source="option.hours")
    per_hour = MoneyShape()
    per_year = MoneyShape()


class ReasonShape(serializers.Serializer[Any]):
    """A reason in a word and a sentence."""

    code = serializers.CharField()
    message = serializers.CharField()


class ComparisonShape(serializers.Serializer[Any]):
    """Repair against new for one tyre; a person decides."""

    work_order = serializers.IntegerField(source="order.number")
    estimate = MoneyShape(source="estimate.total")
    options = OptionCostShape(source="costs", many=True)
    odds_repair_cheaper = serializers.FloatField(source="odds.repair_cheaper")
    leaning = serializers.CharField(source="advice.leaning")
    advice = serializers.CharField(source="advice.sentence")
    reasons = ReasonShape(source="advice.reasons", many=True)


class SpendApprove(serializers.Serializer[Any]):
    """A note to the approval."""

    note = serializers.CharField(allow_blank=True, max_length=300, default="")


class ApprovalShape(serializers.Serializer[Any]):
    """One person's approval of one estimate."""

    id = serializers.IntegerField()
    approver = serializers.CharField(source="approver.username")
    amount_minor = serializers.IntegerField(help_text="in the currency's smallest unit")
    approved_at = serializers.DateTimeField()
    note = serializers.CharField()


class CauseShape(serializers.Serializer[Any]):
    """The variance of one cause."""

    cause = serializers.CharField()
    amount = MoneyShape()


class MonthShape(serializers.Serializer[Any]):
    """A month of repairs; the causes add up to the variance."""

    month = serializers.DateField()
    closed = serializers.BooleanField()
    repairs = serializers.IntegerField(source="totals.repairs")
    failures = serializers.IntegerField(source="totals.failures")
    estimate = MoneyShape(source="totals.estimate")
    actual = MoneyShape(source="totals.actual")
    avoided = MoneyShape(source="totals.avoided")
    variance = MoneyShape(source="totals.variance")
    hours_gained = serializers.IntegerField(source="totals.hours_gained")
    causes = CauseShape(many=True)

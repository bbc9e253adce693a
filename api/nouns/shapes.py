"""The shape of any kind of row, from its model: related rows only of the same site."""

from functools import cache
from typing import Any

from django.db.models import QuerySet
from rest_framework import serializers

from planner.selectors.kept_nouns import noun_model, noun_rows
from planner.selectors.nouns import User


class OnSiteField(serializers.PrimaryKeyRelatedField[Any]):
    """A row named by its id, among those of the site alone."""

    def get_queryset(self) -> QuerySet[Any]:
        """The rows that may be named."""
        rows: QuerySet[Any] = vars(self)["queryset"].all()
        site = self.context.get("site")
        return rows if site is None else noun_rows(model=rows.model, site=site)


class NounShape(serializers.ModelSerializer[Any]):
    """A row as it is answered and asked for; people by their user names."""

    serializer_related_field = OnSiteField

    def build_relational_field(self, field_name: str, relation_info: Any) -> Any:
        """Users belong to no site: they are named by their user names."""
        kind, options = super().build_relational_field(field_name, relation_info)
        if relation_info.related_model is User:
            kept: dict[str, Any] = {"slug_field": "username", "queryset": User.objects.filter(is_active=True)}
            kept.update({name: options[name] for name in ("required", "allow_null") if name in options})
            return serializers.SlugRelatedField, kept
        return kind, options

    def get_validators(self) -> list[Any]:
        """None here: the service checks the whole row, for every door alike."""
        return []


@cache
def noun_shape(noun: str) -> type[NounShape]:
    """The shape of a kind, named after its model."""
    model = noun_model(noun)
    hidden = [field.name for field in model._meta.concrete_fields if field.name == "site"]
    fields: dict[str, Any] = {"model": model}
    fields |= {"exclude": hidden} if hidden else {"fields": "__all__"}
    meta = type("Meta", (), fields)
    words = f"One {model._meta.verbose_name}."
    shape: type[NounShape] = type(f"{model.__name__}Shape", (NounShape,), {"Meta": meta, "__doc__": words})
    return shape

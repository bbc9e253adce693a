"""Reading whatever an administrator keeps, by the name of its kind."""

from django.db import models
from django.db.models import QuerySet

from planner import models as nouns
from planner.domain.errors import NotFoundError
from planner.domain.permissions import Action
from planner.domain.sentences import _
from planner.models import HeaterSetPart, Site, User
from planner.selectors.access import require_on_site

PARENTS = {"heatersetfit": "heater_set", "patternbreak": "pattern", "routestage": "route"}
"""Kinds without a site of their own, and the field that leads to it."""


def noun_model(noun: str) -> type[models.Model]:
    """The model of a kind, by its name in small letters."""
    by_name = {str(getattr(nouns, name)._meta.model_name): getattr(nouns, name) for name in nouns.__all__}
    model: type[models.Model] = by_name[noun]
    return model


def noun_list(*, user: User, site: Site, noun: str) -> QuerySet[models.Model]:
    """All rows of a kind on the site, in its own order, with what they name."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    return noun_rows(model=noun_model(noun), site=site)


def noun_rows(*, model: type[models.Model], site: Site) -> QuerySet[models.Model]:
    """The rows of a model on the site; whoever asks was let in already."""
    parent = PARENTS.get(str(model._meta.model_name), "")
    rows = model._default_manager.filter(**{f"{parent}__site" if parent else "site": site})
    many = [field.name for field in model._meta.many_to_many]
    return rows.prefetch_related(*many).order_by(*(model._meta.ordering or ("pk",)), "pk")


def noun_get(*, user: User, site: Site, noun: str, row_id: int) -> models.Model:
    """One row; NotFoundError where the site has none with this id."""
    row = noun_list(user=user, site=site, noun=noun).filter(pk=row_id).first()
    if row is None:
        raise NotFoundError(
            _(
                "there is no {verbose_name} {row_id} on {site}",
                verbose_name=noun_model(noun)._meta.verbose_name,
                row_id=row_id,
                site=site,
            )
        )
    return row


def heater_set_part_get(*, user: User, site: Site, part_id: int) -> HeaterSetPart:
    """One part of a heater set; NotFoundError where the site has none with this id."""
    require_on_site(user=user, site=site, action=Action.SITE_READ)
    part = HeaterSetPart.objects.filter(site=site, pk=part_id).select_related("site", "heater_set").first()
    if part is None:
        raise NotFoundError(_("there is no part {part_id} on {site}", part_id=part_id, site=site))
    return part

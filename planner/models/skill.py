"""What a technician can do, in the site's own words."""

from django.db import models

from planner.models.base import NamedOnSite


class Skill(NamedOnSite):
    """A skill such as preparation or cure; stages and watches ask for one by its code."""

    class Meta:
        ordering = ("code",)
        constraints = [models.UniqueConstraint(fields=("site", "code"), name="skill_code_on_site")]

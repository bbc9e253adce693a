"""A cure that was worked out before: kept by its inputs, so that a plan need not wait for the model."""

from django.db import models


class CureFigure(models.Model):
    """The figures that follow from inputs with this digest. A memory, not a record: it may be emptied."""

    inputs_sha256 = models.CharField(max_length=64, primary_key=True)
    figures = models.JSONField()

    def __str__(self) -> str:
        return self.inputs_sha256[:12]

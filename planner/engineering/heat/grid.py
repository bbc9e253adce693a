"""Slabs cut into cells: capacities, conductances between neighbours, half-cell resistances at the faces."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.errors import InvalidValueError
from planner.domain.sentences import _
from planner.engineering.heat.rubber import Slab
from planner.engineering.heat.tridiagonal import FloatArray

LEAST_CELLS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A batch of slabs with the same number of cells; the first axis counts the repairs.

    `depth_m` holds the points at which temperatures are told: inside face, cell centres, outside face.
    """

    depth_m: FloatArray
    capacity_j_m2k: FloatArray
    conductance_w_m2k: FloatArray
    face_resistance_m2k_w: FloatArray

    @property
    def repairs(self) -> int:
        """How many slabs."""
        return len(self.depth_m)


def cells_share(thickness_m: FloatArray, cells: int) -> tuple[int, ...]:
    """Cells for each layer, by its greatest share of any slab's thickness (repairs, layers) [m].

    A single layer gets an odd number, so that its middle is the centre of a cell.
    """
    if thickness_m.shape[1] == 1:
        return (cells | 1,)
    shares = (thickness_m / thickness_m.sum(axis=1, keepdims=True)).max(axis=0)
    return tuple(max(LEAST_CELLS, round(cells * share)) for share in shares)


def grid_build(slabs: Sequence[Slab], *, cells: int) -> Grid:
    """Cut slabs of one kind (the same number of layers) into cells.

    Cell-centred finite volumes with resistances in series between centres, ∑ Δx/2k + contact, are second
    order in space and conserve heat exactly (Patankar, Numerical Heat Transfer, 1980, §4.2-3, from memory).

    Args:
        slabs: one for each repair.
        cells: about how many cells to use over the thickness [-].

    Returns:
        the grid of the batch.

    """
    if not slabs or len({len(slab.layers) for slab in slabs}) != 1:
        raise InvalidValueError(_("slabs solved together must have the same number of layers"))
    if not LEAST_CELLS <= cells <= 2000:
        raise InvalidValueError(_("cells must be from {least_cells} to 2000", least_cells=LEAST_CELLS))
    thickness = _table(slabs, "thickness_m")
    counts = cells_share(thickness, cells)
    width = np.repeat(thickness / np.array(counts), counts, axis=1)
    conductivity = np.repeat(_table(slabs, "conductivity_w_mk"), counts, axis=1)
    capacity = np.repeat(_table(slabs, "volume_capacity_j_m3k"), counts, axis=1) * width
    return _grid(width, conductivity, capacity, _contacts(slabs, counts))


def _table(slabs: Sequence[Slab], name: str) -> FloatArray:
    return np.array([[getattr(layer, name) for layer in slab.layers] for slab in slabs], dtype=np.float64)


def _contacts(slabs: Sequence[Slab], counts: tuple[int, ...]) -> FloatArray:
    """Contact resistance between each pair of neighbouring cells, zero inside a layer [m2K/W]."""
    table = np.zeros((len(slabs), sum(counts) - 1))
    places = np.cumsum(counts)[:-1] - 1
    for row, slab in enumerate(slabs):
        if slab.contact_m2k_w:
            table[row, places] = slab.contact_m2k_w
    return table


def _grid(width: FloatArray, conductivity: FloatArray, capacity: FloatArray, contact: FloatArray) -> Grid:
    repairs = len(conductivity)
    width, capacity = (np.broadcast_to(each, conductivity.shape) for each in (width, capacity))
    half = width / (2 * conductivity)
    edges = np.cumsum(width, axis=1)
    points = [np.zeros((repairs, 1)), edges - width / 2, edges[:, -1:]]
    return Grid(
        depth_m=np.concatenate(points, axis=1),
        capacity_j_m2k=np.ascontiguousarray(capacity),
        conductance_w_m2k=1 / (half[:, :-1] + half[:, 1:] + contact),
        face_resistance_m2k_w=np.stack([half[:, 0], half[:, -1]], axis=1),
    )

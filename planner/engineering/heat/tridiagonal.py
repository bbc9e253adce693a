"""Many symmetric tridiagonal systems solved in one call."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg.lapack import dpttrf, dpttrs

from planner.domain.errors import InternalError

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Factor:
    """A factored batch of systems: one long tridiagonal matrix whose blocks do not touch."""

    diagonal: FloatArray
    beside: FloatArray

    def solve(self, right: FloatArray) -> FloatArray:
        """The solutions for right-hand sides of shape (systems, unknowns), in the same shape."""
        solution, fault = dpttrs(self.diagonal, self.beside, right.reshape(-1, 1))
        if fault:
            raise InternalError(f"the tridiagonal solver refused its input ({fault})")
        return np.asarray(solution, dtype=np.float64).reshape(right.shape)


def factor(diagonal: FloatArray, beside: FloatArray) -> Factor:
    """Factor positive definite systems; `diagonal` (systems, n), `beside` (systems, n − 1).

    Zeros between the blocks keep the systems apart, so one LAPACK call (dpttrf, L·D·Lᵀ) serves them all.
    """
    systems = diagonal.shape[0]
    joined = np.concatenate([beside, np.zeros((systems, 1))], axis=1).reshape(-1)[:-1]
    pivots, factors, fault = dpttrf(diagonal.reshape(-1), joined)
    if fault:
        raise InternalError(f"the conduction matrix is not positive definite ({fault})")
    return Factor(np.asarray(pivots, dtype=np.float64), np.asarray(factors, dtype=np.float64))

"""How fast a compound cures at a temperature, against its rate at a reference temperature."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from planner.engineering.heat.tridiagonal import FloatArray
from planner.engineering.limits import Limits

GAS_CONSTANT_J_MOLK = 8.314462618
"""R [J/molK]; CODATA 2018."""

ZERO_CELSIUS_K = 273.15
REFERENCE = Limits(60.0, 220.0, "°C")
ACTIVATION_ENERGY = Limits(20_000.0, 300_000.0, "J/mol")
TEN_DEGREE_FACTOR = Limits(1.1, 12.0, "")


class CureLaw(Protocol):
    """A law of cure: one equivalent minute for each minute at its reference temperature."""

    def rate(self, temperature_c: FloatArray) -> FloatArray:
        """Equivalent minutes in one minute at each temperature [°C] → [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrhenius:
    """Rate exp[−(Ea/R)(1/T − 1/Tref)], T in kelvin.

    Args:
        reference_c: temperature at which one minute counts one [°C].
        activation_energy_j_mol: Ea, of this compound by its maker or a curemeter [J/mol].

    Source: Arrhenius rate, standard rubber texts, from memory; published activation energies of natural
    rubber differ (79.3 kJ/mol, J. Appl. Polym. Sci. 101:580, 2006; about 129.7, ibid. 19, 1975), so there
    is no default.

    >>> law = Arrhenius(reference_c=140, activation_energy_j_mol=100_000)
    >>> round(float(law.rate(np.array(130.0))), 4)
    0.4857

    """

    reference_c: float
    activation_energy_j_mol: float

    def __post_init__(self) -> None:
        REFERENCE.check("reference temperature", self.reference_c)
        ACTIVATION_ENERGY.check("activation energy", self.activation_energy_j_mol)

    def rate(self, temperature_c: FloatArray) -> FloatArray:
        """Equivalent minutes in one minute at each temperature [°C] → [-]."""
        kelvin = self.activation_energy_j_mol / GAS_CONSTANT_J_MOLK
        inverse = 1 / (np.asarray(temperature_c, dtype=np.float64) + ZERO_CELSIUS_K)
        rate: FloatArray = np.exp(kelvin * (1 / (self.reference_c + ZERO_CELSIUS_K) - inverse))
        return rate


@dataclass(frozen=True, slots=True, kw_only=True)
class TenDegreeRule:
    """Rate Q10^((T − Tref)/10).

    Args:
        reference_c: temperature at which one minute counts one [°C].
        factor: Q10, how many times faster for 10 °C more [-].

    Source: standard rubber texts, from memory; worked example in Geankoplis, Transport Processes and Unit
    Operations, Ex. 9.12-1 (with Q10 = 10).

    >>> float(TenDegreeRule(reference_c=140, factor=2).rate(np.array(120.0)))
    0.25

    """

    reference_c: float
    factor: float

    def __post_init__(self) -> None:
        REFERENCE.check("reference temperature", self.reference_c)
        TEN_DEGREE_FACTOR.check("ten degree factor", self.factor)

    def rate(self, temperature_c: FloatArray) -> FloatArray:
        """Equivalent minutes in one minute at each temperature [°C] → [-]."""
        above = np.asarray(temperature_c, dtype=np.float64) - self.reference_c
        rate: FloatArray = np.exp(np.log(self.factor) / 10 * above)
        return rate

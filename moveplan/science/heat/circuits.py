"""What a circuit gives for hours.  Planning support: rating plates, local codes and a licensed electrician win."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from moveplan.science.limits import KnownAs
from moveplan.science.numbers import Number
from moveplan.science.ranges import ranged
from moveplan.science.tables import table


@dataclass(frozen=True, slots=True)
class Circuit:
    """One kind of circuit.

    Parameters
    ----------
    name, meaning : str
        Key and description. [-]
    circuit_v : float
        Voltage. [V]
    circuit_a : float
        Rating. [A]
    continuous_share : float
        Share of the rating that it may carry for more than three hours. [-]
    source : str
        Where that share comes from. [-]
    known_as : KnownAs
        How well it is known. [-]
    """

    name: str
    meaning: str
    circuit_v: float
    circuit_a: float
    continuous_share: float
    source: str
    known_as: KnownAs

    @property
    def continuous_w(self) -> float:
        """Power for hours, everything on the circuit together. [W]."""
        return continuous_w(self.circuit_v, self.circuit_a, self.continuous_share)


@cache
def circuits() -> Mapping[str, Circuit]:
    """Every kind of circuit by name (data/circuits.toml).

    >>> circuits()["120-v-15-a"].continuous_w
    1440.0
    """
    return MappingProxyType(
        {
            name: Circuit(
                name,
                row["meaning"],
                float(row["volts"]),
                float(row["amps"]),
                float(row["share"]),
                row["source"],
                KnownAs(row["known_as"]),
            )
            for name, row in table("circuits").items()
        }
    )


@ranged
def continuous_w(circuit_v: Number, circuit_a: Number, continuous_share: Number | float = 0.8) -> Number:
    """Power that a circuit may carry for more than three hours, everything on it together.

    Parameters
    ----------
    circuit_v : float or array
        Voltage. [V]
    circuit_a : float or array
        Rating of its weakest part: breaker, fuse, plug, cable. [A]
    continuous_share : float or array
        Share that it may carry for hours. [-]

    Returns
    -------
    float or array
        Power. [W]

    References
    ----------
    The 80 % rule for loads of more than three hours, NEC (NFPA 70) article 210.20 (recalled; the code counts the load
    as 125 %); taken over for other countries as a policy.

    Examples
    --------
    >>> continuous_w(120.0, 20.0)
    1920.0
    """
    return circuit_v * circuit_a * continuous_share

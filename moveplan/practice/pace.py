"""How fast this crew works, as it was learnt from an earlier plan; one where nothing was."""

from __future__ import annotations

from dataclasses import replace

from moveplan.estimate import Estimate
from moveplan.quantities.policy import Policy


def paced(estimate: Estimate, policy: Policy, *, moving_day: bool) -> Estimate:
    """Stretch the duration of work to the pace of the crew.

    Parameters
    ----------
    estimate : Estimate
        Duration at the usual pace. [min]
    policy : Policy
        ``pace_moving_day`` and ``pace_other_work``.
    moving_day : bool
        Whether it is work of a moving day.

    Examples
    --------
    >>> usual = Estimate(20, 30, 60, "min", "a list")
    >>> slower = paced(usual, Policy({"pace_other_work": 1.5}), moving_day=False)
    >>> slower.likely, slower.basis
    (45.0, 'a list; 1.5 times as long, as this crew took before')
    >>> paced(usual, Policy({}), moving_day=True) == usual
    True
    """
    factor = policy["pace_moving_day" if moving_day else "pace_other_work"]
    if factor == 1.0:
        return estimate
    return replace(
        estimate,
        low=estimate.low * factor,
        likely=estimate.likely * factor,
        high=estimate.high * factor,
        basis=f"{estimate.basis}; {factor:g} times as long, as this crew took before",
    )

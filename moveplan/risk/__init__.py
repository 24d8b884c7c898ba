"""How sure it is: the simulated schedule and the register of what can go wrong.

Answers: how likely is each date, which animals are at risk, by when must each long lead start? May import
``practice`` and all below. numpy is imported by the simulation only. Start reading in ``assess.py``.
"""

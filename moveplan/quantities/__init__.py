"""How much, how heavy, how long, and how long safe: plan and science made into estimates.

Answers: how much water, rock, salt and weight; how many containers; how long is each animal safe in each; how
long does each piece of work take? Every result is an ``Estimate`` that names its basis and source. May import
``plan``, ``science`` and the small shared types.
"""

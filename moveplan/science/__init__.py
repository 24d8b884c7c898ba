"""Physics, chemistry and biology of moving a reef aquarium: pure functions, no plan, no dates.

Start with :mod:`~moveplan.science.ranges` (what each argument means and where it may be trusted) and then
the subject: ``seawater``, ``salt``, ``heat``, ``cooling``, ``gas``, ``carbonate``, ``respiration``,
``ammonia``, ``transit`` (how long animals are safe in a container), ``nitrification`` (loads and capacity),
``cycling`` (growth of a filter), ``water`` (dilution), ``acclimation``, ``purified_water``, ``flow``, ``loads``,
``lifting``, ``travel``, ``livestock`` (kinds of animals) and ``limits`` (limits and defaults with their sources).
Heat on the way: ``vessels`` and ``walls`` (containers), ``outside_air`` and ``vehicle_air``
(what is around them), ``temperature_path`` (where that leads) and ``circuits`` (what heating needs).
``oxygen_limits`` holds at any altitude.

Every function takes floats or numpy arrays, names its units, refuses what lies outside its range
(:class:`moveplan.errors.OutOfRangeError`) and cites its source.  Planning support only: no veterinary,
structural, electrical or medical advice.
"""

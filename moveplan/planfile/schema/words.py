"""Words that a plan file chooses from."""

from __future__ import annotations

import re

LIKELY = "likely"
"""Written as a confidence: what half of the runs keep."""
PURPOSES = ("house-move", "larger-tank", "house-move-larger-tank", "shut-down", "own-tasks")
WAYS = ("same-day", "hold-over", "new-tank-ahead", "same-spot", "shut-down")
UNITS = ("metric", "us")
FLOOR_KINDS = ("slab", "suspended")
ROLES = ("display", "quarantine", "frag", "holding")
MATERIALS = ("glass", "acrylic")
OLD_SAND = ("keep", "rinse", "replace")
SPOTS = ("same", "other")
SEEDINGS = ("bare", "light", "rock", "rock-and-media")
EQUIPMENT_KINDS = (
    "heater",
    "return-pump",
    "circulation-pump",
    "skimmer",
    "light",
    "top-up",
    "dosing",
    "reactor",
    "uv",
    "ozone",
    "chiller",
    "controller",
    "other",
)
OWNERS = ("firm", "client")
"""Whose gear it is, where a firm plans the move among others."""
GEAR_KINDS = (
    "tub",
    "pail",
    "can",
    "box",
    "bag",
    "heater",
    "air-pump",
    "mains-air-pump",
    "pump",
    "hose",
    "oxygen",
    "wrap",
    "lifters",
    "straps",
    "dolly",
    "ice-bottle",
    "other",
)
GEAR_ALSO = {"bucket": "pail"}
"""Other words for kinds of gear, read as these."""
CONTAINERS = ("tub", "pail", "bag")
LOAD_SPACE_AIRS = ("plain", "heated", "cooled")
PARKINGS = ("shade", "sun")
TEMPERAMENTS = ("timid", "peaceful", "territorial", "predator")
ANIMAL_GROUPS = ("fish", "corals", "invertebrates")
RELATIONS = ("FINISHTOSTART", "STARTTOSTART", "FINISHTOFINISH", "STARTTOFINISH")

COUNTRY_CODE = re.compile("[A-Z]{2}")
CURRENCY_CODE = re.compile("[A-Z]{3}")
LOCALE_NAME = re.compile("[a-z]{2,3}(_[A-Z][a-z]{3})?(_[A-Z]{2})?")
QUANTILES = re.compile("P([0-9]{1,2})-P([0-9]{1,2})")

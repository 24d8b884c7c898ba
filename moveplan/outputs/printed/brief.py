"""Long names where there is room for short ones only; whole they stand at the head or in the list of numbers."""

from __future__ import annotations

import unicodedata

LONG = 40
"""Names of so many characters stay whole: most are shorter, and a gap in them would only be in the way. Chosen. [-]"""
LEFT = 14
"""What is left of a longer one in a line of a run sheet, or in the margin of paper. Chosen. [-]"""


def brief(text: str, left: int = LEFT) -> str:
    """Leave the middle out of a text that is long, so that names that begin alike are still told apart.

    >>> brief("Hired long van"), brief("Upper house behind the mill, second door, flat 4")
    ('Hired long van', 'Upper…flat 4')
    """
    if len(text) <= max(LONG, left):
        return text
    begin, end = (left - 1) // 2, len(text) - left // 2
    while end < len(text) and unicodedata.combining(text[end]):
        end += 1
    return f"{text[:begin].rstrip()}…{text[end:].lstrip()}"

"""Reads the text of a phone by what the guide says of it, with nothing of the program."""

from __future__ import annotations

import binascii
from collections.abc import Iterator, Mapping, Sequence

LETTERS = {
    **dict.fromkeys("bc", "begun"),
    **dict.fromkeys("de", "done"),
    **dict.fromkeys("mn", "met"),
    **dict.fromkeys("pq", "not-met"),
    **dict.fromkeys("st", "lid-on"),
    **dict.fromkeys("or", "lid-off"),
    **dict.fromkeys("al", "topped-up"),
    **dict.fromkeys("uv", "air-on"),
    **dict.fromkeys("wx", "air-off"),
    **dict.fromkeys("yz", "moved"),
    **dict.fromkeys("fg", "read"),
    **dict.fromkeys("hi", "failed"),
    **dict.fromkeys("jk", "works"),
    **dict.fromkeys("01", "lost"),
    **dict.fromkeys("23", "added"),
    **dict.fromkeys("45", "noted"),
    **dict.fromkeys("67", "read-in"),
}
SECOND = "cenqtrlvxzgik1357"
"""Letters of what was taken back."""


def parsed(
    text: str, names: Mapping[str, Sequence[str]], people: Sequence[str]
) -> Iterator[tuple[int, str, str, int, str, bool]]:
    """Give each record: minute, kind, name, number, person, whether it was taken back.

    Parameters
    ----------
    text : str
        As it was copied.
    names : mapping of str to sequence of str
        What each kind of record names, in the order of the guide.
    people : sequence of str
        Ids, sorted.
    """
    body, said = text[:-7], text[-7:]
    assert int(said, 36) == binascii.crc32(body.encode()), "the sum is another"
    head, _key, *blocks, rest = body.split("-")
    assert (head, rest) == ("mp2", "")
    for minute, rows in zip(blocks[::2], blocks[1::2], strict=True):
        while rows:
            row, rows = rows[:8], rows[8:]
            kind = LETTERS[row[0]]
            number, at = divmod(int(row[1:4], 36), len(names[kind]))
            when = int(minute, 36) + int(row[4:7], 36)
            yield when, kind, names[kind][at], number, people[int(row[7], 36)], row[0] in SECOND

"""Answers of the interview that say several things at once: keys, lifts, fillings, roles, gear, the vehicle."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from moveplan.near import nearest
from moveplan.planfile.problems import listed
from moveplan.planfile.replies.rows import each_part
from moveplan.planfile.schema.leaves import Leaf, Number, Quantity
from moveplan.planfile.schema.refusals import Refusal, RefusedError, each, refusal
from moveplan.planfile.schema.when import MomentLeaf
from moveplan.planfile.schema.words import GEAR_ALSO, GEAR_KINDS
from moveplan.units import quoted

USUAL, NONE_YET, UNKNOWN = "as usual", "none", "not known"
"""Answers that say nothing, so that the plan says nothing either."""
_SAYS_NOTHING = frozenset(
    {"as usual", "usual", "none", "none yet", "nothing", "no", "not known", "unknown", "-", "?"}
)
_BARE = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_PARTS = re.compile(r"\s*[,;]\s*|\s+and\s+")
_FILLINGS = {"rock": ("kg", "lb"), "sand": ("kg", "lb"), "sump": ("l", "US gal")}
"""What is asked of a tank, with the units of a number alone, metric and US."""
_ROLES = {
    "drives": ("drives", "drive", "driver", "driving"),
    "cares": ("animals", "cares", "care", "handles animals", "fish"),
    "lifts": ("lifts", "lift", "lifting", "carries", "carry"),
}
_MEASURES = {
    **dict.fromkeys(("tub", "box", "bag", "pail", "can"), ("volume", "l", "US gal")),
    "heater": ("power", "W", "W"),
    "air-pump": ("battery", "h", "h"),
    "pump": ("flow", "l/h", "US gal/h"),
}
"""What a size says of a kind of gear, with the units of a number alone."""
_SIZES: Mapping[str, Leaf[float]] = {
    "volume": Quantity("l", 0, 5000, "60 l"),
    "power": Quantity("W", 0, 20_000, "300 W"),
    "battery": Quantity("h", 0, 2000, "12 h"),
    "flow": Quantity("l/h", 0, 100_000, "2000 l/h"),
}
_GEAR = re.compile(
    r"(?:(?P<count>[0-9]{1,5})\s*[x×]?\s+)?(?P<kind>[^0-9]+?)(?:\s+(?:of\s+)?(?P<size>[0-9].*))?"
)
_VAN = re.compile(
    r"(?:(?P<whose>hired|hire|rented|own|borrowed|mine)\b[\s,:]*)?(?P<payload>.*)", re.IGNORECASE
)
_HIRED = frozenset({"hired", "hire", "rented"})
_PAYLOAD = Quantity("kg", 50, 40_000, "1100 kg")


@dataclass(frozen=True, slots=True)
class Gear:
    """Things of one kind, as they are written into the file; ``key`` names what ``size`` says."""

    id: str
    kind: str
    count: str
    key: str
    size: str


def says_nothing(text: str) -> bool:
    """Tell whether an answer leaves it to the program.

    >>> says_nothing("As usual"), says_nothing("30 kg rock")
    (True, False)
    """
    return text.strip().casefold() in _SAYS_NOTHING


def keys_in(text: str) -> tuple[str, str]:
    """Read when the new home may be entered and when the old one must be empty; empty where it is not known.

    >>> keys_in("2027-03-12 18:00, -")
    ('2027-03-12 18:00', '')
    """
    if says_nothing(text):
        return "", ""
    parts = [part.strip() for part in re.split(r",|\bto\b|\band\b", text)]
    if len(parts) > len(("new", "old")):
        raise refusal(
            f"{quoted(text)} is more than two times", 'write for example "2027-03-12 18:00, 2027-03-14"'
        )
    first, second = (*parts, "")[:2]
    entered, empty = "" if says_nothing(first) else first, "" if says_nothing(second) else second
    if entered:
        MomentLeaf().read(entered)
    if empty:
        MomentLeaf(end=True).read(empty)
    return entered, empty


def fillings_in(text: str, units: str = "metric") -> Mapping[str, str]:
    """Read rock, sand and sump; those that are not said are left out.

    >>> dict(fillings_in("30 kg rock, sand 20, no sump"))
    {'rock': '30 kg', 'sand': '20 kg', 'sump': '0 l'}
    """
    if says_nothing(text):
        return {}
    return dict(
        each_part(lambda part: _filling(part, units), [part for part in _PARTS.split(text) if part.strip()])
    )


def _filling(text: str, units: str) -> tuple[str, str]:
    word = next((name for name in _FILLINGS if re.search(rf"\b{name}\b", text, re.IGNORECASE)), "")
    if not word:
        raise RefusedError(
            (
                Refusal(
                    f"{quoted(text)} does not say of what",
                    'write for example "30 kg rock, 20 kg sand, 60 l sump"',
                    around=f"{text} {{}}",
                ),
            )
        )
    rest = re.sub(rf"\b(?:of\s+)?(?:live\s+)?{word}\b", "", text, flags=re.IGNORECASE).strip(" :")
    unit = _FILLINGS[word][units == "us"]
    amount = "0" if rest.casefold() in {"no", "none", "without"} else rest
    whole = f"{amount} {unit}" if _BARE.fullmatch(amount) else amount
    Quantity("l" if word == "sump" else "kg", 0, 100_000, f"30 {unit}").read(whole)
    return word, whole


def roles_in(text: str, people: Sequence[str]) -> tuple[frozenset[str], ...]:
    """Read who does what: a set of ``drives``, ``cares`` and ``lifts`` for each of the people.

    >>> [sorted(one) for one in roles_in("Me: drives, animals; Tom: lifts", ["Me", "Tom"])]
    [['cares', 'drives'], ['lifts']]
    """
    named = [_without_marks(name) for name in people]
    parts = [part.strip() for part in text.split(";") if part.strip()]
    found = dict(each_part(lambda part: _roles_of(part, named), parts, "; "))
    return tuple(found.get(name, frozenset()) for name in named)


def _roles_of(text: str, people: Sequence[str]) -> tuple[str, frozenset[str]]:
    name, mark, said = text.partition(":")
    person = _person(name.strip(), people, said)
    if not mark:
        raise refusal(f"{quoted(text)} has no colon after the name", f'write for example "{person}: lifts"')
    return person, frozenset(each(_role, [word for word in _PARTS.split(said.strip()) if word]))


def _without_marks(name: str) -> str:
    """Leave out of a name what parts an answer."""
    return " ".join(re.sub("[:;]", " ", name).split())


def _person(name: str, people: Sequence[str], said: str) -> str:
    known = {one.casefold(): one for one in people}
    if name.casefold() in known:
        return known[name.casefold()]
    near = known.get(nearest(name, known))
    remedy = f'did you mean "{near}"?' if near else f"write {listed(people)}"
    instead = (f"{near}: {said.strip()}",) if near else ()
    raise RefusedError((Refusal(f"nobody is called {quoted(name)}", remedy, instead=instead),))


def _role(word: str) -> str:
    for role, names in _ROLES.items():
        if word.strip().casefold() in names:
            return role
    raise refusal(f"{quoted(word)} is nothing that is asked for", "write drives, animals or lifts")


def usual_roles(people: Sequence[str]) -> str:
    """Say what is assumed of people whose roles nobody told: the first does all, the second carries.

    >>> usual_roles(["Me", "Tom", "Bea"])
    'Me: drives, animals, lifts; Tom: lifts; Bea: animals, lifts'
    """
    said = ["drives, animals, lifts", "lifts", *["animals, lifts"] * len(people)]
    return "; ".join(f"{_without_marks(name)}: {does}" for name, does in zip(people, said, strict=False))


def gear_in(text: str, units: str = "metric") -> tuple[Gear, ...]:
    """Read what gear is there.

    >>> [(one.id, one.kind, one.count, one.size) for one in gear_in("8 tubs 60, 2 air pumps")]
    [('tubs', 'tub', '8', '60 l'), ('air-pumps', 'air-pump', '2', '')]
    """
    if says_nothing(text):
        return ()
    parts = [part.strip() for part in text.split(",") if part.strip()]
    rows = each_part(lambda part: _gear(part, units), parts)
    return tuple(_numbered(rows))


def _gear(text: str, units: str) -> Gear:
    parts = _GEAR.fullmatch(text)
    if parts is None:
        raise refusal(f"{quoted(text)} is not a count and a thing", 'write for example "8 tubs 60 l"')
    kind = _gear_kind(parts)
    Number(1, 100_000, "2", whole=True).read(parts["count"] or "1")
    key, *named = _MEASURES.get(kind, ("", "", ""))
    size = parts["size"] or ""
    if size and not key:
        raise refusal(f"a size says nothing of a {kind}", f'write for example "{parts["count"] or 1} {kind}"')
    if size:
        size = f"{size} {named[units == 'us']}" if _BARE.fullmatch(size) else size
        _SIZES[key].read(size)
    plural = kind if kind.endswith("s") else f"{kind}es" if kind.endswith("x") else f"{kind}s"
    return Gear(plural, kind, parts["count"] or "1", key, size)


def _gear_kind(parts: re.Match[str]) -> str:
    word = parts["kind"].strip()
    plain = word.casefold().replace(" ", "-")
    known = {kind: kind for kind in GEAR_KINDS} | dict(GEAR_ALSO)
    for form in (
        plain,
        plain.removesuffix("s"),
        plain.removesuffix("es"),
        plain.replace("-", " ").removesuffix("s"),
    ):
        if form in known:
            return known[form]
    near = nearest(plain.removesuffix("s"), known)
    remedy = f'did you mean "{near}"?' if near else f"write one of: {listed(GEAR_KINDS, 20)}"
    instead = (" ".join(filter(None, (parts["count"], near, parts["size"]))),) if near else ()
    raise RefusedError((Refusal(f"no gear is called {quoted(word)}", remedy, instead=instead),))


def _numbered(rows: Sequence[Gear]) -> Iterator[Gear]:
    seen: dict[str, int] = {}
    for row in rows:
        seen[row.id] = seen.get(row.id, 0) + 1
        name = row.id if seen[row.id] == 1 else f"{row.id}-{seen[row.id]}"
        yield Gear(name, row.kind, row.count, row.key, row.size)


def van_in(text: str, units: str = "metric") -> tuple[str, str]:
    """Read whose the vehicle is, as ``hired`` of the plan file, empty where it is not said, and its payload.

    >>> van_in("hired, 1000"), van_in("2200 lb")
    (('yes', '1000 kg'), ('', '2200 lb'))
    """
    parts = _VAN.fullmatch(text.strip())
    whose, payload = (parts["whose"] or "", parts["payload"].replace(",", "")) if parts else ("", text)
    whole = f"{payload} {'lb' if units == 'us' else 'kg'}" if _BARE.fullmatch(payload.strip()) else payload
    _PAYLOAD.read(whole)
    return ("" if not whose else "yes" if whose.casefold() in _HIRED else "no"), whole.strip()

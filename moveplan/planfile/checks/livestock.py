"""Animals are of known kinds, and no more leave than live."""

from __future__ import annotations

from collections.abc import Iterator

from moveplan.planfile.checks.words import at
from moveplan.planfile.draft import Draft
from moveplan.planfile.problems import Fault
from moveplan.units import quoted

_GENERAL = ("clownfish", "goby", "snail", "cleaner-shrimp", "soft-coral", "large-polyp-coral")


def kinds_are_known(draft: Draft) -> Iterator[Fault]:
    """Refuse kinds that are not in the table of kinds."""
    if not draft.entry.livestock:
        return
    from moveplan.science.animals.kind_names import UnknownKindError, kind_named

    for animal_id, animals in draft.entry.livestock.items():
        try:
            kind_named(animals.kind[:80], draft.kinds)
        except UnknownKindError as error:
            names = " or ".join(f'"{name}"' for name in error.nearest)
            remedy = f"did you mean {names}?" if names else f"write a kind such as {', '.join(_GENERAL)}"
            message = f"no kind of animal is called {quoted(animals.kind)}"
            yield at(draft, ("livestock", animal_id, "kind"), message, remedy)


def no_more_leave_than_live(draft: Draft) -> Iterator[Fault]:
    """Count those that leave and those that are ill among those that live there."""
    for animal_id, animals in (draft.entry.livestock or {}).items():
        path = ("livestock", animal_id)
        count, leaves, sick = animals.count or 1, animals.leaves or 0, animals.sick or 0
        for key, number, word in (("leaves", leaves, "leave"), ("sick", sick, "are ill")):
            if number > count:
                yield at(
                    draft,
                    (*path, key),
                    f"{number} {word} but only {count} live there",
                    f'write "{count}" or less',
                )
        if max(leaves, sick) <= count < leaves + sick:
            message = f"{leaves} leave and {sick} are ill, but only {count} live there"
            yield at(draft, (*path, "sick"), message, f'write "{count - leaves}" or less')

"""Rules between entries and sections; each a small function that yields what is wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from moveplan.planfile.checks import dates, entries, heads, meant, references, sizes, tasks
from moveplan.planfile.draft import Draft
from moveplan.planfile.problems import Fault

Check = Callable[[Draft], Iterable[Fault]]

CHECKS: tuple[Check, ...] = (
    heads.title_is_there,
    heads.sections_fit_the_purpose,
    heads.zone_is_known,
    heads.money_is_in_one_currency,
    heads.purpose_fits_the_tanks,
    heads.something_is_moved,
    references.systems_stand_somewhere,
    references.livestock_lives_somewhere,
    references.people_start_somewhere,
    references.boarding_is_somewhere,
    references.drives_join_places,
    references.tasks_use_what_is_there,
    entries.warmest_is_not_colder,
    sizes.people_could_keep_it,
    sizes.panes_leave_room,
    sizes.water_stays_below_the_rim,
    entries.kinds_are_known,
    entries.no_more_leave_than_live,
    meant.sizes_of_animals,
    meant.counts_of_animals,
    meant.fillings_of_tanks,
    dates.move_day_is_named_once,
    dates.dates_are_in_order,
    dates.move_is_not_over,
    dates.clocks_show_the_times,
    dates.hires_and_openings_end_after_they_begin,
    heads.limits_are_known,
    entries.risks_say_something,
    tasks.nothing_waits_for_itself,
)


def crosschecked(draft: Draft) -> Iterator[Fault]:
    """Run every rule on the sound entries of a plan file.

    Parameters
    ----------
    draft : Draft
        The plan file.
    """
    for check in CHECKS:
        yield from filter(draft.is_true, check(draft))

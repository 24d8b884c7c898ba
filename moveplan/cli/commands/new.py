"""``moveplan new``: an interview, or answers as options, and a commented plan file from them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

import typer
from typer.models import OptionInfo


def _examples(begun: str) -> list[str]:
    from moveplan.cli.starting.like import to_copy

    return [name for name in to_copy() if name.startswith(begun)]


def _answer(text: str, metavar: str) -> OptionInfo:
    option: OptionInfo = typer.Option(help=text, metavar=metavar, show_default=False)
    return option


File = Annotated[Path, typer.Argument(help="The plan file to write.", metavar="FILE")]
Like = Annotated[
    str,
    typer.Option(
        help="Start from an example, or from an old plan of yours, instead of questions. Dates move along.",
        metavar="NAME|PLAN",
        show_default=False,
        autocompletion=_examples,
    ),
]
NoQuestions = Annotated[
    bool,
    typer.Option("--no-questions", help="Ask nothing: take the options, and usual answers for the rest."),
]
Form = Annotated[
    Path | None,
    typer.Option(
        help="Write a form to fill in with a browser instead of asking; it works offline, and saves the plan file.",
        metavar="FORM.html",
        show_default=False,
    ),
]
OfFirm = Annotated[
    bool,
    typer.Option(
        "--firm", help="Write a firm file whose jobs are the plans beside it, and in the folder jobs."
    ),
]
Force = Annotated[bool, typer.Option("--force", help="Write over a file that is there.")]


def _given(options: Mapping[str, str]) -> dict[str, str]:
    return {key: text for key, text in options.items() if text}


def new(
    file: File = Path("plan.yaml"),
    like: Like = "",
    form: Form = None,
    no_questions: NoQuestions = False,
    force: Force = False,
    firm: OfFirm = False,
    title: Annotated[str, _answer("What the plan is called.", "TEXT")] = "",
    purpose: Annotated[
        str, _answer("house-move, larger-tank, house-move-larger-tank or shut-down.", "WORD")
    ] = "",
    timezone: Annotated[str, _answer("Time zone, such as Europe/Dublin.", "ZONE")] = "",
    units: Annotated[str, _answer("metric or us.", "WORD")] = "",
    move_day: Annotated[str, _answer("The day of the move.", "DATE")] = "",
    restart_day: Annotated[str, _answer("From which day a shut-down tank is set up again.", "DATE")] = "",
    distance: Annotated[str, _answer("To the new home, by road.", "'20 km'")] = "",
    keys: Annotated[str, _answer("New home from, old home empty by.", "'2027-03-12 18:00, 2027-03-14'")] = "",
    lift: Annotated[str, _answer("Where a lift carries the tank: none, old, new or both.", "WORD")] = "",
    contents: Annotated[
        str, _answer("Rock, sand and water in the sump.", "'30 kg rock, 20 kg sand, 60 l sump'")
    ] = "",
    roles: Annotated[
        str, _answer("Who drives, handles animals, lifts.", "'Ines: drives, animals; Tom: lifts'")
    ] = "",
    gear: Annotated[str, _answer("What there is.", "'8 tubs 60 l, 2 heaters 300 W'")] = "",
    old_floor: Annotated[str, _answer("Floor on which the tank stands.", "N")] = "",
    new_floor: Annotated[str, _answer("Floor in the new home.", "N")] = "",
    tank: Annotated[str, _answer("Outer length x width x height.", "'120 x 60 x 55 cm'")] = "",
    new_tank: Annotated[
        str, _answer("Outer length x width x height of the new tank.", "'150 x 60 x 60 cm'")
    ] = "",
    spot: Annotated[str, _answer("same or other, for the new tank.", "WORD")] = "",
    delivery: Annotated[str, _answer("From order to delivery of the new tank.", "'6 weeks'")] = "",
    animals: Annotated[str, _answer("Counts and kinds.", "'2 clownfish, 10 snails'")] = "",
    people: Annotated[str, _answer("Names, the keeper first.", "'Ines, Tom'")] = "",
    payload: Annotated[str, _answer("Hired or own, and what it may carry.", "'hired, 1000 kg'")] = "",
    water: Annotated[str, _answer("Output of the purified-water unit.", "'190 l/day'")] = "",
) -> None:
    """Ask a few questions and write a commented plan file that builds at once.

    Answers given as options are not asked for. In the interview, < goes a step back, and quit keeps the answers
    for later. With --form, a plan that is there already is filled in.

    Example: moveplan new my_move.yaml
    """
    from moveplan.cli.starting import answers as starting

    if form is not None:
        starting.refuse_what_is_there(form, force=force)
        starting.write_form(form, file)
        return
    given = _given(
        {
            "title": title,
            "purpose": purpose,
            "timezone": timezone,
            "units": units,
            "move-day": move_day,
            "restart-day": restart_day,
            "distance": distance,
            "keys": keys,
            "lift": lift,
            "contents": contents,
            "roles": roles,
            "gear": gear,
            "old-floor": old_floor,
            "new-floor": new_floor,
            "tank": tank,
            "new-tank": new_tank,
            "spot": spot,
            "delivery": delivery,
            "animals": animals,
            "people": people,
            "payload": payload,
            "water": water,
        }
    )
    starting.refuse_what_is_there(file, force=force)
    if firm:
        from moveplan.cli.commands.firms import new_firm

        new_firm(file, title)
        return
    if like:
        from moveplan.cli.starting.like import bring_along, like_plan

        made = like_plan(like, given)
        bring_along(made.beside, like, file.parent)
        starting.write(file, made.text, made.invented)
    else:
        starting.write(file, starting.from_answers(file, given, asking=not no_questions))
        starting.forget(file)

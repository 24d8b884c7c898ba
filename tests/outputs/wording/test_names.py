from __future__ import annotations

from moveplan.outputs.wording.names import Names
from tests.outputs.scene import moving_day


def test_names_stand_for_ids_and_an_unknown_id_for_itself() -> None:
    names = Names(moving_day().project)
    assert names.people(["per", "una", "nobody"]) == "Per Olin, Una Harte, nobody"
    assert names.vehicles(["van"]) == "Hired long van"
    assert (names.place("quarry"), names.place("")) == ("Quarry Rise", "")
    assert names.gear("tubs") == "Lidded 60 l tubs"

"""Names as documents show them: what stands behind the ids of people, vehicles, places and gear."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from moveplan.practice.project import Project


@dataclass(frozen=True, slots=True)
class Names:
    """Prints the names of one project; an id that nothing stands behind is printed as it is.

    Parameters
    ----------
    project : Project
        Where the names come from.
    """

    project: Project

    def people(self, ids: Iterable[str]) -> str:
        """Print the names of people.

        Parameters
        ----------
        ids : iterable of str
            Ids of people.
        """
        names = {person.id: person.name for person in self.project.scheduling.people}
        return ", ".join(names.get(key, key) for key in ids)

    def vehicles(self, ids: Iterable[str]) -> str:
        """Print the names of vehicles.

        Parameters
        ----------
        ids : iterable of str
            Ids of vehicles.
        """
        names = {vehicle.id: vehicle.name for vehicle in self.project.scheduling.vehicles}
        return ", ".join(names.get(key, key) for key in ids)

    def place(self, place_id: str) -> str:
        """Print the name of a place; empty where it is anywhere.

        Parameters
        ----------
        place_id : str
            Id of a place, or empty.
        """
        names = {place.id: place.name for place in self.project.plan.places}
        return names.get(place_id, place_id)

    def gear(self, gear_id: str) -> str:
        """Print the name of a kind of gear."""
        names = {gear.id: gear.name for gear in self.project.scheduling.gear}
        return names.get(gear_id, gear_id)

    def animals(self, livestock_id: str) -> str:
        """Print the name of a group of animals.

        Parameters
        ----------
        livestock_id : str
            Id of the group.
        """
        names = {route.livestock: route.name for route in self.project.routes}
        return names.get(livestock_id, livestock_id)

    def filters(self) -> dict[str, Callable[..., str]]:
        """Give the printing functions by the names that templates use."""
        names = "people vehicles place gear animals"
        return {name: getattr(self, name) for name in names.split()}

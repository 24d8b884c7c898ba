"""Where animals are and how much safe time is left there, as a picture: values in pixels."""

from __future__ import annotations

from dataclasses import dataclass

from moveplan.outputs.figures.scale import Mark, Scale
from moveplan.outputs.livestock import DatedRoute


@dataclass(frozen=True, slots=True)
class Lane:
    """One place; animals in containers and in a filtered system of one place have a lane each.

    Parameters
    ----------
    number : int
        Counted from 1; the places are named by it above the picture.
    where, system : str
        The place, and the filtered system in it; no system: in closed containers.
    x, width : float
        Left edge and width. [px]
    """

    number: int

    where: str
    system: str
    x: float
    width: float


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of ribbon in one lane.

    Parameters
    ----------
    x : float
        Middle line. [px]
    y0, y1 : float
        From arriving to leaving. [px]
    w0, w1 : float
        Width there: the share of safe time that is left. [px]
    closed : bool
        Whether it is in an unfiltered container.
    over : bool
        Whether it is past the low end of its safe time.
    left : str
        Time left where the animals leave a place in a container; empty where nothing limits it.
    name : str
        Of the animals, on the piece with the most room for it.
    """

    x: float
    y0: float
    y1: float
    w0: float
    w1: float
    closed: bool
    over: bool = False
    left: str = ""
    name: str = ""

    @property
    def points(self) -> str:
        """Corners of the stretch as SVG writes them."""
        corners = (
            (self.x - self.w0 / 2, self.y0),
            (self.x + self.w0 / 2, self.y0),
            (self.x + self.w1 / 2, self.y1),
            (self.x - self.w1 / 2, self.y1),
        )
        return " ".join(f"{round(x, 1):g},{round(y, 1):g}" for x, y in corners)


@dataclass(frozen=True, slots=True)
class Ribbon:
    """Groups of animals that are in the same places at the same times.

    Parameters
    ----------
    members : tuple of (str, DatedRoute)
        Letter and way of each group, the one with the least time left first.
    pieces : tuple of Piece
        In order of time.
    moves : tuple of (float, float, float)
        Height, from and to of each change of place. [px]
    leaves : tuple of (int, float)
        When it leaves each place in a container, UTC, and the least safe time that is left of it then, below
        nothing where it is over; without those that nothing limits. [min, min]
    """

    members: tuple[tuple[str, DatedRoute], ...]
    pieces: tuple[Piece, ...]
    moves: tuple[tuple[float, float, float], ...]
    leaves: tuple[tuple[int, float], ...]

    @property
    def dated(self) -> DatedRoute:
        """The group with the least time left."""
        return self.members[0][1]


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """One picture.

    Parameters
    ----------
    scale : Scale
        Time. [min]
    lanes : tuple of Lane
        From left to right.
    ribbons : tuple of Ribbon
        In the order of their first groups.
    hours : tuple of Mark
        Full hours. [px]
    width, height : float
        Of the picture. [px]
    """

    scale: Scale
    lanes: tuple[Lane, ...]
    ribbons: tuple[Ribbon, ...]
    hours: tuple[Mark, ...]
    width: float
    height: float

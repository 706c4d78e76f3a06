"""Places, and the passages between them."""

from typing import Annotated, Literal

from pydantic import Field

from postcheck.description import oneline
from postcheck.description.fields import (
    AllBends,
    Angle,
    Area,
    Cycles,
    HalfTurn,
    Length,
    Positive,
    Power,
    one_line,
)
from postcheck.description.frozen import Several
from postcheck.description.models.base import Name, Table, optional, several
from postcheck.description.models.leads import JointSize


class Passage(Table):
    """A post, spar, arm or hinge that conductors go through."""

    start: Name = Field(alias="from", description="The place at one end.", examples=["base"])
    end: Name = Field(alias="to", description="The place at the other end.", examples=["keel"])
    bore: Annotated[Length, Positive] = Field(description="Inside diameter.", examples=["5 mm", "1/4 in"])
    length: Annotated[Length, Positive] = Field(description="Length of the bore.", examples=["160 mm"])
    free: Annotated[Length, Positive] | None = optional(
        "Free length of the wires between their grips, where it is not the length of the bore.", "120 mm"
    )
    slack: Length | None = optional("Spare length left in the passage.", "2 mm")
    turn: Angle = Field(default=0.0, description="How far it turns, each way.", examples=["90 deg"])
    fold: Annotated[Angle, HalfTurn] = Field(
        default=0.0,
        description="How far it folds, as a hinge does that bends its wires instead of twisting them.",
        examples=["90 deg"],
    )
    stop: bool | None = optional("A stop keeps it from turning further.")
    cycles: Cycles | None = optional(
        "How often it turns or folds; 10 000 times if not said.", "10 /day for 10 years"
    )
    edges: Literal["rounded", "bushed", "sharp"] | None = optional(
        "How the ends of the bore are: whether they cut into the wires."
    )
    joints_inside: bool = Field(default=False, description="A joint lies inside.")
    soldered_inside: bool = Field(
        default=False, description="Strands are soldered solid inside the free length."
    )
    bends: Annotated[Angle, AllBends] = Field(
        default=0.0, description="All bends of the way through, added up.", examples=["180 deg"]
    )
    staggered: bool | None = optional(
        "All is drawn through together, its joints apart (true) or side by side (false); one by one if not said."
    )
    bend_radius: Annotated[Length, Positive] | None = optional(
        "Tightest bend of the wires where they leave it, inside radius.", "8 mm"
    )
    bend_held: bool | None = optional(
        "The wires are gripped between the bore and that bend, so that turning does not flex it."
    )
    to_joint: Length | None = optional("From the last grip of the wires to the first joint.", "15 mm")
    through: Several[Name] = several(
        "Leads and runs that also go through, by name.", ["signal arm"], most=500
    )


class Place(Table):
    """Somewhere in the model: a body, a hub, the base."""

    access: Literal["open", "cover", "sealed"] = Field(
        description="How one gets at it once it is finished: open to a hand, behind a cover, or sealed: reached by cutting only."
    )
    material: str | None = optional(
        "What its walls are made of; `postcheck catalogue plastic` lists what is known.", "styrene"
    )
    painted: bool | None = optional("Whether its metal is painted: bare metal radiates little.")
    surface: Annotated[Area, Positive] | None = optional(
        "Outside surface of the closed space, by which it gets rid of its heat.", "38 cm2"
    )
    heat: Power | None = optional("What else dissipates heat in it.", "0.2 W")
    vented: bool = Field(
        default=False,
        description="Holes high and low let its air change with the room's: lead-acid cells need it.",
    )
    opens_with: Literal["tool", "two movements"] | None = optional(
        "What its cover takes to open, where a child must not: coin cells need it.", "tool"
    )
    opening: Length | None = optional("How far its cover or hub must come out to get at the joints.", "40 mm")


class Cable(Table):
    """A sheathed or a flat cable: counted once in a bore."""

    outside: Annotated[Length, Positive] | None = optional(
        "Its outside diameter; of a flat cable that is rolled or folded, of the roll.", "3 mm"
    )
    flat: Annotated[JointSize | None, one_line(oneline.joint)] = optional(
        "Of a flat cable that lies flat: its width and thickness.", "6.4 x 0.9 mm"
    )

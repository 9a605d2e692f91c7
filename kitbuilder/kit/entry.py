"""What items share: a tag, in a kit also a place, and where a hose may feed the item also a preset and an inlet."""

from dataclasses import dataclass, fields
from typing import ClassVar

from kitbuilder.kit.fields import IN_FRESH_WATER, Group, choice, flag, name, owned, quantity, text, weighed


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Entry:
    """One table of a file, known by its tag."""

    kind: ClassVar[str]
    title: ClassVar[str]

    tag: str = name("Name by which other items refer to this one. Unique in the file.", '"long hose"')

    @property
    def label(self) -> str:
        """What a list calls the entry."""
        return self.tag

    def __repr__(self) -> str:
        """Show what the file says. Written once here: one for every record would double their time at the start."""
        given = ((known.name, getattr(self, known.name)) for known in fields(self))
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in given if value is not None)})"


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Item(Entry):
    """Anything that can be held in the hand and has a place in the kit."""

    owned: str | None = owned(
        "Tag of this item in the gear file. What the kit does not say, such as its mass, is read there.",
        '"long hose, grey"',
    )
    rented: bool | None = flag(
        "Whether the item is rented at the dive site, so that it is not carried there. Default: no.", "true", last=True
    )
    in_spares: bool | None = flag(
        "Whether the item is a spare that travels with the kit and stays out of the water: it counts in the mass, and "
        "in nothing else. Default: no.",
        "true",
        last=True,
    )
    place: str | None = choice(
        "Where the item sits on the diver. Default: as usual in the layout.",
        '"waist"',
        vocabulary="place",
        last=True,
        group=Group.WHERE,
    )
    along_m: float | None = quantity(
        "length",
        "Distance from the shoulders down to the middle of the item. Default: that of its place.",
        '"45 cm"',
        lowest=-1.0,
        highest=2.0,
        last=True,
        group=Group.WHERE,
    )
    behind_m: float | None = quantity(
        "length",
        "Distance from the middle of the body back to the middle of the item. Default: that of its place.",
        '"12 cm"',
        lowest=-0.6,
        highest=0.6,
        last=True,
        group=Group.WHERE,
    )


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Device(Item):
    """An item that a hose may feed, with the mass and volume of a preset unless weighed."""

    preset: str | None = choice(
        "Item of the catalogue. It gives mass, volume and inlet.",
        '"plastic body"',
        vocabulary="preset",
        always_shown=True,
    )
    inlet: str | None = choice(
        "Thread or coupling that a hose joins. Default: that of the preset.",
        '"9/16"',
        vocabulary="inlet",
        group=Group.ENDS,
    )
    mass_kg: float | None = weighed(
        "mass", "Weighed mass, dry. Default: that of the preset.", '"0.21 kg"', lowest=0.005, highest=40.0
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    buoyancy_kgf: float | None = weighed(
        "buoyancy",
        "Buoyancy weighed in fresh water: plus floats, minus sinks. Default: from the preset.",
        '"-0.12 kg"',
        lowest=-40.0,
        highest=40.0,
        label=IN_FRESH_WATER,
    )
    buoyancy_spread_kgf: float | None = None
    buoyancy_half_digit_kgf: float | None = None
    make: str | None = text("A label for the make, so that coupling and nipple can be compared.", '"grey"')
    notes: str | None = text("Free text.", '"spare mouthpiece in the box"', group=Group.NOTES)

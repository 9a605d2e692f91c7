"""What items share: a tag, in a kit also a place, and where a hose may feed the item also a preset and an inlet."""

from dataclasses import dataclass, fields
from typing import ClassVar

from kitbuilder.kit.fields import IN_FRESH_WATER, Group, choice, flag, name, owned, quantity, text, weighed


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Entry:
    """One table of a file, known by its tag."""

    kind: ClassVar[str]
    title: ClassVar[str]

    tag: str = name("The name other items know it by; once only in a file.", '"long hose"')

    def __repr__(self) -> str:
        """Show what the file says. Written once here: one for every record would double their time at the start."""
        given = ((known.name, getattr(self, known.name)) for known in fields(self))
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in given if value is not None)})"


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Item(Entry):
    """Anything that can be held in the hand and has a place in the kit."""

    owned: str | None = owned(
        "Which item of the gear file it is. What the kit does not say of it, such as its mass, is then read there.",
        '"long hose, grey"',
    )
    rented: bool | None = flag(
        "Whether it is rented where the dive is, so that it is not brought along. Default: no.", "true", last=True
    )
    place: str | None = choice(
        "Where it sits on the diver. Default: as usual in the layout.",
        '"waist"',
        vocabulary="place",
        last=True,
        group=Group.WHERE,
    )
    along_m: float | None = quantity(
        "length",
        "How far its middle lies below the shoulders, towards the feet, instead of the place's.",
        '"45 cm"',
        lowest=-1.0,
        highest=2.0,
        last=True,
        group=Group.WHERE,
    )
    behind_m: float | None = quantity(
        "length",
        "How far its middle lies behind the middle of the body, towards the back, instead of the place's.",
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
        "What it is; gives mass, volume and inlet.", '"plastic body"', vocabulary="preset", always_shown=True
    )
    inlet: str | None = choice(
        "What it offers a hose to fasten to, when it is not the preset's.",
        '"9/16"',
        vocabulary="inlet",
        group=Group.ENDS,
    )
    mass_kg: float | None = weighed("mass", "Mass as weighed, dry.", '"0.21 kg"', lowest=0.005, highest=40.0)
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    buoyancy_kgf: float | None = weighed(
        "buoyancy",
        "Buoyancy as weighed under fresh water; plus floats.",
        '"-0.12 kg"',
        lowest=-40.0,
        highest=40.0,
        label=IN_FRESH_WATER,
    )
    buoyancy_spread_kgf: float | None = None
    buoyancy_half_digit_kgf: float | None = None
    make: str | None = text("Any word that tells one make from another; for the coupling.", '"grey"')
    notes: str | None = text("Anything else.", '"spare mouthpiece in the box"', group=Group.NOTES)

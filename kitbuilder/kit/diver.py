"""The diver, and the float checks made: what a diver file says."""

from dataclasses import dataclass
from typing import ClassVar

from kitbuilder.kit.entry import Entry
from kitbuilder.kit.fields import Group, choice, file, flag, name, quantities, quantity, text, whole

SEEN = {
    "neutral": "hovered through the middle of the breath",
    "floated": "rose through the whole breath, however slowly",
    "sank": "sank through the whole breath, however slowly",
}
"""What was seen in a float check, and how it shows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DiverHeader:
    """The diver: the keys at the top of the file, before the first float check."""

    title: ClassVar = "diver"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    holds: str = choice("What this file holds.", '"diver"', choices=("diver",), required=True)
    name: str = name("What the diver is called in reports; need not be a real name.", '"the diver of these kits"')
    stature_m: float | None = quantity(
        "length", "Body height.", '"178 cm"', lowest=1.2, highest=2.2, group=Group.BODY, always_shown=True
    )
    mass_kg: float | None = quantity(
        "mass", "Body mass.", '"82 kg"', lowest=30.0, highest=200.0, group=Group.BODY, always_shown=True
    )
    sex: str | None = choice(
        "Sex of the survey sample used for estimates. Default: midway between the two.",
        '"female"',
        choices=("male", "female"),
        group=Group.BODY,
        always_shown=True,
    )
    chest_m: float | None = quantity(
        "length",
        "Round the chest at the nipples, breath half out, over a thin shirt.",
        '"101 cm"',
        lowest=0.6,
        highest=1.8,
        group=Group.BODY,
    )
    waist_m: float | None = quantity(
        "length", "Round the waist at the navel, belly as it is.", '"88 cm"', lowest=0.45, highest=1.9, group=Group.BODY
    )
    back_length_m: float | None = quantity(
        "length",
        "From the bone at the root of the neck down the spine to the height of the navel.",
        '"46 cm"',
        lowest=0.3,
        highest=0.65,
        group=Group.BODY,
    )
    shoulders_m: float | None = quantity(
        "length",
        "From point to point of the shoulders, straight across the back, not over the muscles of the arms.",
        '"40 cm"',
        lowest=0.25,
        highest=0.55,
        group=Group.BODY,
    )
    neck_m: float | None = quantity(
        "length",
        "Round the base of the neck, where it meets the shoulders.",
        '"42 cm"',
        lowest=0.25,
        highest=0.65,
        group=Group.BODY,
    )
    neck_turns: str | None = choice(
        "How far the head turns: as that of most, less as it comes with age, or stiff. Default: free.",
        '"older"',
        choices=("free", "older", "stiff"),
        group=Group.BODY,
    )
    lead_sizes_kg: tuple[float, ...] = quantities(
        "mass",
        "Pieces of lead that are available. Default: 1 kg; 1 to 5 lb for a reader of pounds.",
        '["1 kg", "2 kg"]',
        lowest=0.05,
        highest=15.0,
        group=Group.BODY,
        always_shown=True,
    )
    notes: str | None = text("Anything else.", '"colder than most"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class FloatCheck(Entry):
    """One look at how diver and kit float together, at rest, wing and suit empty, the breath half way."""

    kind: ClassVar = "float_check"
    title: ClassVar = "float check"

    tag: str = name("What it is called, such as its day and place; once only in a file.", '"April, pier"')
    kit: str = file("The kit that was worn.", '"twinset.toml"', required=True, group=Group.WHAT)
    seen: str | None = choice(
        "What was seen. Nothing counts until it is told.",
        '"neutral"',
        choices=tuple(SEEN),
        group=Group.CHECK,
        always_shown=True,
    )
    by_kgf: float | None = quantity(
        "buoyancy",
        "Lead that had to be added (plus) or taken off (minus) to be neutral, its mass.",
        '"+1 kg"',
        lowest=-15.0,
        highest=15.0,
        group=Group.CHECK,
        always_shown=True,
    )
    lead_kg: float | None = quantity(
        "mass",
        "All lead that was carried. Default: the kit's.",
        '"6 kg"',
        lowest=0.0,
        highest=40.0,
        group=Group.CHECK,
        always_shown=True,
    )
    pressure_pa: float | None = quantity(
        "pressure",
        "Pressure in the cylinders on the back or at the sides, without stages. Default: their reserve.",
        '"60 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.CHECK,
        always_shown=True,
    )
    stage_pressure_pa: float | None = quantity(
        "pressure",
        "Pressure in the stage cylinders. Default: their reserve.",
        '"110 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.CHECK,
    )
    depth_m: float | None = quantity(
        "length",
        "Depth at which it was seen. Default: the kit's stop.",
        '"5 m"',
        lowest=0.0,
        highest=15.0,
        group=Group.CHECK,
        always_shown=True,
    )
    water: str | None = choice(
        "The water. Default: the kit's.", '"fresh"', vocabulary="water", group=Group.CHECK, always_shown=True
    )
    worn: str | None = text(
        "What the kit was made of then, as the app writes it. If the kit is made of other items now, the check is not "
        "counted; left out, the kit is taken to be what it was.",
        '"aluminium 11.1 L 207; full suit 5 mm; standard jacket"',
        group=Group.CHECK,
    )
    excluded: bool | None = flag("Whether it is kept but not counted.", "true", group=Group.CHECK)
    notes: str | None = text("Anything else.", '"new undersuit"', group=Group.NOTES)


CHECK_KINDS: dict[str, type[Entry]] = {FloatCheck.kind: FloatCheck}


@dataclass(frozen=True, slots=True)
class Diver:
    """Everything one diver file says."""

    header: DiverHeader
    items: tuple[FloatCheck, ...]
    """The float checks, in the order of the file."""

"""The diver, and the float checks made: what a diver file says."""

from dataclasses import dataclass
from typing import ClassVar

from kitbuilder.kit.entry import Entry
from kitbuilder.kit.fields import Group, choice, file, flag, name, quantities, quantity, text, whole

SEEN = {
    "neutral": "hovered at the middle of the breath",
    "floated": "rose during the complete breath, even if slowly",
    "sank": "sank during the complete breath, even if slowly",
}
"""What was seen in a float check, and how it shows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DiverHeader:
    """The diver: the keys at the top of the file, before the first float check."""

    title: ClassVar = "diver"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    holds: str = choice("What the file holds.", '"diver"', choices=("diver",), required=True)
    name: str = name("Name of the diver in reports. It need not be a real name.", '"the diver of these kits"')
    units: str | None = choice(
        "Units of the diver's gauges and scales. Pages about this diver's kits use them. Default: metric.",
        '"imperial"',
        choices=("metric", "imperial"),
    )
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
        "Chest circumference at the nipples, breath half out, over a thin shirt. Default: estimated from "
        "stature and mass.",
        '"101 cm"',
        lowest=0.6,
        highest=1.8,
        group=Group.BODY,
    )
    waist_m: float | None = quantity(
        "length",
        "Waist circumference at the navel, belly relaxed. Default: estimated from stature and mass.",
        '"88 cm"',
        lowest=0.45,
        highest=1.9,
        group=Group.BODY,
    )
    back_length_m: float | None = quantity(
        "length",
        "Length from the bone at the base of the neck down the spine to the height of the navel. Default: "
        "estimated from stature and mass.",
        '"46 cm"',
        lowest=0.3,
        highest=0.65,
        group=Group.BODY,
    )
    shoulders_m: float | None = quantity(
        "length",
        "Distance between the tips of the shoulders, straight across the back, not over the arm muscles. "
        "Default: estimated from stature and mass.",
        '"40 cm"',
        lowest=0.25,
        highest=0.55,
        group=Group.BODY,
    )
    neck_m: float | None = quantity(
        "length",
        "Circumference of the base of the neck, where it meets the shoulders. Default: estimated from stature "
        "and mass.",
        '"42 cm"',
        lowest=0.25,
        highest=0.65,
        group=Group.BODY,
    )
    neck_turns: str | None = choice(
        "How far the head turns: freely, less with age, or little. Default: free.",
        '"older"',
        choices=("free", "older", "stiff"),
        group=Group.BODY,
    )
    lead_sizes_kg: tuple[float, ...] = quantities(
        "mass",
        "Sizes of the lead pieces that are available. Default: 1 kg; 1 to 5 lb in imperial units.",
        '["1 kg", "2 kg"]',
        lowest=0.05,
        highest=15.0,
        group=Group.BODY,
        always_shown=True,
    )
    notes: str | None = text("Free text.", '"colder than most"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class FloatCheck(Entry):
    """One look at how diver and kit float together, at rest, wing and suit empty, the breath half way."""

    kind: ClassVar = "float_check"
    title: ClassVar = "float check"

    tag: str = name("Name of the check, such as its day and place. Unique in the file.", '"April, pier"')
    kit: str = file("Kit file that was worn.", '"twinset.toml"', required=True, group=Group.WHAT)
    seen: str | None = choice(
        "What the diver did: floated, sank or stayed neutral. Without it, the check does not count.",
        '"neutral"',
        choices=tuple(SEEN),
        group=Group.CHECK,
        always_shown=True,
    )
    by_kgf: float | None = quantity(
        "buoyancy",
        "Mass of the lead that had to be added (plus) or taken off (minus) to be neutral.",
        '"+1 kg"',
        lowest=-15.0,
        highest=15.0,
        group=Group.CHECK,
        always_shown=True,
    )
    lead_kg: float | None = quantity(
        "mass",
        "Mass of all lead that was carried. Default: that of the kit.",
        '"6 kg"',
        lowest=0.0,
        highest=40.0,
        group=Group.CHECK,
        always_shown=True,
    )
    pressure_pa: float | None = quantity(
        "pressure",
        "Gauge pressure of the cylinders on the back or at the sides, not of stages. Default: their reserve.",
        '"60 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.CHECK,
        always_shown=True,
    )
    stage_pressure_pa: float | None = quantity(
        "pressure",
        "Gauge pressure of the stage cylinders. Default: their reserve.",
        '"110 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.CHECK,
    )
    depth_m: float | None = quantity(
        "length",
        "Depth of the check. Default: the stop of the kit.",
        '"5 m"',
        lowest=0.0,
        highest=15.0,
        group=Group.CHECK,
        always_shown=True,
    )
    water: str | None = choice(
        "Water of the check. Default: that of the kit.",
        '"fresh"',
        vocabulary="water",
        group=Group.CHECK,
        always_shown=True,
    )
    worn: str | None = text(
        "Items of the kit at the check, as the app writes them. If the kit has changed since, the check does "
        "not count. "
        "Default: the kit has not changed.",
        '"aluminium 11.1 L 207; full suit 5 mm; standard jacket"',
        group=Group.CHECK,
    )
    excluded: bool | None = flag(
        "Whether the check is kept in the file but does not count. Default: no.", "true", group=Group.CHECK
    )
    notes: str | None = text("Free text.", '"new undersuit"', group=Group.NOTES)


CHECK_KINDS: dict[str, type[Entry]] = {FloatCheck.kind: FloatCheck}


@dataclass(frozen=True, slots=True)
class Diver:
    """Everything one diver file says."""

    header: DiverHeader
    items: tuple[FloatCheck, ...]
    """The float checks, in the order of the file."""

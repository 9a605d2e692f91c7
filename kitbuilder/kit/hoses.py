"""The hoses of a kit: what each is, where it runs, and its ends."""

from dataclasses import dataclass
from typing import ClassVar

from kitbuilder.kit.entry import Item
from kitbuilder.kit.fields import Group, choice, flag, landmarks, port, quantity, tag, text, weighed


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Hose(Item):
    """A hose with its two ends."""

    kind: ClassVar = "hose"
    title: ClassVar = "hose"

    role: str = choice("What it is for.", '"primary"', vocabulary="role", required=True)
    from_: str | None = port(
        "The port it leaves from: tag of the first stage, then the port.", '"first LP1"', always_shown=True
    )
    to: str | None = tag("The tag of the item it feeds.", '"primary second"', always_shown=True)
    body: str = choice("What the hose is made of.", '"rubber"', vocabulary="body", required=True)
    length_m: float = quantity(
        "length", "Its stated length.", '"75 cm"', lowest=0.05, highest=5.0, required=True, group=Group.LENGTH
    )
    measured: str | None = choice(
        "What the stated length covers. Default: end to end.",
        '"end to end"',
        choices=("end to end", "hose only"),
        group=Group.LENGTH,
    )
    route: str | None = choice(
        "The way it is led. Default: the usual one of its role, in this layout.",
        '"over the right shoulder"',
        vocabulary="route",
        group=Group.WHERE,
    )
    path: tuple[str, ...] = landmarks(
        "The way it is led at rest, by landmarks in order from the port, when it is not its route's.",
        '["left ports of the first stage", "left flank", "left hip ring"]',
        fewest=2,
    )
    holds: tuple[str, ...] = landmarks(
        "Landmarks of its way, other than its ends and those of its route, at which something holds it.",
        '["left flank"]',
    )
    run_m: float | None = quantity(
        "length",
        "The length it must cover, by string over the worn kit, in the pose that needs most.",
        '"66 cm"',
        lowest=0.03,
        highest=5.0,
        group=Group.LENGTH,
        always_shown=True,
    )
    rest_run_m: float | None = quantity(
        "length",
        "The same at rest: head forward, arms down. Default: slack and stand-off in the position of the run.",
        '"52 cm"',
        lowest=0.03,
        highest=5.0,
        group=Group.LENGTH,
    )
    span_m: float | None = quantity(
        "length",
        "The longest stretch of the run that nothing holds, straight from hold to hold. Default: the whole run.",
        '"45 cm"',
        lowest=0.03,
        highest=5.0,
        group=Group.LENGTH,
    )
    stowed_m: float | None = quantity(
        "length",
        "Hose folded away on purpose, under a band or the waist strap.",
        '"20 cm"',
        lowest=0.0,
        highest=5.0,
        group=Group.LENGTH,
    )
    bore_m: float | None = quantity(
        "length",
        "Its inner diameter, for the pressure it costs. Default: as usual for its body.",
        '"6 mm"',
        lowest=0.002,
        highest=0.015,
    )
    from_end: str | None = choice(
        "The end at the first stage. Default: one that joins its port.",
        '"LP 3/8"',
        vocabulary="first stage end",
        group=Group.ENDS,
    )
    from_adapter: str | None = choice(
        "What sits between the port and the hose.", '"adapter 1/2 to 3/8"', vocabulary="adapter", group=Group.ENDS
    )
    to_end: str | None = choice(
        "The other end. Default: one that joins the item it feeds.",
        '"second stage 9/16"',
        vocabulary="device end",
        group=Group.ENDS,
    )
    to_adapter: str | None = choice(
        "What sits between the hose and the item it feeds.", '"elbow 90"', vocabulary="adapter", group=Group.ENDS
    )
    swivel_pin: bool | None = flag(
        "Whether the gauge end has its swivel pin with both O-rings.", "true", group=Group.ENDS
    )
    crosses_neck: bool | None = flag(
        "Whether it lies on the neck. Default: as usual for its role.", "true", group=Group.WHERE
    )
    mass_kg: float | None = weighed(
        "mass", "Mass as weighed, dry, with both ends.", '"0.21 kg"', lowest=0.01, highest=3.0
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    make: str | None = text("Any word that tells one make from another; for the coupling.", '"grey"')
    notes: str | None = text("Anything else.", '"new this year"', group=Group.NOTES)

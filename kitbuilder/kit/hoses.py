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

    role: str = choice("What the hose is for.", '"primary"', vocabulary="role", required=True)
    from_: str | None = port(
        "Port that the hose leaves from: the tag of the first stage, then the port.", '"first LP1"', always_shown=True
    )
    to: str | None = tag("Tag of the item that the hose feeds.", '"primary second"', always_shown=True)
    body: str = choice("Body of the hose.", '"rubber"', vocabulary="body", required=True)
    length_m: float = quantity(
        "length",
        "Length that the seller states.",
        '"75 cm"',
        lowest=0.05,
        highest=5.0,
        required=True,
        group=Group.LENGTH,
    )
    measured: str | None = choice(
        "What the length covers. Default: end to end.",
        '"end to end"',
        choices=("end to end", "hose only"),
        group=Group.LENGTH,
    )
    route: str | None = choice(
        "Named route over the body. Default: the usual one for its role in this layout.",
        '"over the right shoulder"',
        vocabulary="route",
        group=Group.WHERE,
    )
    path: tuple[str, ...] = landmarks(
        "Landmarks of a route of its own at rest, in order from the port. Default: those of the route.",
        '["left ports of the first stage", "left flank", "left hip ring"]',
        fewest=2,
    )
    holds: tuple[str, ...] = landmarks(
        "Landmarks where something holds the hose, in addition to its ends and the holds of its route.",
        '["left flank"]',
    )
    run_m: float | None = quantity(
        "length",
        "Length needed, measured by string over the worn kit, in the position that needs most. Default: by landmarks.",
        '"66 cm"',
        lowest=0.03,
        highest=5.0,
        group=Group.LENGTH,
        origin="by string",
        always_shown=True,
    )
    rest_run_m: float | None = quantity(
        "length",
        "The same at rest: head forward, arms down. Default: as in the position of the run.",
        '"52 cm"',
        lowest=0.03,
        highest=5.0,
        group=Group.LENGTH,
        origin="by string",
    )
    span_m: float | None = quantity(
        "length",
        "Longest part of the run that nothing holds, straight from hold to hold. Default: the run.",
        '"45 cm"',
        lowest=0.03,
        highest=5.0,
        group=Group.LENGTH,
        origin="by string",
    )
    stowed_m: float | None = quantity(
        "length",
        "Length of hose stowed on purpose, under a band or the waist strap. Default: none.",
        '"20 cm"',
        lowest=0.0,
        highest=5.0,
        group=Group.LENGTH,
    )
    bore_m: float | None = quantity(
        "length",
        "Inner diameter, for the pressure loss. Default: as usual for its body.",
        '"6 mm"',
        lowest=0.002,
        highest=0.015,
    )
    from_end: str | None = choice(
        "Fitting at the first stage. Default: one that fits the port.",
        '"LP 3/8"',
        vocabulary="first stage end",
        group=Group.ENDS,
    )
    from_adapter: str | None = choice(
        "Adapter between port and hose. Default: none.", '"adapter 1/2 to 3/8"', vocabulary="adapter", group=Group.ENDS
    )
    to_end: str | None = choice(
        "Fitting at the other end. Default: one that fits the item it feeds.",
        '"second stage 9/16"',
        vocabulary="device end",
        group=Group.ENDS,
    )
    to_adapter: str | None = choice(
        "Adapter between the hose and the item it feeds. Default: none.",
        '"elbow 90"',
        vocabulary="adapter",
        group=Group.ENDS,
    )
    swivel_pin: bool | None = flag(
        "Whether the gauge end has its swivel pin with both O-rings. Default: not known.", "true", group=Group.ENDS
    )
    crosses_neck: bool | None = flag(
        "Whether the hose lies on the neck. Default: as usual for its role.", "true", group=Group.WHERE
    )
    mass_kg: float | None = weighed(
        "mass", "Weighed mass, dry, with both ends. Default: from body and ends.", '"0.21 kg"', lowest=0.01, highest=3.0
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    make: str | None = text("A label for the make, so that coupling and nipple can be compared.", '"grey"')
    notes: str | None = text("Free text.", '"new this year"', group=Group.NOTES)

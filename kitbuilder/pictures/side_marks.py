"""The items on the lying diver: each at its place, with the letter that stands for it."""

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.trim import Pull
from kitbuilder.pictures.side_outline import Mark

LETTERS = {"lead": "L", "cylinder": "C", "wing": "W", "jacket": "W"}
"""Of the kinds of items that are always marked."""
WORTH_A_SIGN_KGF = 0.5
"""Another item is marked when it pulls by this much; chosen, no source."""
ORDER = ("", "+", "−", "C", "W", "L")
"""What is drawn later covers what is drawn before."""


def side_marks(balance: Balance) -> tuple[Mark, ...]:
    """Mark cylinders, bladder and lead, and what else pulls by half a kilogram or more, in statures."""
    stature = balance.buoyancy_model.body.stature.value
    vessels = dict(balance.buoyancy_model.vessels)
    signs = [(_sign(balance, spot), spot) for spot in balance.trim.spots]
    marks = []
    for sign, spot in sorted(signs, key=lambda pair: ORDER.index(pair[0])):
        if not sign:
            continue
        vessel = vessels.get(spot.item) if spot.item is not None else None
        length, radius = (vessel.length_m / stature, vessel.diameter_m / 2 / stature) if vessel else (0.0, 0.0)
        marks.append(Mark(sign, spot.along.value / stature, spot.behind_m / stature, length, radius))
    return tuple(marks)


def _sign(balance: Balance, spot: Pull) -> str:
    """Give the letter of an item, or whether it floats or sinks; nothing for the body, which is the drawing itself."""
    if spot.item is None:
        return ""
    if letter := LETTERS.get(balance.buoyancy_model.kit.items[spot.item].kind):
        return letter
    pull = spot.reserve.value
    return "" if abs(pull) < WORTH_A_SIGN_KGF else "+" if pull > 0 else "−"

"""Where cylinders, bladder, first stages and what hoses feed sit on the diver: for pictures, no figure uses it."""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.trim import carried_as
from kitbuilder.assess.fit.routed_hose import BodyPoint, point_of, values_of
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import FirstStage, Gauge, Jacket, SecondStage, Wing, split_port

CYLINDER, BLADDER, FIRST_STAGE, SECOND_STAGE, GAUGE = "cylinder", "bladder", "first stage", "second stage", "gauge"
"""The kinds of piece."""


class WornPiece(NamedTuple):
    """One piece of gear on a standing diver."""

    kind: str
    place: BodyPoint
    """The valve of a cylinder, the middle of anything else."""
    length_m: float = 0.0
    """Of a cylinder, from its shoulder down; of a bladder, from top to bottom."""
    diameter_m: float = 0.0
    """Of a cylinder; of a bladder, its breadth."""


def worn_gear(assessment: Assessment) -> tuple[WornPiece, ...]:
    """Place the gear of a kit on the body that wears it, what lies nearest to the back first.

    A cylinder has its size where that is known; without one it is left out. First stages stand where their hoses
    begin, second stages and gauges where their hoses end: those of hoses without a route are left out.
    """
    return (*_bladder(assessment), *_cylinders(assessment), *_first_stages(assessment), *_fed(assessment))


# ---- cylinders ----

VALVE_FROM_KNOB_M = {"single": 0.095, "twinset": 0.0625, "sidemount": 0.09}
"""From a knob inward to the middle of its valve, as the origins of those landmarks have it; from memory."""
NEXT_STAGE_M = 0.07
"""How much further out a second stage cylinder hangs than the first; from memory."""


def _cylinders(assessment: Assessment) -> Iterator[WornPiece]:
    if assessment.balance is None:
        return
    kit, places = assessment.kit, defaultdict[str, list[BodyPoint]](list)
    layout = kit.header.layout
    values = values_of(assessment.wearer)
    knobs = [point_of(mark, values) for mark in catalogue().landmarks.values() if layout in mark.knob_of]
    inward = VALVE_FROM_KNOB_M[layout]
    valves = [(x - inward if x > 0 else x + inward, y, z) for x, y, z in knobs]
    places["side" if layout == "sidemount" else "back"] = valves
    x, y, z = point_of(catalogue().landmarks["left stage valve"], values)
    places["stage"] = [(x - NEXT_STAGE_M * number, y, z) for number in range(len(kit.items))]
    for number, vessel in assessment.balance.buoyancy_model.vessels:
        item = kit.items[number]
        room = places[carried_as(vessel.cylinder, layout)]
        if not room:
            continue
        place = _own_side(room, item.tag)
        room.remove(place)
        yield WornPiece(CYLINDER, place, vessel.length_m, vessel.diameter_m)


def _own_side(places: list[BodyPoint], tag: str) -> BodyPoint:
    """Choose the place on the side that a tag names, else the first one left."""
    words = tag.lower().split()
    side = 1 if "right" in words else -1 if "left" in words else 0
    return next((place for place in places if place[0] * side > 0), places[0])


# ---- the rest ----

BLADDER_TOP_M, BLADDER_BELOW_CREST_M = -0.02, 0.02
"""The top of a bladder below C7, and its bottom below the crest of the hip; from memory."""
BLADDER_OF_SHOULDERS, TWIN_BLADDER_OF_SHOULDERS = 1.0, 1.15
"""The breadth of a bladder, of that of the shoulders; from memory."""


def _bladder(assessment: Assessment) -> Iterator[WornPiece]:
    if not any(isinstance(item, Wing | Jacket) for item in assessment.kit.items):
        return
    values, layout = values_of(assessment.wearer), assessment.kit.header.layout
    top = BLADDER_TOP_M
    if layout == "sidemount":
        top = (values["hip crest height"] + values["armpit height"]) / 2 - values["C7 height"] + 0.06
    bottom = values["hip crest height"] - values["C7 height"] - BLADDER_BELOW_CREST_M
    share = TWIN_BLADDER_OF_SHOULDERS if layout == "twinset" else BLADDER_OF_SHOULDERS
    middle = (0.0, BACK_M, (top + bottom) / 2)
    yield WornPiece(BLADDER, middle, top - bottom, share * values["shoulder breadth"])


BACK_M = -0.08
"""Behind C7, a plate on the back; from memory."""


def _first_stages(assessment: Assessment) -> Iterator[WornPiece]:
    tags = {item.tag for item in assessment.kit.items if isinstance(item, FirstStage)}
    starts = defaultdict[str, list[BodyPoint]](list)
    for figures in assessment.hoses:
        tag, _ = split_port(figures.hose.from_ or "")
        if figures.routed and tag in tags:
            starts[tag].append(figures.routed.points[0])
    for points in starts.values():
        right, forward, up = (sum(along) / len(points) for along in zip(*points, strict=True))
        yield WornPiece(FIRST_STAGE, (right, forward, up))


def _fed(assessment: Assessment) -> Iterator[WornPiece]:
    by_tag = {item.tag: item for item in assessment.kit.items}
    for figures in assessment.hoses:
        device = by_tag.get(figures.hose.to or "")
        if figures.routed and isinstance(device, SecondStage | Gauge):
            kind = SECOND_STAGE if isinstance(device, SecondStage) else GAUGE
            yield WornPiece(kind, figures.routed.points[-1])

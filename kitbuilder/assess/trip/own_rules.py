"""The airline's own rules about where an item may travel, as the trip file gives them."""

from kitbuilder.catalogue.air_rules import OWN, AirRule
from kitbuilder.kit.resolved_trip import ItemOfTrip, ResolvedTrip
from kitbuilder.kit.trip import BODY, CABIN, HOLD, NOWHERE, Luggage, OwnRule

MAY_GO = {CABIN: (CABIN, BODY), HOLD: (HOLD,), NOWHERE: ()}
WHY = {
    CABIN: "The airline wants it in the cabin.",
    HOLD: "The airline wants it in the hold.",
    NOWHERE: "The airline does not take it.",
}
DO = {
    CABIN: "Carry it in the cabin.",
    HOLD: "Pack it into the hold.",
    NOWHERE: "Rent one there, or leave it at home.",
}


def own_rules_for(trip: ResolvedTrip, item: ItemOfTrip | Luggage) -> tuple[AirRule, ...]:
    """List the airline's own rules about an item of a kit, or about luggage."""
    if isinstance(item, Luggage):
        return tuple(_rule(entry) for entry in trip.own_rules if trip.names_luggage(entry, item))
    place = (item.file, item.number)
    return tuple(_rule(entry) for entry in trip.own_rules if place in trip.named_by(entry))


def _rule(entry: OwnRule) -> AirRule:
    return AirRule(
        name=entry.tag or entry.title,
        about=OWN,
        up_to_j=None,
        may_go=MAY_GO[entry.goes],
        needs_approval=False,
        is_advice=False,
        most=None,
        why=WHY[entry.goes],
        do=DO[entry.goes],
        do_approved="",
        origin=entry.source or "the trip file, without a source",
        read=entry.read.isoformat() if entry.read else "on a day that is not given",
    )

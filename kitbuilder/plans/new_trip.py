"""What a new trip rents: the cylinders with what belongs to them, the lead, or both."""

from kitbuilder.assess.trip.facts import facts_of
from kitbuilder.kit.items import Cylinder, Lead
from kitbuilder.kit.resolved import ResolvedKit

NOTHING, LEAD, CYLINDERS, BOTH = "nothing", "lead", "cylinders", "cylinders and lead"
RENTED = {
    BOTH: "the usual way to travel",
    CYLINDERS: "lead is brought along",
    LEAD: "cylinders are brought along, empty and open",
    NOTHING: "everything travels",
}
"""What may be rented, and what that means."""


def rentals_of(kit: ResolvedKit, rented: str) -> tuple[dict[str, str], ...]:
    """Give the keys of each rental of a new trip.

    Args:
        kit: The kit that travels.
        rented: A word of `RENTED`; what the kit does not have is not rented.
    """
    has_cylinders, has_lead = rented in (CYLINDERS, BOTH), rented in (LEAD, BOTH)
    meant = [kind for kind, is_meant in ((Cylinder.kind, has_cylinders), (Lead.kind, has_lead)) if is_meant]
    every = [{"every": kind} for kind in meant if any(item.kind == kind for item in kit.items)]
    fitted = [{"item": item.tag} for item in kit.items if has_cylinders and facts_of(item).is_with_cylinder]
    return (*every, *fitted)

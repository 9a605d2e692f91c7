"""May this gas meet this part: which parts have to be clean for oxygen, and which clean ones stop being so.

The check of a kit, the gear file, fewest hoses and the changeover ask here. Two limits are in use, and both count:
above the higher one a part must be clean; between the two it is disputed; up to the lower one nobody asks for it.
"""

from typing import NamedTuple

from kitbuilder.assess.gas.feeds import oxygen_extremes
from kitbuilder.assess.gas.oxygen import format_part, oxygen_of
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import ResolvedKit


class GasContact(NamedTuple):
    """What one part of a kit meets: the leanest and the richest gas that reaches it."""

    least: float
    """Oxygen in the leanest, from 0 to 1."""
    most: float
    """Oxygen in the richest."""

    @property
    def must_be_clean(self) -> bool:
        """Whether the part has to be clean for oxygen, by either limit."""
        return self.most > _limit().value

    @property
    def is_disputed(self) -> bool:
        """Whether only one of the two limits asks for a clean part."""
        return _limit().low < self.most <= _limit().value

    @property
    def is_ordinary(self) -> bool:
        """Whether gas reaches it that nobody keeps clean, such as the air of a common compressor."""
        return self.least <= _limit().low

    @property
    def ends_cleanliness(self) -> bool:
        """Whether a clean part counts as not clean afterwards: some of its gas asks for no clean parts by one limit.

        What is filled and fed for such gas need not be clean, and what it carries along stays in the part.
        """
        return self.least <= _limit().value


def asks_for_clean(oxygen: float) -> bool:
    """Say whether a gas with this part of oxygen asks for clean parts by one limit at least."""
    return oxygen > _limit().low


def gas_contacts(kit: ResolvedKit) -> dict[str, GasContact]:
    """Give what every part of a kit meets, by tag; a part that no gas is known to reach is missing."""
    return {tag: GasContact(least, most) for tag, (least, most) in oxygen_extremes(kit).items()}


def needs_clean(kit: ResolvedKit) -> frozenset[str]:
    """Give the tags of all items that have to be clean for the oxygen-rich gas that reaches them."""
    limit = _limit().value
    if all(oxygen_of(item) <= limit for item in kit.items if isinstance(item, Cylinder)):
        return frozenset()  # as nearly always, and the way of every gas need not be followed
    return frozenset(tag for tag, contact in gas_contacts(kit).items() if contact.must_be_clean)


def loses_cleanliness(before: GasContact | None, after: GasContact | None) -> bool:
    """Say whether a clean part used with one gas must not be used with another before it is cleaned again.

    A gas that is not known before counts as one that nobody keeps clean.
    """
    return after is not None and after.must_be_clean and (before is None or before.ends_cleanliness)


def format_thresholds() -> str:
    """Name both limits, and where they come from."""
    limit = _limit()
    low, high = format_part(limit.low), format_part(limit.value)
    return f"Two limits are in use: more than {low} or more than {high} ({limit.origin})."


def _limit() -> Value:
    return catalogue().limits["oxygen_clean_from"]

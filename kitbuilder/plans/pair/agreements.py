"""What the divers of a pair must agree on before the dive.

Every agreement follows from what another file of this folder found; nothing is judged here that is judged elsewhere.
The order does not depend on the order of the divers, so that both read the same.
"""

from collections.abc import Callable, Iterator

from kitbuilder.plans.pair import agreements_gas as gas
from kitbuilder.plans.pair import agreements_kit as kit
from kitbuilder.plans.pair.agreement import Agreement
from kitbuilder.plans.pair.facts import Facts


def agreements_of(facts: Facts) -> tuple[Agreement, ...]:
    """Give all points to agree on, the gravest first."""
    ordered = facts.by_name()
    found = [agreement for rule in RULES for agreement in rule(ordered)]
    return tuple(sorted(found, key=lambda each: -each.signal))  # stable: within a signal word in the order of the rules


RULES: tuple[Callable[[Facts], Iterator[Agreement]], ...] = (
    gas.not_breathable,
    gas.nothing_to_give,
    gas.nothing_left,
    gas.two_ways,
    gas.reach,
    gas.gauges,
    gas.amounts,
    gas.gas_not_given,
    gas.common_depth,
    kit.own_findings,
    kit.lift_for_both,
    kit.lacking_items,
    kit.items_of_nobody,
    kit.last_breath,
    kit.single_items,
    kit.two_gases,
    kit.two_makes,
    kit.two_inlets,
    kit.couplings,
    kit.regulators,
)
"""In the order in which they are listed within a signal word."""

"""Whose uncertainty the uncertainty of the lead is: a part of its variance for each item, the body, and the rest."""

from collections.abc import Hashable, Mapping
from typing import NamedTuple

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.buoyancy_model import RESERVE, part_buoyancy
from kitbuilder.assess.buoyancy.item_weight import weigh_lead
from kitbuilder.assess.figures import Figure


class LeadShares(NamedTuple):
    """Parts of the variance of the lead, from 0 to 1; together they are 1."""

    items: Mapping[int, float]
    """By the number of the item in the kit; items of lead, and those that are left out of the balance, have none."""
    body: float
    lead: float
    """Of the lead that is taken: how far its pieces are off the number cast on them."""
    checks: float
    """Of the readings of float checks."""


def share_lead(balance: Balance) -> LeadShares:
    """Divide the variance of the lead among what it comes from, after all float checks that count."""
    model, stop = balance.buoyancy_model, balance.stop.depth_m
    parts: dict[Hashable, Figure] = {
        _BODY if part.item is None else part.item: part_buoyancy(model, part, stop, RESERVE) for part in model.parts
    }
    parts[_LEAD] = weigh_lead(balance.lead.value, model.water).buoyancy
    shares = divide_variance(balance.lead, parts)
    items = {part.item: shares[part.item] for part in model.parts if part.item is not None}
    return LeadShares(items, shares[_BODY], shares[_LEAD], shares[None])


_BODY, _LEAD = "body", "lead"


def divide_variance(figure: Figure, parts: Mapping[Hashable, Figure]) -> dict[Hashable, float]:
    """Divide the variance of a sum among its parts.

    Each source counts once, by its component in the sum. A source of several parts, such as the density of the water or
    the mass of cylinders of one preset, is divided in proportion to the size of its component in each of them. What no
    part has stands under None.

    Args:
        figure: The sum, corrected or not.
        parts: What it is the sum of, by any name but None.

    Returns:
        A part of the variance for each name, from 0 to 1, together 1; all 0 for a sum without a spread.

    Source: JCGM 100:2008, 5.1.2, for the sum; that a shared source is divided by size is a choice: it is what the
    covariance of part and sum gives (5.2.2) where all components have one sign, and it is never below 0.
    """
    shares: dict[Hashable, float] = dict.fromkeys((None, *parts), 0.0)
    variance = sum(component**2 for component in figure.components.values())
    for source, component in figure.components.items() if variance else ():
        sizes = {name: size for name, part in parts.items() if (size := abs(part.components.get(source, 0.0)))}
        whole = sum(sizes.values())
        for name, size in sizes.items():
            shares[name] += component**2 / variance * size / whole
        if not sizes:
            shares[None] += component**2 / variance
    return shares

"""Each lighter item tried on a kit: two full assessments, and the difference between them.

Float checks were made in the kit as it is now. They teach about body and kit as they were, so that a changed kit is
assessed with the kit of the checks beside it.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.item_weight import mass_alone
from kitbuilder.assess.figures import NEGLIGIBLE, Figure, Range, difference, total
from kitbuilder.assess.findings import Finding, Signal
from kitbuilder.assess.fit.verdict import Verdict
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.item_edit import ItemEdit, with_edits
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit
from kitbuilder.kit.spare import in_hand
from kitbuilder.plans.kept_checks import with_checks_of
from kitbuilder.plans.losses import bore_of, time_through
from kitbuilder.plans.swaps.front import Front, SetOption, find_front
from kitbuilder.plans.swaps.options import HOSE_KINDS, Option, options_of

LEAST_KG = 0.0005
"""A change that saves less than half a gram saves nothing."""


class HoseChange(NamedTuple):
    """What becomes of the fit of a hose; None where its run is not known."""

    tag: str
    verdict: tuple[Verdict | None, Verdict | None]
    """Before and after."""
    stand_off: tuple[Range | None, Range | None]
    """How far it bows out, before and after [m]; None where it does not, or hangs in a loop."""
    emptying: tuple[Range | None, Range | None]
    """How long it takes to empty the cylinders if it bursts at depth, before and after [s]."""

    @property
    def empties_alike(self) -> bool:
        """Whether a burst empties the cylinders as fast as before, as far as is known."""
        old, new = self.emptying
        return old is None or new is None or abs(old.value - new.value) <= NEGLIGIBLE


class Effect(NamedTuple):
    """What changes of a kit change: its assessment after them, against that before."""

    after: Assessment
    saved: Figure
    """Of the mass in the bag [kg]."""
    lead: Figure | None
    """Change of the lead there [kg]; None where the lead cannot be worked out."""
    new: tuple[Finding, ...]
    """Findings that were not there before, or not as bad, the worst first."""
    gone: tuple[Finding, ...]
    """Findings that are no longer there, or not as bad."""
    hoses: tuple[HoseChange, ...]
    """The hoses that are swapped."""

    @property
    def worst(self) -> Signal | None:
        """The signal word of the worst new finding."""
        return self.new[0].signal if self.new else None

    @property
    def is_worse(self) -> bool:
        """Whether it brings a warning or a danger."""
        return self.worst is not None and self.worst >= Signal.WARNING


class Swap(NamedTuple):
    """One change of a kit, worked out."""

    option: Option
    tags: tuple[str, ...]
    """Of the items that it changes."""
    effect: Effect

    @property
    def is_of_hose(self) -> bool:
        """Whether a hose takes the place of a hose."""
        return self.option.kind in HOSE_KINDS or bool(self.effect.hoses)


class SwapSet(NamedTuple):
    """Several changes at once."""

    swaps: tuple[Swap, ...]
    effect: Effect
    """Of all of them together, assessed as a whole."""
    price: float
    """The sum of the prices that are known, in the currency of the stock."""
    without_price: int
    """How many of them have no price."""

    @property
    def edits(self) -> tuple[ItemEdit, ...]:
        """The edits of all of them, each once."""
        return edits_of(self.swaps)


def edits_of(swaps: Iterable[Swap]) -> tuple[ItemEdit, ...]:
    """Give the edits of some swaps, each once."""
    found: list[ItemEdit] = []
    for swap in swaps:
        found += [edit for edit in swap.option.edits if edit not in found]
    return tuple(found)


class Swaps(NamedTuple):
    """All swaps of a kit."""

    before: Assessment
    away: frozenset[str]
    """The tags of items that do not travel."""
    bag: Figure
    """Mass of all that travels, before any change [kg]."""
    swaps: tuple[Swap, ...]
    """What saves most first."""
    sets: tuple[SwapSet, ...]
    """The lightest first."""
    front: Front
    hoses: SwapSet | None
    """The lightest hoses all at once; None where no hose can be lighter."""
    currency: str
    """Of the prices; empty where none is named."""

    @property
    def without_mass(self) -> tuple[str, ...]:
        """The tags of what travels and has no mass that is known."""
        pairs = zip(self.before.kit.items, self.before.masses, strict=True)
        return tuple(item.tag for item, mass in pairs if mass is None and _travels(item.tag, item.rented, self.away))

    @property
    def reach(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """The least and the greatest change of lead, and mass saved, of all sets, and of the kit as it is [kg]."""
        leads = [each.effect.lead.value for each in self.sets if each.effect.lead]
        saved = [each.effect.saved.value for each in self.sets]
        return (min(0.0, *leads, 0.0), max(0.0, *leads, 0.0)), (min(0.0, *saved, 0.0), max(0.0, *saved, 0.0))

    @property
    def sums_off_kg(self) -> float:
        """By how much a set, assessed as a whole, differs most from the sum of its changes, in bag or lead [kg]."""
        off = [0.0]
        for each in self.sets:
            alone = [swap.effect for swap in each.swaps]
            off.append(abs(each.effect.saved.value - sum(effect.saved.value for effect in alone)))
            if each.effect.lead is not None:
                leads = sum(effect.lead.value for effect in alone if effect.lead)
                off.append(abs(each.effect.lead.value - leads))
        return max(off)

    @property
    def ahead_of_hoses(self) -> tuple[Swap, ...]:
        """The best swap of each other item that alone saves more than all hoses together."""
        if self.hoses is None:
            return ()
        least = self.hoses.effect.saved.value
        best: dict[tuple[int, ...], Swap] = {}
        for swap in self.swaps:
            if not swap.is_of_hose and swap.effect.saved.value > least:
                best.setdefault(swap.option.items, swap)
        return tuple(best.values())


def plan_swaps(kit: ResolvedKit, away: frozenset[str] = frozenset(), gear: tuple[str, Gear] | None = None) -> Swaps:
    """Work out every swap of a kit, and the sets of them that no other set beats.

    Args:
        kit: The kit.
        away: The tags of items that are rented or left at home already: nothing is saved with them.
        gear: A gear file in the folder of the kit to take items from instead of the kit's own, by its file name.
    """
    first: tuple[ItemEdit, ...] = ()
    if gear is not None and gear[0] != kit.header.gear:
        first = (ItemEdit(None, {"gear": gear[0]}),)
        linked = kit.linked._replace(gear=gear[1], gear_problems=())
        kit = with_edits(kit, first, linked)
    before, checked = assess(kit), with_checks_of(kit)
    tried = (_swap(option, before, checked, away) for option in options_of(before, away, first))
    swaps = [swap for swap in tried if swap.effect.saved.value > LEAST_KG]
    swaps.sort(key=lambda swap: -swap.effect.saved.value)
    front = find_front([_for_set(number, swap) for number, swap in enumerate(swaps) if _may_combine(swap)])
    sets = (_set([swaps[number] for number in found.options], before, checked, away) for found in front.points)
    stock = kit.linked.stock
    return Swaps(
        before=before,
        away=away,
        bag=bag_mass(before, away),
        swaps=tuple(swaps),
        sets=tuple(sorted(sets, key=lambda each: -each.effect.saved.value)),
        front=front,
        hoses=_all_hoses(swaps, before, checked, away),
        currency=(stock.header.currency or "") if stock else "",
    )


def bag_mass(assessment: Assessment, away: frozenset[str]) -> Figure:
    """Give the mass of what travels of a kit: all that is neither rented nor left, a cylinder without gas [kg]."""
    pairs = zip(assessment.kit.items, assessment.masses, strict=True)
    masses = (
        mass_alone(in_hand(item)) if isinstance(in_hand(item), Cylinder) else mass
        for item, mass in pairs
        if _travels(item.tag, item.rented, away)
    )
    return total((mass for mass in masses if mass), "sum of all items that travel")


def _travels(tag: str, rented: bool | None, away: frozenset[str]) -> bool:
    return not rented and tag not in away


def _effect(before: Assessment, edits: Sequence[ItemEdit], checked: LinkedFiles, away: frozenset[str]) -> Effect:
    """Assess a kit after some edits, and compare; what becomes of hoses is left out."""
    after = assess(with_edits(before.kit, edits, checked))
    lead = None
    if before.balance and after.balance:
        lead = difference(after.balance.lead, before.balance.lead, "lead after less lead before")
    return Effect(
        after,
        difference(bag_mass(before, away), bag_mass(after, away), "mass in the bag before less after"),
        lead,
        tuple(_worse(after, before)),
        tuple(_worse(before, after)),
        (),
    )


def _swap(option: Option, before: Assessment, checked: LinkedFiles, away: frozenset[str]) -> Swap:
    effect = _effect(before, option.edits, checked, away)
    hoses = tuple(_hose_changes(before, effect.after, option.items))
    return Swap(option, tuple(before.kit.items[number].tag for number in option.items), effect._replace(hoses=hoses))


def _worse(one: Assessment, other: Assessment) -> Iterator[Finding]:
    """Give the findings of one that the other has not, or not as bad: a number in them that changes is no finding."""
    known: dict[tuple[str, int | None], Signal] = {}
    for finding in other.findings:
        place = finding.rule, finding.item
        known[place] = max(known.get(place, finding.signal), finding.signal)
    yield from (found for found in one.findings if found.signal > known.get((found.rule, found.item), 0))


def _hose_changes(before: Assessment, after: Assessment, numbers: Sequence[int]) -> Iterator[HoseChange]:
    for old, new in zip(before.hoses, after.hoses, strict=True):
        if old.number in numbers and old.hose != new.hose:
            fits = old.fit, new.fit
            # Nothing of a hose but its bore decides how fast it lets gas out.
            now = time_through(old.number, before)
            then = now if bore_of(old.hose) == bore_of(new.hose) else time_through(old.number, after)
            yield HoseChange(
                old.hose.tag,
                (fits[0].verdict if fits[0] else None, fits[1].verdict if fits[1] else None),
                (fits[0].stand_off if fits[0] else None, fits[1].stand_off if fits[1] else None),
                (now, then),
            )


# ---- sets ----


def _may_combine(swap: Swap) -> bool:
    return not swap.option.is_alone and not swap.effect.is_worse


def _for_set(number: int, swap: Swap) -> SetOption:
    option, effect = swap.option, swap.effect
    lead_kg = effect.lead.value if effect.lead else 0.0
    measures = -effect.saved.value, lead_kg, option.price or 0.0, float(option.price is None)
    return SetOption(number, frozenset(option.items), option.owned, measures)


def _set(swaps: Sequence[Swap], before: Assessment, checked: LinkedFiles, away: frozenset[str]) -> SwapSet:
    prices = [swap.option.price for swap in swaps]
    edits = [edit for swap in swaps for edit in swap.option.edits]
    # How a hose fits does not depend on what else is swapped.
    hoses = tuple(hose for swap in swaps for hose in swap.effect.hoses)
    return SwapSet(
        tuple(swaps),
        _effect(before, edits, checked, away)._replace(hoses=hoses),
        round(sum(price for price in prices if price is not None), 2),
        sum(price is None for price in prices),
    )


def _all_hoses(swaps: Sequence[Swap], before: Assessment, checked: LinkedFiles, away: frozenset[str]) -> SwapSet | None:
    """Put the lightest hose in the place of each; one that brings a warning is left out."""
    best: dict[tuple[int, ...], Swap] = {}
    taken: set[str] = set()
    for swap in swaps:
        free = swap.option.items not in best and swap.option.owned not in taken
        if swap.is_of_hose and free and not swap.effect.is_worse:
            best[swap.option.items] = swap
            taken |= {swap.option.owned} - {""}
    return _set([*best.values()], before, checked, away) if best else None

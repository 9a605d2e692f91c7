"""What can take the place of an item of a kit: another body, length or preset, an owned item, one that is rented."""

import dataclasses
from collections.abc import Iterator
from typing import Any, NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit.advice import Advice, advise, fitting_stock, length_as_stated
from kitbuilder.assess.fit.hose_figures import BODIES, HoseFigures, with_hose
from kitbuilder.assess.fit.stock_lengths import is_one_stock_length, stock_lengths
from kitbuilder.assess.fit.verdict import DOES_NOT_FIT, FITS
from kitbuilder.assess.gas.oxygen_clean import needs_clean
from kitbuilder.assess.gear.joinable import candidates_for
from kitbuilder.assess.hoses.joints import is_only_from_maker
from kitbuilder.assess.hoses.ports import ports_of
from kitbuilder.assess.trip.facts import facts_of
from kitbuilder.catalogue import Preset, catalogue
from kitbuilder.catalogue.swaps import RentalKind, swap_facts
from kitbuilder.kit.gear import Owned, OwnedHose
from kitbuilder.kit.item_edit import ItemEdit, of_another_specimen
from kitbuilder.kit.items import Cylinder, Drysuit, FirstStage, Hose, Item, Lead, Suit
from kitbuilder.kit.owned import changes_to_take_up, shared_attributes, taken_up
from kitbuilder.kit.resolved import ResolvedKit

BODY, LENGTH, BODY_AND_LENGTH = "hose body", "hose length", "hose body and length"
PART, THICKNESS, INLET, OWNED, RENTED = "lighter part", "thinner foam", "first stage", "owned item", "rented"
KINDS = (BODY, LENGTH, BODY_AND_LENGTH, PART, THICKNESS, INLET, OWNED, RENTED)
"""The kinds of swap."""
HOSE_KINDS = (BODY, LENGTH, BODY_AND_LENGTH)
NOT_FROM_GEAR = (Cylinder, Lead)
"""What is not swapped for an owned item: another cylinder is another gas plan, and lead is counted."""


class Option(NamedTuple):
    """One change of a kit, before it is worked out."""

    kind: str
    """One of `KINDS`."""
    items: tuple[int, ...]
    """The numbers of the items that it changes."""
    new: str
    """What takes their place: a preset, a hose, the tag of an owned item; empty where the same is rented."""
    edits: tuple[ItemEdit, ...]
    gives_up: str = ""
    """What it may do less well; empty where nothing is known."""
    is_alone: bool = False
    """Whether it is never put into a set."""
    price: float | None = None
    """What it costs, in the currency of the stock; 0 for what is owned; None where no file gives a price."""
    owned: str = ""
    """The tag of the item of the gear file that it takes."""
    length_m: float | None = None
    """Of a hose that is swapped for another [m]."""


def options_of(assessment: Assessment, away: frozenset[str], before: tuple[ItemEdit, ...] = ()) -> Iterator[Option]:
    """List every change that may make a kit lighter in the bag.

    Args:
        assessment: The kit worked out.
        away: The tags of items that do not travel; nothing is saved with them.
        before: Edits that an owned item needs first, such as the name of the gear file.
    """
    kit = assessment.kit
    travelling = {number for number, item in enumerate(kit.items) if not item.rented and item.tag not in away}
    for number in sorted(travelling):
        item = kit.items[number]
        if isinstance(item, Hose):
            yield from _other_hoses(assessment, number)
        elif isinstance(item, FirstStage):
            yield from _other_first_stages(kit, number)
        elif isinstance(item, Suit):
            yield from _thinner_foam(kit, number)
        else:
            yield from _lighter_presets(kit, number)
        yield from _owned(assessment, number, before)
    for rental in swap_facts().rentals:
        yield from _rented(kit, rental, travelling)


# ---- hoses ----


def _other_hoses(assessment: Assessment, number: int) -> Iterator[Option]:
    """List hoses of other bodies, and of a shorter length that is sold and fits."""
    figures = assessment.hose_figures(number)
    if figures is None:
        return
    present = figures.hose
    for body in BODIES:
        hose = dataclasses.replace(present, body=body)
        for length_m, price in _lengths_for(with_hose(figures, hose), assessment.kit):
            kind = _kind_of(present, body, length_m)
            if kind:
                yield _hose_option(assessment.kit, number, (kind, body, length_m, price))


def _kind_of(present: Hose, body: str, length_m: float) -> str:
    is_shorter = not is_one_stock_length(length_m, present.length_m)
    if body == present.body:
        return LENGTH if is_shorter else ""
    return BODY_AND_LENGTH if is_shorter else BODY


def _lengths_for(figures: HoseFigures, kit: ResolvedKit) -> Iterator[tuple[float, float | None]]:
    """Give the lengths in which a hose can be bought, each with its price: as long as now, and the shortest that fits.

    A hose of which an end is made by one maker alone is in no list of lengths.
    """
    hose, stock = figures.hose, kit.linked.stock
    advice = advise(figures, stock)
    if stock is None:
        if is_only_from_maker(hose):
            return
        if any(is_one_stock_length(length, hose.length_m) for length in stock_lengths(hose)):
            yield hose.length_m, None
    else:
        same = [
            each
            for each in fitting_stock(hose, stock)
            if is_one_stock_length(length_as_stated(each.length_m, each.measured, hose), hose.length_m)
        ]
        prices = [each.price for each in same if each.price is not None]
        if same:
            yield hose.length_m, min(prices, default=None)
    if advice is not None:
        yield from _shorter(advice)


def _shorter(advice: Advice) -> Iterator[tuple[float, float | None]]:
    buy, now_m = advice.buy, advice.hose.length_m
    if buy is None or buy.length_m >= now_m or is_one_stock_length(buy.length_m, now_m):
        return
    if buy.verdict.outcome == FITS:
        yield buy.length_m, buy.stocked.price if buy.stocked else None


def _hose_option(kit: ResolvedKit, number: int, hose: tuple[str, str, float, float | None]) -> Option:
    kind, body, length_m, price = hose
    values = _another(kit, number) | {"body": body}
    if kind != BODY:
        values["length_m"] = length_m
    return Option(kind, (number,), body, (ItemEdit(number, values),), price=price, length_m=length_m)


# ---- parts of the catalogue ----


def _lighter_presets(kit: ResolvedKit, number: int) -> Iterator[Option]:
    """List the lighter presets of the same family."""
    item = kit.items[number]
    own = catalogue().presets.get((item.kind, getattr(item, "preset", None) or ""))
    family = next(
        (each for each in swap_facts().families if own and each.kind == item.kind and own.name in each.presets), None
    )
    if own is None or family is None:
        return
    for name in family.presets:
        other = catalogue().presets[item.kind, name]
        if other.mass.expected < own.mass.expected and other.inlet == own.inlet:
            edit = ItemEdit(number, _another(kit, number) | {"preset": name})
            yield Option(PART, (number,), name, (edit,), family.gives_up, family.alone)


def _other_first_stages(kit: ResolvedKit, number: int) -> Iterator[Option]:
    """List the lighter first stages of the catalogue with the same ports, so that every hose stays where it is."""
    item = kit.items[number]
    assert isinstance(item, FirstStage)
    own, ports = catalogue().presets.get((item.kind, item.preset or "")), ports_of(item)
    if own is None or not ports:
        return
    for (kind, name), other in catalogue().presets.items():
        if kind != item.kind or other.mass.expected >= own.mass.expected:
            continue
        if ports_of(FirstStage(tag=item.tag, preset=name)) != ports:
            continue
        if other.not_for_rich_gas and item.tag in needs_clean(kit):
            continue
        is_inlet = other.connection != own.connection
        gives_up = f"valves for {own.connection}: this one needs {other.connection}" if is_inlet else _not_for(other)
        values = _another(kit, number) | {"preset": name} | _taken_out(item, "connection", "ports")
        yield Option(INLET, (number,), name, (ItemEdit(number, values),), gives_up)


def _not_for(preset: Preset) -> str:
    """Say what an item is not for."""
    return "gas rich in oxygen" if preset.not_for_rich_gas else ""


def _thinner_foam(kit: ResolvedKit, number: int) -> Iterator[Option]:
    """List the next thinner foam that is sold."""
    item, foam = kit.items[number], swap_facts().foam
    assert isinstance(item, Suit)
    thinner = [size for size in foam.thickness_m if size < item.thickness_m - 1e-6]
    for size in thinner[:1]:
        edit = ItemEdit(number, _another(kit, number) | {"thickness_m": size})
        new = f"{item.cut}, {size * 1e3:g} mm"
        yield Option(THICKNESS, (number,), new, (edit,), foam.gives_up, is_alone=True)


# ---- owned, and rented ----


def _owned(assessment: Assessment, number: int, before: tuple[ItemEdit, ...]) -> Iterator[Option]:
    """List what the gear file has to build in instead; of hoses, those that are not known to be too short or long."""
    kit = assessment.kit
    item, own = kit.items[number], kit.unresolved.items[number]
    if isinstance(item, NOT_FROM_GEAR):
        return
    for candidate in candidates_for(kit, number):
        entry = candidate.entry
        if not candidate.is_free or candidate.reasons or entry.tag == own.owned:
            continue
        if not _does_the_job(item, entry) or not _may_fit(assessment.hose_figures(number), entry):
            continue
        changes: dict[str, Any] = changes_to_take_up(own, entry)
        values = of_another_specimen(own) | changes | {"owned": entry.tag}
        is_warm = isinstance(item, Suit | Drysuit)
        gives_up = "warmth, where it is thinner" if is_warm else ""
        edits = (*before, ItemEdit(number, values))
        length_m = entry.length_m if isinstance(entry, OwnedHose) else None
        yield Option(OWNED, (number,), entry.tag, edits, gives_up, is_warm, 0.0, entry.tag, length_m)


def _does_the_job(item: Item, entry: Owned) -> bool:
    """Say whether an owned item of the same kind is for the same job: a hose, a first stage, foam, else its family."""
    if isinstance(item, Hose | FirstStage | Suit):
        return True
    names = {getattr(item, "preset", None) or "", getattr(entry, "preset", None) or ""}
    families = (family.presets for family in swap_facts().families if family.kind == item.kind)
    return "" not in names and (len(names) == 1 or any(names <= {*presets} for presets in families))


def _may_fit(figures: HoseFigures | None, entry: Owned) -> bool:
    """Say whether nothing is known against the length of an owned hose; so of anything else."""
    if figures is None or not isinstance(entry, OwnedHose):
        return True
    taken = taken_up(figures.hose, entry)
    assert isinstance(taken, Hose)
    fit = with_hose(figures, taken).fit
    return fit is None or fit.verdict.outcome != DOES_NOT_FIT


def _rented(kit: ResolvedKit, rental: RentalKind, travelling: set[int]) -> Iterator[Option]:
    """Give the items that are rented together, as one change."""
    items = tuple(number for number in sorted(travelling) if _is_rented_with(kit.items[number], rental))
    if any(kit.items[number].kind in rental.kinds for number in items):
        edits = tuple(ItemEdit(number, _as_rented(kit, number)) for number in items)
        yield Option(RENTED, items, "", edits, rental.gives_up, rental.alone)


def _is_rented_with(item: Item, rental: RentalKind) -> bool:
    if rental.with_cylinders and facts_of(item).is_with_cylinder:
        return True
    which = item.cut if isinstance(item, Suit) else getattr(item, "preset", None)
    return item.kind in rental.kinds and (not rental.presets or which in rental.presets)


def _as_rented(kit: ResolvedKit, number: int) -> dict[str, Any]:
    """Give the values of an item that is rented: another specimen, where the catalogue says what such items weigh."""
    item = kit.items[number]
    is_known = isinstance(item, Suit) or getattr(item, "preset", None) is not None
    return (_another(kit, number) if is_known else {}) | {"rented": True}


# ---- what stands in the file ----


def _another(kit: ResolvedKit, number: int) -> dict[str, Any]:
    """Give the values by which an item becomes another specimen that is not owned.

    What the gear file said of it beside what was measured, such as the ends of a hose, is then said by the kit.
    """
    own, filled = kit.unresolved.items[number], kit.items[number]
    values: dict[str, Any] = of_another_specimen(own)
    if own.owned is None:
        return values
    kept = {
        name: getattr(filled, name)
        for name in shared_attributes(own.kind)
        if getattr(own, name) != getattr(filled, name) and name not in of_another_specimen(filled)
    }
    return values | kept | {"owned": None}


def _taken_out(item: Item, *names: str) -> dict[str, Any]:
    return dict.fromkeys(name for name in names if getattr(item, name))

"""Whether one item can replace another, and which item serves which need.

The gear's needs, the changeover and fewest hoses ask here. A record holds what decides and nothing else. What is not
in it does not decide: tag, role and route say where an item is used; adapters are items of their own; a swivel pin can
be put in; two weighings differ by what a scale is off.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from kitbuilder.assess.fit.stock_lengths import is_one_stock_length
from kitbuilder.assess.gas.feeds import NO_VALVE
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.assess.hoses.ports import inlet_of, ports_of
from kitbuilder.catalogue import Fitting, catalogue
from kitbuilder.kit.gear import Owned, OwnedAdapter, OwnedHose, OwnedOther
from kitbuilder.kit.items import Cylinder, Device, FirstStage, Hose, Item

KIND, ENDS, BODY, LENGTH, BORE, MAKE, PRESET, FITS, NAME, CLEAN = (
    "kind",
    "ends",
    "body",
    "length",
    "bore",
    "make",
    "preset",
    "ports or inlet",
    "named",
    "not known to be clean",
)
"""Why one item does not do for another: it differs in this, another is named, or it may not be clean enough."""
HOSE_ONLY = "hose only"
SAME_BORE_M = 5e-5
"""Two bores that differ by no more are one: files give a bore to a tenth of a millimetre, or in inches."""


@dataclass(frozen=True, slots=True)  # never equal to the record of another kind, whatever it holds
class HoseRecord:
    """What decides whether one hose does for another, however a file writes it."""

    service: str
    """ "LP" or "HP", by the end at the first stage."""
    from_end: str
    to_end: str
    body: str
    length_m: float
    """End to end, to the micrometre."""
    bore_m: float | None = None
    """To the micrometre; None when not given."""
    make: str | None = None


@dataclass(frozen=True, slots=True)  # never equal to the record of a hose, whatever it holds
class PartRecord:
    """The same for a first stage, a device or an adapter."""

    kind: str
    fits: tuple[str, ...]
    """The ports of a first stage, each with its thread; the inlet of a device; the name of an adapter."""
    preset: str | None = None
    make: str | None = None


Record = HoseRecord | PartRecord


class Piece(NamedTuple):
    """One item that is available, or one that is needed."""

    record: Record
    owned: str | None = None
    """Its tag in the gear file. Where an item is needed by this tag, only that one serves."""
    is_clean: bool = False
    """Whether it is known to be clean for gas rich in oxygen."""
    must_be_clean: bool = False
    """Whether it is used with gas so rich that it has to be."""


# ---- records ----


def record_of(item: Item | Owned) -> Record | None:
    """Give the record of an item of a kit or a gear file; None for an item that is not screwed on anywhere."""
    if isinstance(item, OwnedHose):  # its ends are in its file; it has no role to tell them by
        fittings = catalogue().fittings
        return hose_record(item, fittings[item.from_end or ""], fittings[item.to_end or ""])
    if isinstance(item, Hose):
        ends = ends_of(item)
        return hose_record(item, ends.at_first_stage, ends.at_device)
    if isinstance(item, FirstStage):
        ports = ports_of(FirstStage(tag=item.tag, preset=item.preset, ports=item.ports))
        fits = tuple(f"{name} {port.thread}" for name, port in ports.items())
        return PartRecord(item.kind, fits, item.preset, item.make)
    if isinstance(item, Device) and not isinstance(item, OwnedOther):
        inlet = inlet_of(item)
        return PartRecord(item.kind, (inlet,) if inlet else (), item.preset, item.make)
    return adapter_record(item.adapter) if isinstance(item, OwnedAdapter) else None


def hose_record(hose: Hose, at_first_stage: Fitting, at_device: Fitting) -> HoseRecord:
    """Give the record of a hose with these ends."""
    return HoseRecord(
        at_first_stage.service,
        at_first_stage.name,
        at_device.name,
        hose.body,
        end_to_end_m(hose.length_m, hose.measured, at_first_stage, at_device),
        None if hose.bore_m is None else round(hose.bore_m, 6),
        hose.make,
    )


def end_to_end_m(length_m: float, measured: str | None, at_first_stage: Fitting, at_device: Fitting) -> float:
    """Convert a stated length to end to end [m]; to the micrometre, so that its unit does not matter."""
    ends_m = at_first_stage.envelope_length.value + at_device.envelope_length.value
    return round(length_m + (ends_m if measured == HOSE_ONLY else 0.0), 6)


def adapter_record(name: str) -> PartRecord:
    """Give the record of an adapter of the catalogue."""
    return PartRecord(OwnedAdapter.kind, (name,))


# ---- one for another ----


def does_for(have: Record, want: Record) -> bool:
    """Say whether one item can replace another."""
    return next(_differences(have, want), None) is None


def unlike(have: Record, want: Record, *, any_body: bool = False, any_length: bool = False) -> tuple[str, ...]:
    """Say why one item does not do for another; empty when it does.

    What only one of the two gives (bore, make, preset) does not decide.

    Args:
        have: The available item.
        want: The item that is needed.
        any_body: Whether a hose may have another body.
        any_length: Whether the length of a hose is judged elsewhere, by its fit.
    """
    left_out = {reason for reason, is_free in ((BODY, any_body), (LENGTH, any_length)) if is_free}
    return tuple(reason for reason in _differences(have, want) if reason not in left_out)


def _differences(have: Record, want: Record) -> Iterator[str]:
    """Give each way in which two records differ, so that who asks only whether they do stops at the first."""
    if isinstance(have, HoseRecord) and isinstance(want, HoseRecord):
        yield from _hose_differences(have, want)
    elif isinstance(have, HoseRecord) or isinstance(want, HoseRecord) or have.kind != want.kind:
        yield KIND
    else:
        if have.fits != want.fits:
            yield FITS
        if _contradict(have.preset, want.preset):
            yield PRESET
        if _contradict(have.make, want.make):
            yield MAKE


def _hose_differences(have: HoseRecord, want: HoseRecord) -> Iterator[str]:
    if (have.to_end, have.from_end, have.service) != (want.to_end, want.from_end, want.service):
        yield ENDS
    if have.body != want.body:
        yield BODY
    if not is_one_stock_length(have.length_m, want.length_m):
        yield LENGTH
    if not is_one_bore(have.bore_m, want.bore_m):
        yield BORE
    if _contradict(have.make, want.make):
        yield MAKE


def is_one_bore(one_m: float | None, other_m: float | None) -> bool:
    """Say whether two bores [m] may be one: they are equal within `SAME_BORE_M`, or one is not given."""
    return one_m is None or other_m is None or round(abs(one_m - other_m), 9) <= SAME_BORE_M


def _contradict(have: object, want: object) -> bool:
    return bool(have and want and have != want)


def is_one_cylinder(one: Cylinder, other: Cylinder) -> bool:
    """Say whether two kits may speak of one cylinder: one item of the gear file, else nothing that contradicts.

    A cylinder whose valve a manifold replaces is another for whoever sits on it.
    """
    if one.owned and other.owned:
        return one.owned == other.owned
    if (one.valve == NO_VALVE) != (other.valve == NO_VALVE):
        return False
    keys = ("preset", "metal", "volume_m3", "working_pressure_pa", "stamped_mass_kg", "mass_kg", "valve")
    return not any(_contradict(getattr(one, key), getattr(other, key)) for key in keys)


# ---- which serves which ----


def serves(have: Piece, want: Piece) -> bool:
    """Say whether an available item serves a need."""
    return not (_is_another(have, want) or _is_unclean(have, want)) and does_for(have.record, want.record)


def unfit(have: Piece, want: Piece, *, any_body: bool = False, any_length: bool = False) -> tuple[str, ...]:
    """Say why an available item does not serve a need; empty when it does. See `unlike` for the arguments."""
    reasons = unlike(have.record, want.record, any_body=any_body, any_length=any_length)
    of_pieces = ((NAME, _is_another(have, want)), (CLEAN, _is_unclean(have, want)))
    return (*reasons, *(reason for reason, is_so in of_pieces if is_so))


def _is_another(have: Piece, want: Piece) -> bool:
    return want.owned is not None and have.owned != want.owned


def _is_unclean(have: Piece, want: Piece) -> bool:
    return want.must_be_clean and not (have.is_clean or have.must_be_clean)


def allot(haves: Sequence[Piece], wants: Sequence[Piece]) -> dict[int, int]:
    """Serve as many needs as can be served: the place of an available item, by that of the need it serves.

    Needs that name an item come first. Later ones move earlier ones to another of theirs where that makes room, so
    that the order of the files does not decide how many are served.
    """
    # Grouped first, since asking every pair took too long at each edit of a kit; see `_group`.
    groups: dict[object, list[int]] = {}
    for number, have in enumerate(haves):
        groups.setdefault(_group(have.record), []).append(number)
    fits = {
        place: [number for number in groups.get(_group(want.record), ()) if serves(haves[number], want)]
        for place, want in enumerate(wants)
    }
    holder: dict[int, int] = {}
    # False sorts before True: needs that name their item come first.
    for place in sorted(fits, key=lambda place: wants[place].owned is None):
        _find_place(place, fits, holder, set())
    return {place: number for number, place in holder.items()}


def _group(record: Record) -> object:
    """Say what two records that do for each other always share, so that not every pair has to be asked."""
    return record.kind if isinstance(record, PartRecord) else (record.from_end, record.to_end)


def _find_place(place: int, fits: dict[int, list[int]], holder: dict[int, int], seen: set[int]) -> bool:
    for number in fits[place]:
        if number in seen:
            continue
        seen.add(number)
        if number not in holder or _find_place(holder[number], fits, holder, seen):
            holder[number] = place
            return True
    return False

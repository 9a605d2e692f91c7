"""The hoses that may be in the set: those owned, each once, and those available to buy, any number of each."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.fit.advice import has_ends, length_as_stated
from kitbuilder.assess.fit.stock_lengths import stock_lengths
from kitbuilder.assess.gear.sameness import HoseRecord, Piece, end_to_end_m, unfit
from kitbuilder.assess.gear.shortage import pieces_in
from kitbuilder.assess.hoses.hose_weight import weigh_hose
from kitbuilder.assess.hoses.joints import is_only_from_maker
from kitbuilder.assess.water import USUAL_WATER, water_named
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.gear import Gear, OwnedHose
from kitbuilder.kit.items import Hose
from kitbuilder.kit.stock import Stock, StockHose
from kitbuilder.plans.fewest.runs import Lengths, Run

OWNED, STOCKED, CUSTOMARY = "owned", "in stock", "customary"
NO_JOINT = "no joint"
"""Why no hose serves a run, whatever its ends: none joins its port and its device."""


class HoseSources(NamedTuple):
    """Where the hoses may come from."""

    gear: Gear | None = None
    """What is owned; None when nothing of it is to be used."""
    may_buy: bool = True
    stock: Stock | None = None
    """What is available where hoses may be bought; every customary length when None."""


class Spec(NamedTuple):
    """What decides what a hose can serve: two hoses with the same spec are interchangeable."""

    service: str
    body: str
    from_end: str
    to_end: str
    length_m: float
    measured: str | None
    """What the length covers, as a file says it; end to end when None."""
    mass_kg: float | None = None
    """As weighed; None when it never was."""
    mass_spread_kg: float | None = None
    """As given with that; None when it is not."""
    mass_half_digit_kg: float | None = None
    """Half of what its last typed digit is worth; None beside a spread."""

    @property
    def unweighed(self) -> "Spec":
        """The spec without the weight: hoses with the same one are interchangeable."""
        return self._replace(mass_kg=None, mass_spread_kg=None, mass_half_digit_kg=None)


class CandidateHose(NamedTuple):
    """A hose that may be in the set."""

    source: str
    spec: Spec
    tags: tuple[str, ...]
    """Of equal hoses of the gear file, or of the one of the stock; empty where it has none."""
    price: float | None
    """Of one; zero for one that is owned; None when it is not given."""
    mass: Figure
    """Of one [kg]."""
    record: HoseRecord
    """What decides whether it does for another hose."""
    is_clean: bool = True
    """Whether it is clean for gas rich in oxygen; what is bought can be bought so."""

    @property
    def piece(self) -> Piece:
        """The hose as one that is available."""
        return Piece(self.record, is_clean=self.is_clean)

    @property
    def pieces(self) -> int | None:
        """How many there are; None when any number is available."""
        return len(self.tags) if self.is_owned else None

    @property
    def is_owned(self) -> bool:
        """Whether it need not be bought."""
        return self.source == OWNED


def candidates_for(runs: Sequence[Run], sources: HoseSources) -> tuple[CandidateHose, ...]:
    """Give all that may be in the set, whether it serves any run or not: what is owned first."""
    candidates = list(_owned(sources.gear)) if sources.gear else []
    if sources.may_buy:
        candidates += _customary(runs) if sources.stock is None else _stocked(runs, sources.stock)
    return tuple(candidates)


def why_it_serves(run: Run, candidate: CandidateHose, lengths: Lengths, *, any_body: bool) -> str:
    """Say why a hose serves a run; empty when it does not."""
    if why_not(run, candidate, any_body=any_body):
        return ""
    return may_be_as_long(run, candidate, lengths)


def may_be_as_long(run: Run, candidate: CandidateHose, lengths: Lengths) -> str:
    """Say why a hose is as long as a run needs, whatever else it is; empty when it is not."""
    length_m = length_on(run, candidate.spec)
    return lengths.why_it_does(run, candidate.record, length_m, is_owned=candidate.is_owned)


def why_not(run: Run, candidate: CandidateHose, *, any_body: bool) -> tuple[str, ...]:
    """Say why a hose cannot serve a run however long it is; empty when it can. Its length is judged by its fit."""
    if not run.is_possible:
        return (NO_JOINT,)
    return unfit(candidate.piece, run.piece, any_body=any_body, any_length=True)


def length_on(run: Run, spec: Spec) -> float:
    """Give the length of a hose, stated as the one of a run is [m]."""
    return length_as_stated(spec.length_m, spec.measured, run.hose)


def mass_of(spec: Spec, tag: str) -> Figure:
    """Give the dry mass of a hose with both ends [kg]; each hose has its own length uncertainty, named by its tag."""
    hose = Hose(
        tag=tag,
        role=f"other {spec.service}",
        body=spec.body,
        length_m=spec.length_m,
        measured=spec.measured,
        from_end=spec.from_end,
        to_end=spec.to_end,
        mass_kg=spec.mass_kg,
        mass_spread_kg=spec.mass_spread_kg,
        mass_half_digit_kg=spec.mass_half_digit_kg,
    )
    return weigh_hose(hose, spec.body, water_named(USUAL_WATER)).mass


def _owned(gear: Gear) -> Iterator[CandidateHose]:
    tags: dict[tuple[Spec, HoseRecord, bool], list[str]] = {}
    for stored in pieces_in(gear):
        entry, record = stored.entry, stored.piece.record
        if isinstance(entry, OwnedHose) and isinstance(record, HoseRecord):
            tags.setdefault((_spec_of(entry, record), record, stored.piece.is_clean), []).append(entry.tag)
    for (spec, record, is_clean), alike in tags.items():
        yield CandidateHose(OWNED, spec, tuple(alike), 0.0, mass_of(spec, alike[0]), record, is_clean)


def _spec_of(owned: OwnedHose, record: HoseRecord) -> Spec:
    ends = record.from_end, record.to_end
    weight = owned.mass_kg, owned.mass_spread_kg, owned.mass_half_digit_kg
    return Spec(record.service, record.body, *ends, round(owned.length_m, 6), owned.measured, *weight)


def _record_of(spec: Spec) -> HoseRecord:
    """Give the record of a hose that can be bought: nothing is known of its bore and make."""
    fittings = catalogue().fittings
    at_first_stage, at_device = fittings[spec.from_end], fittings[spec.to_end]
    length_m = end_to_end_m(spec.length_m, spec.measured, at_first_stage, at_device)
    return HoseRecord(at_first_stage.service, spec.from_end, spec.to_end, spec.body, length_m)


def _stocked(runs: Sequence[Run], stock: Stock) -> Iterator[CandidateHose]:
    """Give the hoses of a stock. One whose ends are not given may have any that are wanted, but only some at a time."""
    cheapest: dict[Spec, StockHose] = {}
    wanted = {(run.figures.service, *run.ends): run for run in runs}
    for stocked in stock.items:
        if stocked.in_stock is False:
            continue
        for kind, run in wanted.items():
            if not has_ends(stocked, run.hose):
                continue
            spec = Spec(kind[0], stocked.body, kind[1], kind[2], round(stocked.length_m, 6), stocked.measured)
            known = cheapest.get(spec)
            if known is None or stocked.is_cheaper_than(known):
                cheapest[spec] = stocked
    for spec, stocked in cheapest.items():
        tags = (stocked.tag,) if stocked.tag else ()
        yield CandidateHose(STOCKED, spec, tags, stocked.price, mass_of(spec, stocked.tag), _record_of(spec))


def _customary(runs: Sequence[Run]) -> Iterator[CandidateHose]:
    """Give every customary length in every body that is asked for, with the ends that are asked for and are sold."""
    bodies = dict.fromkeys((run.figures.service, run.hose.body) for run in runs)
    wanted = {(run.figures.service, *run.ends, run.hose.measured): run for run in runs}
    for (service, from_end, to_end, measured), run in wanted.items():
        if is_only_from_maker(run.hose):
            continue
        for of_service, body in bodies:
            for length_m in stock_lengths(run.hose) if of_service == service else ():
                spec = Spec(service, body, from_end, to_end, round(length_m, 6), measured)
                yield CandidateHose(CUSTOMARY, spec, (), None, mass_of(spec, ""), _record_of(spec))

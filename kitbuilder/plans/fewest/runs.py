"""The runs that must be served, one per hose of a kit, and which lengths are suitable for each."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit.hose_figures import HoseFigures, with_hose
from kitbuilder.assess.fit.trial import Option, Trial, is_enough, try_length
from kitbuilder.assess.fit.verdict import FITS
from kitbuilder.assess.gas.oxygen_clean import GasContact, gas_contacts
from kitbuilder.assess.gear.sameness import LENGTH, HoseRecord, Piece, hose_record, unlike
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.assess.hoses.joints import right_hose
from kitbuilder.kit.items import Hose

SURE, SLACK = "fits", "fits, with slack"
MEASURE_FIRST, AS_NOW_UNKNOWN = "measure this run first", "as long as now, its run not known"
"""Why a length does: it fits; it fits, and no shorter one has less slack; it cannot be said yet, but it is as good as
now; since no more than that is known.
"""
CLEARLY_WORSE = 0.05
"""By how much its odds are below those of the present hose where a hose is clearly worse: from memory."""


class Run(NamedTuple):
    """One hose of one kit: what it must reach, and what it must be."""

    number: int
    kit: int
    """The place of its kit among those that are served."""
    kit_name: str
    figures: HoseFigures
    """Of its hose; of one with other ends in its place, where the kit's own does not join."""
    trial: Trial | None
    """None when its run was neither measured nor can be estimated."""
    record: HoseRecord
    """What decides whether another hose does for its hose."""
    contact: GasContact | None
    """What gas its hose meets; None where that is not known."""
    is_possible: bool
    """Whether any hose joins its port and its device."""

    @property
    def must_be_clean(self) -> bool:
        """Whether its gas is so rich in oxygen that the hose has to be clean for it."""
        return self.contact is not None and self.contact.must_be_clean

    @property
    def piece(self) -> Piece:
        """The hose that is needed: any that does, whichever one the kit names."""
        return Piece(self.record, must_be_clean=self.must_be_clean)

    @property
    def hose(self) -> Hose:
        """The hose as the kit has it."""
        return self.figures.hose

    @property
    def ends(self) -> tuple[str, str]:
        """The names of its ends, those not given as usual for its role."""
        return self.record.from_end, self.record.to_end


def runs_of(kits: Sequence[tuple[str, Assessment]]) -> tuple[Run, ...]:
    """Give the runs of all kits, kit by kit.

    Args:
        kits: What each is called, and the kit worked out.
    """
    return tuple(run._replace(number=number) for number, run in enumerate(_runs(kits)))


def _runs(kits: Sequence[tuple[str, Assessment]]) -> Iterator[Run]:
    """Give the runs of all kits, not yet numbered."""
    for place, (name, kit) in enumerate(kits):
        contacts = gas_contacts(kit.kit)
        for figures in kit.hoses:
            right = right_hose(figures.joints)
            hose = right or figures.hose
            ends, wanted = ends_of(hose), with_hose(figures, hose)
            record = hose_record(hose, ends.at_first_stage, ends.at_device)
            trial = wanted.fit.trial if wanted.fit else None
            yield Run(0, place, name, wanted, trial, record, contacts.get(hose.tag), right is not None)


class Lengths:
    """Which lengths do for which run; each is tried once."""

    def __init__(self) -> None:
        """Start with nothing tried."""
        self._tried: dict[tuple[int, float], Option] = {}

    def tried(self, run: Run, length_m: float) -> Option | None:
        """Say what a length would do; None where the run is not known."""
        if run.trial is None:
            return None
        key = run.number, length_m
        if key not in self._tried:
            self._tried[key] = try_length(run.trial, length_m)
        return self._tried[key]

    def why_it_does(self, run: Run, record: HoseRecord, length_m: float, *, is_owned: bool) -> str:
        """Say why a hose is as long as a run needs; empty when it is not.

        Args:
            run: The run.
            record: The hose.
            length_m: Its length, stated as the one of the run's hose is [m].
            is_owned: Whether it need not be bought: what is bought is certain enough, or as long as now.
        """
        is_same, option = LENGTH not in unlike(record, run.record), self.tried(run, length_m)
        if option is None or run.trial is None:
            return AS_NOW_UNKNOWN if is_same else ""
        if option.verdict.outcome == FITS:
            return SURE if not option.verdict.has_slack else SLACK if self._has_no_more_slack(run, option) else ""
        may_be = is_owned or is_same or is_enough(option)
        return MEASURE_FIRST if option.verdict.is_open and may_be and self.is_as_good(run, option) else ""

    def _has_no_more_slack(self, run: Run, option: Option) -> bool:
        """Say whether a length has no more slack than the present one, or than the shortest one sold that fits."""
        closest = run.trial.closest if run.trial else None
        return option.length_m <= max(run.hose.length_m, closest.length_m if closest else 0.0)

    def is_as_good(self, run: Run, option: Option) -> bool:
        """Say whether a length is not clearly less likely to be long enough than the present one."""
        present = self.tried(run, run.hose.length_m)
        return present is None or option.odds >= present.odds - CLEARLY_WORSE

"""The runs that must be served, one a hose of a kit, and which lengths would do for each."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit import is_one_stock_length
from kitbuilder.assess.hose_figures import HoseFigures
from kitbuilder.assess.hose_weight import ends_of
from kitbuilder.assess.on_body.advice import Option, Trial, trial_of, try_length
from kitbuilder.kit.things import Hose

SURE, AS_NOW, AS_NOW_UNKNOWN = "sure", "as long as now", "as long as now, its run not known"
"""Why a length does: by the rules of advice; since it is what is dived; since no more than that is known."""


class Run(NamedTuple):
    """One hose of one kit: what it must reach, and what it must be."""

    number: int
    kit: int
    """The place of its kit among those that are served."""
    kit_name: str
    figures: HoseFigures
    trial: Trial | None
    """None when its run was neither measured nor can be estimated."""

    @property
    def hose(self) -> Hose:
        """The hose as the kit has it."""
        return self.figures.hose

    @property
    def ends(self) -> tuple[str, str]:
        """The names of its ends, those not told as usual for its role."""
        ends = ends_of(self.hose)
        return ends.at_first_stage.name, ends.at_device.name


def runs_of(kits: Sequence[tuple[str, Assessment]]) -> tuple[Run, ...]:
    """The runs of all kits, kit by kit.

    Args:
        kits: What each is called, and the kit worked out.
    """
    found = [(place, name, figures) for place, (name, kit) in enumerate(kits) for figures in kit.hoses]
    return tuple(
        Run(number, place, name, figures, trial_of(figures)) for number, (place, name, figures) in enumerate(found)
    )


class Lengths:
    """Which lengths do for which run; each is tried once."""

    def __init__(self) -> None:
        """Start with nothing tried."""
        self._tried: dict[tuple[int, float], Option] = {}

    def tried(self, run: Run, length_m: float) -> Option | None:
        """What a length would do; None where the run is not known."""
        if run.trial is None:
            return None
        key = run.number, length_m
        if key not in self._tried:
            self._tried[key] = try_length(run.trial, length_m)
        return self._tried[key]

    def why_it_does(self, run: Run, length_m: float) -> str:
        """Why a length, stated as the run's hose is [m], does; empty when it does not."""
        is_same, option = is_one_stock_length(length_m, run.hose.length_m), self.tried(run, length_m)
        if option is None:
            return AS_NOW_UNKNOWN if is_same else ""
        if option.is_sure and option.is_tidy:
            return SURE
        present = self.tried(run, run.hose.length_m)
        return AS_NOW if is_same and present is not None and not present.failed else ""

"""Why no fewer hoses will do: runs of which no two can share a hose; and why a run has none."""

from collections.abc import Mapping, Sequence
from itertools import combinations
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Range, scaled
from kitbuilder.assess.fit.trial import Option, made_length
from kitbuilder.assess.fit.verdict import TOO_SHORT
from kitbuilder.assess.gear.sameness import BODY, BORE, CLEAN, ENDS, MAKE, unlike
from kitbuilder.assess.hoses.joints import is_only_from_maker, usual_by_adapter
from kitbuilder.plans.fewest.candidates import CandidateHose, length_on, may_be_as_long, why_not
from kitbuilder.plans.fewest.runs import Lengths, Run
from kitbuilder.plans.fewest.solver import Task
from kitbuilder.plans.integer_programme import HALF, Constraint, minimise

SAME_KIT, OTHER_ENDS, OTHER_BODY, OTHER_LENGTHS = "same kit", "other ends", "other body", "other lengths"
NO_ONE_LENGTH, OTHER_BORE, OTHER_MAKE, NOT_CLEAN = "no one length", "other bore", "other make", "not known to be clean"
"""Why two runs cannot share a hose."""
UNSURE, IN_THE_WAY, OVERDONE = "may be too short", "stands off", "too much to fold away"
WRONG_BODY, UNKNOWN, NOTHING = "other body", "run not known", "nothing with its ends"
TAKEN, NO_TIME = "taken", "no time"
"""Why the hose that comes nearest does not serve a run; or one of the last three above."""
DOES_NOT_JOIN, FROM_MAKER = "no hose joins its port and its device", "only the maker of the device has it"
"""Why there is none that comes near."""

UNLIKE = {BODY: WRONG_BODY, BORE: OTHER_BORE, MAKE: OTHER_MAKE, CLEAN: NOT_CLEAN}
"""Why a hose with the right ends and a good length does not serve the run."""


class Conflict(NamedTuple):
    """A run that cannot share a hose with another, and why."""

    run: Run
    why: str
    lengths: Range | None
    """From the shortest to the longest that does for it; None where lengths are not the reason."""


class Reason(NamedTuple):
    """Why a hose of the set is needed: it is forced by one run, which can share with none of the others that force."""

    run: Run
    lengths: Range
    """From the shortest to the longest that does for it [m]."""
    apart: tuple[Conflict, ...]


class Unserved(NamedTuple):
    """A run that no hose serves, and what comes nearest."""

    run: Run
    nearest: CandidateHose | None
    why: str
    missing: Figure | None = None
    """How much it is, or may be, too short [m]; None where that is not the reason."""
    stand_off: Range | None = None
    """How far it bows out [m]; None where that is not the reason, or it hangs in a loop."""
    present_odds: float = 0.0
    """How likely the present hose is to be long enough, where that is better, from 0 to 1."""
    odds: float = 0.0
    """How likely it is to be long enough, from 0 to 1."""

    @property
    def or_adapters(self) -> tuple[str, ...]:
        """The adapters with which a hose with the usual ends would do, where there is none with those that join."""
        return usual_by_adapter(self.run.figures.joints, self.run.hose) if self.why == NOTHING else ()


def runs_apart(task: Task) -> tuple[int, ...]:
    """Find as many runs as possible of which no two can share a hose; none when the time is up.

    As many hoses at least are needed to serve them, so a set of no more hoses is proved to be the smallest.
    """
    runs = list(task.kits)
    place = {run: number for number, run in enumerate(runs)}
    rows: list[Constraint] = [([(place[run], 1.0) for run in pair], 0.0, 1.0) for pair in sorted(_sharing(task))]
    if not rows:
        return tuple(runs)
    found = minimise([-1.0] * len(runs), rows, [1.0] * len(runs), task.until)
    return () if found is None else tuple(run for run, value in zip(runs, found[0], strict=True) if value > HALF)


def _sharing(task: Task) -> set[tuple[int, int]]:
    """Give the pairs of runs of two kits that have a kind of hose in common."""
    served = (sorted(kind.serves & task.kits.keys()) for kind in task.kinds.values())
    pairs = (pair for runs in served for pair in combinations(runs, 2))
    return {(one, other) for one, other in pairs if task.kits[one] != task.kits[other]}


def reason_for(run: Run, others: Sequence[Run], ranges: Mapping[int, Range], *, any_body: bool) -> Reason:
    """Say why a run needs a hose of its own among those that force one each."""
    apart = (_apart(run, other, ranges, any_body=any_body) for other in others if other is not run)
    return Reason(run, ranges[run.number], tuple(apart))


def _apart(run: Run, other: Run, ranges: Mapping[int, Range], *, any_body: bool) -> Conflict:
    if run.kit == other.kit:
        return Conflict(other, SAME_KIT, None)
    differs = unlike(other.record, run.record, any_body=any_body, any_length=True)
    if ENDS in differs:
        return Conflict(other, OTHER_ENDS, None)
    if BODY in differs:
        return Conflict(other, OTHER_BODY, None)
    own, theirs = ranges[run.number], ranges[other.number]
    if own.low > theirs.high or theirs.low > own.high:
        return Conflict(other, OTHER_LENGTHS, theirs)
    if BORE in differs:
        return Conflict(other, OTHER_BORE, None)
    if MAKE in differs:
        return Conflict(other, OTHER_MAKE, None)
    if run.must_be_clean != other.must_be_clean:
        return Conflict(other, NOT_CLEAN, None)
    return Conflict(other, NO_ONE_LENGTH, None)  # there are gaps in what does


def ranges_of(suited: Mapping[int, Sequence[CandidateHose]]) -> dict[int, Range]:
    """Give the range from the shortest to the longest suitable hose of each run that has any [m]."""
    found = {}
    for run, candidates in suited.items():
        lengths = [candidate.spec.length_m for candidate in candidates]
        if lengths:
            found[run] = Range(lengths[0], min(lengths), max(lengths))
    return found


def unserved_of(
    run: Run, candidates: Sequence[CandidateHose], suited: Sequence[CandidateHose], lengths: Lengths, *, any_body: bool
) -> Unserved:
    """Say why a run has no hose.

    Args:
        run: The run.
        candidates: All that is owned or available.
        suited: Those of them that would serve it.
        lengths: Which lengths were tried.
        any_body: Whether a hose of another body would do.
    """
    if not run.is_possible:
        return Unserved(run, None, DOES_NOT_JOIN)
    if suited:
        return Unserved(run, suited[0], TAKEN)
    against = [(candidate, why_not(run, candidate, any_body=any_body)) for candidate in candidates]
    alike = [candidate for candidate, differs in against if not differs]
    for candidate, differs in against:
        if differs and ENDS not in differs and may_be_as_long(run, candidate, lengths):
            return Unserved(run, candidate, UNLIKE[differs[0]])
    if alike:
        return _nearest_by_length(run, alike, lengths)
    return Unserved(run, None, FROM_MAKER if is_only_from_maker(run.hose) else NOTHING)


def _nearest_by_length(run: Run, alike: Sequence[CandidateHose], lengths: Lengths) -> Unserved:
    """Find the hose nearest to the shortest certain length, and what is wrong with it."""
    wanted = made_length(run.trial) if run.trial else run.hose.length_m
    nearest = min(alike, key=lambda candidate: abs(length_on(run, candidate.spec) - wanted))
    option = lengths.tried(run, length_on(run, nearest.spec))
    if option is None:
        return Unserved(run, nearest, UNKNOWN)
    verdict = option.verdict
    if verdict.fault == TOO_SHORT:
        return _short_of_it(run, nearest, option, lengths)
    return Unserved(run, nearest, OVERDONE if option.is_overdone else IN_THE_WAY, stand_off=option.stand_off)


def _short_of_it(run: Run, nearest: CandidateHose, option: Option, lengths: Lengths) -> Unserved:
    """Say by how much a hose is too short, and how certain that is."""
    verdict, present = option.verdict, lengths.tried(run, run.hose.length_m)
    missing = scaled(verdict.test.margin, -1.0)
    if verdict.is_too_short:
        return Unserved(run, nearest, TOO_SHORT, missing)
    odds = present.odds if present else 0.0
    return Unserved(run, nearest, UNSURE, missing, present_odds=odds, odds=option.odds)

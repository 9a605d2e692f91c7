"""Threads of the catalogue: their limits, how two of them meet, and which of them a caliper reading allows."""

from collections.abc import Iterable, Iterator
from functools import cache
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.physics import threads as formulas
from kitbuilder.physics.threads import Mating, ThreadLimits, ThreadTolerances
from kitbuilder.units import INCH

PITCH = "pitch"
"""What is measured with a pitch gauge; the caliper has no part in it."""
NEAR_MISS_M = 0.0005
"""A thread this far outside its limits is named, since a worn part or a slanted caliper may be the reason."""


@cache
def limits_of(name: str) -> ThreadLimits:
    """Give the limits of size of a thread, outside and inside [m].

    Raises:
        KeyError: The catalogue has no such thread.
    """
    thread = catalogue().threads[name]
    threads_per_inch = round(INCH / thread.pitch.value, 6)
    if thread.standard == "ASME B1.1":
        return formulas.unified_limits(thread.major.value, threads_per_inch)
    if thread.standard == "ASME B1.20.1":  # NPSM: classes 2A and 2B of the unified threads, over nine pitches
        return formulas.unified_limits(thread.major.value, threads_per_inch, 9 * thread.pitch.value)
    widths = thread.tolerances
    tolerances = ThreadTolerances(widths["Td"], widths["Td2"], widths["TD2"], widths["TD1"])
    if thread.standard == "ISO 965-1":
        return formulas.metric_limits(thread.major.value, thread.pitch.value, widths["es"], tolerances)
    return formulas.pipe_limits(thread.major.value, threads_per_inch, tolerances)


@cache
def meeting(male: str, female: str) -> Mating:
    """Say what happens when a male thread of one name is offered to a female thread of another."""
    return formulas.mating(limits_of(male), limits_of(female))


class ThreadReading(NamedTuple):
    """What a caliper and a pitch gauge said [m]; None for what was not measured."""

    major_m: float | None = None
    """Over the crests of a male thread."""
    minor_m: float | None = None
    """Across the crests of a female thread."""
    pitch_m: float | None = None


class Measured(NamedTuple):
    """One measured size against the limits of one thread [m]."""

    what: str
    value: float
    low: float
    high: float

    @property
    def margin(self) -> float:
        """How far the reading lies inside the nearer limit; below zero it lies outside."""
        return min(self.value - self.low, self.high - self.value)


class ThreadCandidate(NamedTuple):
    """A thread held against a reading."""

    thread: str
    used_for: str
    sizes: tuple[Measured, ...]
    allowed: bool
    """Whether every diameter and the pitch are within their limits, ± the spread of the caliper."""
    mistakes: tuple[str, ...]
    """What this thread is taken for, or forced into, and what comes of it."""

    beware: tuple[str, ...]
    """What it is mistaken for although the thread alone does not tell."""

    @property
    def margin(self) -> float:
        """The smallest margin of its sizes [m]."""
        return min(size.margin for size in self.sizes)


def caliper_spread() -> float:
    """Say how far a usual caliper may be off [m]."""
    return catalogue().limits["caliper_spread"].value


def identify(reading: ThreadReading, caliper_spread_m: float) -> tuple[ThreadCandidate, ...]:
    """Give every thread of the catalogue against a reading, the best margin first.

    Args:
        reading: At least one size.
        caliper_spread_m: How far the caliper may be off, zero or more.

    Raises:
        ValueError: Nothing was measured, or a size is not above zero.
    """
    sizes = [size for size in (reading.major_m, reading.minor_m, reading.pitch_m) if size is not None]
    if not sizes:
        raise ValueError(
            "measure the outside of a male thread (--major), the inside of a female one (--minor) or the pitch"
        )
    if min(sizes) <= 0 or caliper_spread_m < 0:
        raise ValueError("a measured size is above zero")
    candidates = [_candidate(name, reading, caliper_spread_m) for name in catalogue().threads]
    return tuple(sorted(candidates, key=lambda candidate: -candidate.margin))


def is_near_miss(candidate: ThreadCandidate) -> bool:
    """Tell whether a thread is not allowed, but only just: a worn crest has another diameter, never another pitch."""
    reaches = all(size.margin >= (0.0 if size.what == PITCH else -NEAR_MISS_M) for size in candidate.sizes)
    return reaches and not candidate.allowed


def is_pitch_missing(candidates: Iterable[ThreadCandidate]) -> bool:
    """Tell whether the reading has no pitch."""
    return not any(size.what == PITCH for candidate in candidates for size in candidate.sizes)


def _candidate(name: str, reading: ThreadReading, spread: float) -> ThreadCandidate:
    sizes = tuple(_sizes(limits_of(name), reading))
    allowed = all(size.margin >= (0.0 if size.what == PITCH else -spread) for size in sizes)
    is_male = reading.major_m is not None or reading.minor_m is None
    is_female = reading.minor_m is not None or reading.major_m is None
    mistakes = (*(_as_male(name) if is_male else ()), *(_as_female(name) if is_female else ()))
    thread = catalogue().threads[name]
    return ThreadCandidate(name, thread.used_for, sizes, allowed, mistakes, thread.beware)


def _sizes(limits: ThreadLimits, reading: ThreadReading) -> Iterator[Measured]:
    if reading.major_m is not None:
        low, high = limits.external_major_min_m, limits.external_major_max_m
        yield Measured("outside of the male thread", reading.major_m, low, high)
    if reading.minor_m is not None:
        low, high = limits.internal_minor_min_m, limits.internal_minor_max_m
        yield Measured("inside of the female thread", reading.minor_m, low, high)
    if reading.pitch_m is not None:
        # A pitch gauge blade fits or does not: neighbouring blades (18, 20, 24 to the inch) differ by a tenth.
        low, high = limits.pitch_m * 0.97, limits.pitch_m * 1.03
        yield Measured(PITCH, reading.pitch_m, low, high)


def _as_male(name: str) -> Iterator[str]:
    """Give the wrong females that a male thread of this name seems to suit."""
    return _mistakes((name, other) for other in catalogue().threads)


def _as_female(name: str) -> Iterator[str]:
    """Give the wrong males that a female thread of this name seems to take."""
    return _mistakes((other, name) for other in catalogue().threads)


def _mistakes(pairs: Iterator[tuple[str, str]]) -> Iterator[str]:
    for male, female in pairs:
        match meeting(male, female):
            case Mating.DROPS_IN if limits_of(female).basic_major_m - limits_of(male).basic_major_m < _NEXT_SIZE_M:
                yield f"a male {male} slides into a female {female} and nothing holds it"
            case Mating.SHALLOW:
                yield f"DANGER: a male {male} screws into a female {female}, but only part of the thread holds it"
            case Mating.FORM_DIFFERS:
                yield f"a male {male} starts in a female {female}, then binds and strips the thread if it is forced"
            case _:
                pass


_NEXT_SIZE_M = 0.0035
"""Threads further apart than this are not mistaken for each other."""

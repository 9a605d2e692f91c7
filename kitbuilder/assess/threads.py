"""Threads of the catalogue: their limits, how two of them meet, and which of them a caliper reading allows."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from kitbuilder.catalogue import catalogue
from kitbuilder.physics import threads as formulas
from kitbuilder.physics.threads import Mating, ThreadLimits, ThreadTolerances
from kitbuilder.units import INCH


@cache
def limits_of(name: str) -> ThreadLimits:
    """The limits of size of a thread, outside and inside [m].

    Raises:
        KeyError: The catalogue has no such thread.
    """
    thread = catalogue().threads[name]
    threads_per_inch = round(INCH / thread.pitch.value, 6)
    if thread.standard == "ASME B1.1":
        return formulas.unified_limits(thread.major.value, threads_per_inch)
    widths = thread.tolerances
    tolerances = ThreadTolerances(widths["Td"], widths["Td2"], widths["TD2"], widths["TD1"])
    if thread.standard == "ISO 965-1":
        return formulas.metric_limits(thread.major.value, thread.pitch.value, widths["es"], tolerances)
    return formulas.pipe_limits(thread.major.value, threads_per_inch, tolerances)


@cache
def meeting(male: str, female: str) -> Mating:
    """What happens when a male thread of one name is offered to a female thread of another."""
    return formulas.mating(limits_of(male), limits_of(female))


@dataclass(frozen=True, slots=True)
class Reading:
    """What a caliper and a pitch gauge said [m]; None for what was not measured."""

    major_m: float | None = None
    """Over the crests of a male thread."""
    minor_m: float | None = None
    """Across the crests of a female thread."""
    pitch_m: float | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """One measured size against the limits of one thread [m]."""

    what: str
    value: float
    low: float
    high: float

    @property
    def margin(self) -> float:
        """How far the reading lies inside the nearer limit; below nought it lies outside."""
        return min(self.value - self.low, self.high - self.value)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A thread held against a reading."""

    thread: str
    used_for: str
    sizes: tuple[Measured, ...]
    allowed: bool
    """Whether every size lies within its limits, give or take the spread of the caliper."""
    mistakes: tuple[str, ...]
    """What this thread is taken for, or forced into, and what comes of it."""

    @property
    def margin(self) -> float:
        """The smallest margin of its sizes [m]."""
        return min(size.margin for size in self.sizes)


def caliper_spread() -> float:
    """How far a usual caliper may be off [m]."""
    return catalogue().limits["caliper_spread"].value


def identify(reading: Reading, caliper_spread_m: float) -> tuple[Candidate, ...]:
    """Every thread of the catalogue against a reading, the best margin first.

    Args:
        reading: At least one size.
        caliper_spread_m: How far the caliper may be off, nought or more.

    Raises:
        ValueError: Nothing was measured, or a size is not above nought.
    """
    sizes = [size for size in (reading.major_m, reading.minor_m, reading.pitch_m) if size is not None]
    if not sizes:
        raise ValueError(
            "measure the outside of a male thread (--major), the inside of a female one (--minor) or the pitch"
        )
    if min(sizes) <= 0 or caliper_spread_m < 0:
        raise ValueError("a measured size is above nought")
    candidates = [_candidate(name, reading, caliper_spread_m) for name in catalogue().threads]
    return tuple(sorted(candidates, key=lambda candidate: -candidate.margin))


def _candidate(name: str, reading: Reading, spread: float) -> Candidate:
    sizes = tuple(_sizes(limits_of(name), reading))
    allowed = all(size.margin >= -spread for size in sizes)
    return Candidate(name, catalogue().threads[name].used_for, sizes, allowed, _mistakes(name))


def _sizes(limits: ThreadLimits, reading: Reading) -> Iterator[Measured]:
    if reading.major_m is not None:
        low, high = limits.external_major_min_m, limits.external_major_max_m
        yield Measured("outside of the male thread", reading.major_m, low, high)
    if reading.minor_m is not None:
        low, high = limits.internal_minor_min_m, limits.internal_minor_max_m
        yield Measured("inside of the female thread", reading.minor_m, low, high)
    if reading.pitch_m is not None:
        # A pitch gauge blade fits or does not: neighbouring blades (18, 20, 24 to the inch) differ by a tenth.
        low, high = limits.pitch_m * 0.97, limits.pitch_m * 1.03
        yield Measured("pitch", reading.pitch_m, low, high)


def _mistakes(name: str) -> tuple[str, ...]:
    """The wrong partners that a thread of this name seems to accept."""
    found = []
    for other in catalogue().threads:
        if other == name:
            continue
        match meeting(name, other):
            case Mating.DROPS_IN if limits_of(other).basic_major_m - limits_of(name).basic_major_m < _NEXT_SIZE_M:
                found.append(f"a male {name} slides into a female {other} and holds on nothing")
            case Mating.SHALLOW:
                found.append(f"DANGER: a male {name} screws into a female {other} and holds on part of the thread only")
            case Mating.FORM_DIFFERS:
                found.append(f"a male {name} starts in a female {other}, then binds; forced, it strips")
            case _:
                pass
    return tuple(found)


_NEXT_SIZE_M = 0.0035
"""Threads further apart than this are not mistaken for each other."""

"""What `kitbuilder threads` prints: which threads a caliper reading allows, and what they are mistaken for."""

from textwrap import wrap

from kitbuilder.assess.threads import PITCH, Candidate, Measured
from kitbuilder.report.numbers import System, digits, shown

NEAR_MISS_M = 0.0005
"""A thread this far outside its limits is named, since a worn part or a slanted caliper may be the reason."""


def threads_text(candidates: tuple[Candidate, ...], caliper_spread_m: float, system: System) -> str:
    """The allowed threads with their margins, the near misses, and the mistakes to beware of."""
    allowed = [candidate for candidate in candidates if candidate.allowed]
    near = [candidate for candidate in candidates if not candidate.allowed and _is_near_miss(candidate)]
    spread = shown(caliper_spread_m, "thread", system)
    lines = [f"Allowed by the reading, give or take {spread} of caliper:" if allowed else "No known thread is allowed."]
    for candidate in allowed:
        lines += _candidate_lines(candidate, system)
    if near:
        lines += ["", "Near misses (wear, dirt or a slanted caliper?):"]
        for candidate in near:
            lines += _candidate_lines(candidate, system)
    pitch_missing = not any(size.what == PITCH for candidate in candidates for size in candidate.sizes)
    if pitch_missing and len(allowed) != 1:
        lines += ["", "Measure the pitch as well: threads of one diameter differ in it."]
    lines += ["", "A thread that fits is not a fit: check the pressure class of both parts before you join them.", ""]
    return "\n".join(lines)


def _is_near_miss(candidate: Candidate) -> bool:
    """A worn crest has another diameter, never another pitch."""
    return all(size.margin >= (0.0 if size.what == PITCH else -NEAR_MISS_M) for size in candidate.sizes)


def _candidate_lines(candidate: Candidate, system: System) -> list[str]:
    lines = [f"  {candidate.thread}: {candidate.used_for}"]
    lines += [f"    {_size_words(size, system)}" for size in candidate.sizes]
    for mistake in (*candidate.beware, *candidate.mistakes):
        lines += [f"    {row}" for row in wrap(f"Beware: {mistake}.", 96, subsequent_indent="  ")]
    return lines


def _size_words(size: Measured, system: System) -> str:
    limits = f"{digits(size.low, 'thread', system)} to {shown(size.high, 'thread', system)}"
    if size.margin >= 0:
        verdict = f"{shown(size.margin, 'thread', system)} inside"
    else:
        verdict = f"{shown(-size.margin, 'thread', system)} outside"
    return f"{size.what}: {shown(size.value, 'thread', system)}; limits {limits}; {verdict}"

"""The page of `kitbuilder threads`: which threads a caliper reading allows, and what they are mistaken for."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.findings import Amount
from kitbuilder.assess.hoses.threads import Measured, ThreadCandidate, ThreadReading, is_near_miss, is_pitch_missing
from kitbuilder.report.page import (
    Between,
    Column,
    Fact,
    Facts,
    Page,
    Row,
    Section,
    Sentence,
    Statement,
    Statements,
    Table,
    Text,
    Values,
    only_data,
    text,
)
from kitbuilder.report.shapes import FLAG, NUMBER, TEXT, listed, optional, record
from kitbuilder.report.words import CAUTIONS

SHAPE = record(
    reading=record(major_m=optional(NUMBER), minor_m=optional(NUMBER), pitch_m=optional(NUMBER)),
    caliper_spread_m=NUMBER,
    threads=listed(
        record(
            thread=TEXT,
            used_for=TEXT,
            allowed=FLAG,
            margin_m=NUMBER,
            sizes=listed(record(what=TEXT, value_m=NUMBER, low_m=NUMBER, high_m=NUMBER, margin_m=NUMBER)),
            beware=listed(TEXT),
        )
    ),
)
NEAR_MISSES = "Near misses (worn or dirty thread, caliper at an angle?)"
PRESSURE_CLASS = "A fitting thread is not enough: check the pressure class of both parts before you join them."


def threads_page(reading: ThreadReading, caliper_spread_m: float, candidates: Sequence[ThreadCandidate]) -> Page:
    """Build the page: the allowed threads with their margins, the near misses, and the mistakes to beware of.

    Args:
        reading: What was measured.
        caliper_spread_m: How far the caliper may be off.
        candidates: Every known thread against the reading, the best margin first.
    """
    allowed = [candidate for candidate in candidates if candidate.allowed]
    near = [candidate for candidate in candidates if is_near_miss(candidate)]
    limit = ("Allowed by the reading, with a caliper that may be off by ", Amount(caliper_spread_m, "thread"), ":")
    return Page(
        [
            _data(reading, caliper_spread_m, candidates),
            text(*limit) if allowed else text("No known thread is allowed."),
            Statements("", [_entry(candidate) for candidate in allowed]),
            Statements("", [_entry(candidate) for candidate in near], title=NEAR_MISSES),
            Section("", list(_pitch_advice(candidates, len(allowed)))),
            Section("", [text(PRESSURE_CLASS)]),
            Section("", [text(CAUTIONS)]),
        ]
    )


def _pitch_advice(candidates: Sequence[ThreadCandidate], allowed: int) -> Iterator[Text]:
    if is_pitch_missing(candidates) and allowed != 1:
        yield text("Measure the pitch as well: threads of one diameter differ in it.")


def _entry(candidate: ThreadCandidate) -> Statement:
    mistakes = (*candidate.beware, *candidate.mistakes)
    return Statement(
        head=(f"{candidate.thread}: {candidate.used_for}",),
        body=[*map(_size, candidate.sizes), *map(_mistake, mistakes)],
    )


def _mistake(words: str) -> Sentence:
    return (f"{words}." if words.startswith("DANGER: ") else f"Beware: {words}.",)


def _size(size: Measured) -> Sentence:
    side = "inside" if size.margin >= 0 else "outside"
    limits = Between(size.low, size.high, "thread")
    return (
        f"{size.what}: ", Amount(size.value, "thread"), "; limits ", limits, "; ",
        Amount(abs(size.margin), "thread"), f" {side}",
    )  # fmt: skip


def _data(reading: ThreadReading, caliper_spread_m: float, candidates: Sequence[ThreadCandidate]) -> Facts:
    measured = Facts([
        Fact("major_m", "", _thread(reading.major_m)),
        Fact("minor_m", "", _thread(reading.minor_m)),
        Fact("pitch_m", "", _thread(reading.pitch_m)),
    ])  # fmt: skip
    return only_data(
        ("reading", measured),
        ("caliper_spread_m", Amount(caliper_spread_m, "thread")),
        ("threads", _table(candidates)),
    )


def _thread(size_m: float | None) -> Amount | None:
    return None if size_m is None else Amount(size_m, "thread")


def _table(candidates: Sequence[ThreadCandidate]) -> Table:
    columns = [Column(key, "") for key in ("thread", "used_for", "allowed", "margin_m", "sizes", "beware")]
    rows: list[Row] = [
        [
            candidate.thread,
            candidate.used_for,
            candidate.allowed,
            Amount(candidate.margin, "thread"),
            _sizes(candidate.sizes),
            Values([*candidate.beware, *candidate.mistakes]),
        ]
        for candidate in candidates
    ]
    return Table("threads", columns, rows)


def _sizes(sizes: Sequence[Measured]) -> Table:
    columns = [Column(key, "") for key in ("what", "value_m", "low_m", "high_m", "margin_m")]
    amounts = ("value", "low", "high", "margin")
    rows: list[Row] = [[size.what, *(Amount(getattr(size, name), "thread") for name in amounts)] for size in sizes]
    return Table("sizes", columns, rows)

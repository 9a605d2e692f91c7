"""The set of fewest hoses as data for JSON: each hose, which runs it serves, and why it is needed."""

from collections.abc import Iterable, Sequence

from kitbuilder.assess.figures import Range
from kitbuilder.assess.findings import Amount
from kitbuilder.plans.fewest import COUNT, MASS, PRICE, CandidateHose, FewestPlan, Reason, Run, SetHose, Unserved
from kitbuilder.report.page import (
    Between,
    Cell,
    Column,
    Estimate,
    Fact,
    Facts,
    Interval,
    Node,
    Price,
    Row,
    Table,
    Tag,
    Values,
)
from kitbuilder.report.page import only_data as fields
from kitbuilder.report.shapes import COUNT as WHOLE
from kitbuilder.report.shapes import (
    FIGURE,
    FLAG,
    INTERVAL,
    LIMITS,
    NUMBER,
    SIGNAL,
    TEXT,
    listed,
    one_of,
    optional,
    record,
)
from kitbuilder.report.shopping import SHOPPING_KEYS

_RUN = {"file": TEXT, "tag": TEXT}
_CANDIDATE = {
    "source": one_of("owned", "in stock", "customary"),
    "tags": listed(TEXT),
    "service": TEXT,
    "body": TEXT,
    "length_m": NUMBER,
    "measured": optional(TEXT),
    "from_end": TEXT,
    "to_end": TEXT,
    "price": optional(NUMBER),
}
_REASON = record(
    **_RUN,
    lengths_m=LIMITS,
    cannot_share_with=listed(record(**_RUN, why=TEXT, lengths_m=optional(LIMITS))),
)
SHAPE = record(
    kits=listed(record(file=TEXT, name=TEXT, worst_finding=optional(SIGNAL))),
    divers=listed(TEXT),
    gear=optional(TEXT),
    stock=optional(TEXT),
    order=listed(one_of(COUNT, MASS, PRICE)),
    any_body=FLAG,
    status=one_of("proved", "best so far", "nothing found", "infeasible"),
    least=record(count=optional(WHOLE), mass_kg=optional(NUMBER), price=optional(NUMBER)),
    runs=WHOLE,
    count=WHOLE,
    mass_kg=FIGURE,
    hoses=listed(
        record(
            **_CANDIDATE,
            tag=optional(TEXT),
            mass_kg=FIGURE,
            serves=listed(record(**_RUN, why=TEXT)),
            oxygen_clean=FLAG,
            soiled_by=listed(record(**_RUN)),
            forced_by=optional(_REASON),
        )
    ),
    without_hose=listed(
        record(
            **_RUN,
            nearest=optional(record(**_CANDIDATE)),
            why=TEXT,
            missing_m=optional(FIGURE),
            stand_off_m=optional(INTERVAL),
        )
    ),
    second_best=optional(
        record(
            count=WHOLE,
            mass_kg=FIGURE,
            without=listed(record(**_CANDIDATE)),
            instead=listed(record(**_CANDIDATE)),
            hoses=listed(record(tag=optional(TEXT), serves=listed(record(**_RUN)))),
        )
    ),
    if_any_body=optional(record(hoses=WHOLE, left_out=WHOLE)),
    **SHOPPING_KEYS,
)


def fewest_data(plan: FewestPlan) -> Facts:
    """Give the set for programs; the list to buy has the keys of what it costs."""
    sources, free = plan.sources, plan.if_any_body
    return fields(
        ("kits", _kits(plan)),
        ("divers", Values([Tag(name) for name in plan.owners.names])),
        ("gear", sources.gear.header.name if sources.gear else None),
        ("stock", sources.stock.header.name if sources.may_buy and sources.stock else None),
        ("order", Values(plan.order)),
        ("any_body", plan.any_body),
        ("status", plan.status.word),
        ("least", _least(plan)),
        ("runs", len(plan.runs)),
        ("count", len(plan.hoses)),
        ("mass_kg", Estimate(plan.mass, "mass")),
        ("hoses", _hoses(plan)),
        ("without_hose", _unserved_runs(plan)),
        ("second_best", _second(plan)),
        ("if_any_body", fields(("hoses", free.hoses), ("left_out", free.left_out)) if free else None),
    )


def _kits(plan: FewestPlan) -> Table:
    return _table(
        ["file", "name", "worst_finding"], [[file, kit.kit.header.name, kit.worst] for file, kit in plan.kits]
    )


def _least(plan: FewestPlan) -> Facts:
    """Give the proved lower bound, in the unit of the cost that is minimised first."""
    first, status = plan.order[0], plan.status
    return fields(
        ("count", status.bound if first == COUNT else None),
        ("mass_kg", Amount(status.bound_mass_kg, "mass") if first == MASS else None),
        ("price", Price(status.bound_price, "") if first == PRICE else None),
    )


def _table(keys: Iterable[str], rows: Sequence[Row]) -> Table:
    return Table("", [Column(key, "") for key in keys], rows)


def _hoses(plan: FewestPlan) -> Table:
    rows: list[Row] = [
        [
            *_candidate(hose.candidate),
            hose.tag or None,
            Estimate(hose.mass, "hose mass"),
            _table([*_RUN, "why"], [[*_run(plan, assignment.run), assignment.why] for assignment in hose.serves]),
            hose.must_be_clean,
            _table(_RUN, [_run(plan, run) for run in hose.soiled_by]),
            _reason(plan, hose.reason),
        ]
        for hose in plan.hoses
    ]
    return _table([*_CANDIDATE, "tag", "mass_kg", "serves", "oxygen_clean", "soiled_by", "forced_by"], rows)


def _candidate(candidate: CandidateHose) -> list[Cell | Node]:
    """Give a hose by the keys of `_CANDIDATE`."""
    spec = candidate.spec
    price = None if candidate.price is None else Price(candidate.price, "")
    length = Amount(spec.length_m, "length")
    ends = spec.from_end, spec.to_end
    return [
        candidate.source, Values(candidate.tags), spec.service, spec.body, length, spec.measured, *ends, price,
    ]  # fmt: skip


def _candidates(candidates: Sequence[CandidateHose]) -> Table:
    return _table(_CANDIDATE, [_candidate(candidate) for candidate in candidates])


def _run(plan: FewestPlan, run: Run) -> tuple[str, str]:
    """Give a run by the keys of `_RUN`."""
    return plan.kits[run.kit][0], run.hose.tag


def _reason(plan: FewestPlan, reason: Reason | None) -> Facts | None:
    if reason is None:
        return None
    apart = [[*_run(plan, conflict.run), conflict.why, _limits(conflict.lengths)] for conflict in reason.apart]
    file, tag = _run(plan, reason.run)
    return fields(
        ("file", file),
        ("tag", tag),
        ("lengths_m", _limits(reason.lengths)),
        ("cannot_share_with", _table([*_RUN, "why", "lengths_m"], apart)),
    )


def _limits(lengths: Range | None) -> Between | None:
    return None if lengths is None else Between(lengths.low, lengths.high, "length")


def _unserved_runs(plan: FewestPlan) -> Table:
    return _table(
        [*_RUN, "nearest", "why", "missing_m", "stand_off_m"],
        [_unserved(plan, unserved) for unserved in plan.unserved_runs],
    )


def _unserved(plan: FewestPlan, unserved: Unserved) -> Row:
    nearest = unserved.nearest
    found = (
        None
        if nearest is None
        else Facts([Fact(key, "", value) for key, value in zip(_CANDIDATE, _candidate(nearest), strict=True)])
    )
    missing, stand_off = unserved.missing, unserved.stand_off
    return [
        *_run(plan, unserved.run),
        found,
        unserved.why,
        Estimate(missing, "length") if missing else None,
        Interval(stand_off, "length") if stand_off else None,
    ]


def _second(plan: FewestPlan) -> Facts | None:
    second = plan.second
    if second is None:
        return None
    return fields(
        ("count", len(second.hoses)),
        ("mass_kg", Estimate(second.mass, "mass")),
        ("without", _candidates(second.without)),
        ("instead", _candidates(second.instead)),
        ("hoses", _table(["tag", "serves"], [_second_hose(plan, hose) for hose in second.hoses])),
    )


def _second_hose(plan: FewestPlan, hose: SetHose) -> Row:
    return [hose.tag or None, _table(_RUN, [_run(plan, assignment.run) for assignment in hose.serves])]

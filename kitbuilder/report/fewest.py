"""The fewest hoses in words: which hose serves which kit, what to buy, why each is needed; as text or as JSON."""

from collections import Counter
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Any

from kitbuilder.assess.figures import Range
from kitbuilder.catalogue import Fitting, catalogue
from kitbuilder.foreign import visible
from kitbuilder.plans.fewest import (
    BEST_SO_FAR,
    COUNT,
    INFEASIBLE,
    MASS,
    NOTHING_FOUND,
    PRICE,
    CandidateHose,
    FewestPlan,
    Purchase,
    Reason,
    Run,
    SetHose,
    Spec,
    Unserved,
)
from kitbuilder.plans.fewest import reasons as why
from kitbuilder.plans.fewest.runs import AS_NOW, AS_NOW_UNKNOWN, SURE
from kitbuilder.report.balance import figure_json
from kitbuilder.report.lengths import stock_length
from kitbuilder.report.linked import not_used_lines
from kitbuilder.report.numbers import System, digits, percent, shown, unit, with_spread
from kitbuilder.report.words import cut

WIDTH = 100
"""Columns of the text."""
HOSE_WIDTH, LEAST_KIT_WIDTH = 22, 11
"""Columns of a hose in the table, and the least of a kit; where there is less room, kits stand below each other."""

FIRST = {COUNT: "fewest", MASS: "lightest", PRICE: "cheapest"}
NO_BETTER = {COUNT: "no fewer will do", MASS: "none are lighter", PRICE: "none are cheaper"}
MARKS = {SURE: "", AS_NOW: " *", AS_NOW_UNKNOWN: " ?"}
MARK_WORDS = {
    AS_NOW: "* as long as now: not sure enough to be advised, or it stands off, but not too short, and it is dived so",
    AS_NOW_UNKNOWN: "? as long as now: its run is not known, so no other length is taken for it",
}
REASON_WORDS = {
    why.SAME_KIT: "in the same kit",
    why.OTHER_ENDS: "of other ends",
    why.OTHER_BODY: "of another body",
    why.NO_ONE_LENGTH: "with which no one length it could have does for both",
    why.OTHER_BORE: "of another bore",
    why.OTHER_MAKE: "of another make",
    why.NOT_CLEAN: "with which it shares no hose known to be clean for oxygen",
}
HOW_SURE = (
    "A hose can be in one kit at a time: these kits are never dived at once. Every change of kit is work with "
    "spanners, and a leak check and a function check follow it. A run by string is surer than one by landmarks."
)


def fewest_text(plan: FewestPlan, problems: tuple[str, ...], system: System) -> str:
    """The set for people.

    Args:
        plan: The set.
        problems: Files that could not be used, a sentence each.
        system: The reader's units.
    """
    names = [f"{kit_name(plan, place)} ({visible(file)})" for place, (file, _) in enumerate(plan.kits)]
    lines = wrap(f"for {'; '.join(names)}", WIDTH, subsequent_indent="    ")
    lines += wrap(f"from {format_source(plan)}", WIDTH, subsequent_indent="     ")
    lines += not_used_lines(problems, WIDTH)
    return "\n".join([*lines, "", *fewest_lines(plan, WIDTH, system), "", *wrap(HOW_SURE, WIDTH), ""])


def fewest_lines(plan: FewestPlan, width: int, system: System) -> list[str]:
    """The result alone, for the text and for a pane of so many columns."""
    parts = (
        wrap(summary(plan, system), width),
        table_lines(plan, width, system),
        _miss_lines(plan, width, system),
        buy_lines(plan, width, system),
        _owned_lines(plan, width),
        _other_lines(plan, width, system),
        _reason_lines(plan, width, system),
    )
    lines: list[str] = []
    for part in parts:
        lines += ["", *part] if lines and part else part
    return lines


def fewest_json(plan: FewestPlan, problems: tuple[str, ...]) -> dict[str, Any]:
    """The set for programs, in SI units."""
    return {
        "kits": [{"file": file, "name": kit.kit.header.name} for file, kit in plan.kits],
        "gear": plan.sources.gear.header.name if plan.sources.gear else None,
        "stock": plan.sources.stock.header.name if plan.sources.may_buy and plan.sources.stock else None,
        "currency": _currency(plan) or None,
        "order": list(plan.order),
        "any_body": plan.any_body,
        "status": plan.status.word,
        "least": plan.status.least,
        "runs": len(plan.runs),
        "count": len(plan.hoses),
        "mass_kg": figure_json(plan.mass),
        "price": plan.price if plan.bought else None,
        "hoses_without_price": plan.without_price,
        "hoses": [_hose_json(plan, hose) for hose in plan.hoses],
        "without_hose": [_unserved_json(plan, unserved) for unserved in plan.unserved_runs],
        "second_best": _second_json(plan),
        "if_any_body": plan.if_any_body._asdict() if plan.if_any_body else None,
        "linked_problems": list(problems),
    }


# ---- words that the screen shares ----


def kit_name(plan: FewestPlan, place: int) -> str:
    """What a kit is called on the shelf."""
    return visible(plan.kits[place][1].kit.header.name)


def format_order(order: Sequence[str]) -> str:
    """What is made least, in its order: "the fewest, then the lightest, then the cheapest"."""
    return ", then ".join(f"the {FIRST[name]}" for name in order)


def format_source(plan: FewestPlan) -> str:
    """Where the hoses come from, what is made least, and what is held."""
    gear, stock = plan.sources.gear, plan.sources.stock
    places = [visible(gear.header.name)] if gear else []
    if plan.sources.may_buy:
        places.append(visible(stock.header.name) if stock else "every customary length")
    body = "any body will do" if plan.any_body else "each of the body that its kit has"
    return f"{' and '.join(places) or 'no gear file'}; {format_order(plan.order)}; {body}"


def summary(plan: FewestPlan, system: System) -> str:
    """How many hoses for how many, and how sure that is."""
    status = plan.status
    if status.word == INFEASIBLE:
        return "No set: none of these hoses has one that would do." if plan.runs else "No set: these kits have no hose."
    if status.word == NOTHING_FOUND:
        return "No set: the time was up before any was found. Give it more time, or fewer kits."
    left_out = f" of {len(plan.runs)}" if plan.unserved_runs else ""
    kits = f"{len(plan.kits)} kit{'s' if len(plan.kits) != 1 else ''}"
    mass = with_spread(plan.mass, "mass", system)
    hoses = f"{len(plan.hoses)} hose{'s' if len(plan.hoses) != 1 else ''}"
    return f"{hoses} for {plan.served}{left_out} in {kits}, {mass}; {_format_proof(plan, system)}"


def _format_proof(plan: FewestPlan, system: System) -> str:
    first, status = plan.order[0], plan.status
    if status.word != BEST_SO_FAR:
        return f"proved: {NO_BETTER[first]}"
    if status.is_first_proved:
        return f"proved: {NO_BETTER[first]}; of these the best so far, since the time was up"
    least = {
        COUNT: f"fewer than {status.least} hoses will not do",
        MASS: f"below {shown(status.least_mass_kg, 'mass', system)} will not do",
        PRICE: f"below {status.least_price:.2f} will not do",
    }
    return f"best so far, since the time was up; {least[first]}"


def table_lines(plan: FewestPlan, width: int, system: System) -> list[str]:
    """Which hose of the set is which hose of each kit."""
    if not plan.hoses:
        return []
    room = (width - HOSE_WIDTH - 10) // len(plan.kits) - 1
    rows = _rows_below(plan, width, system) if room < LEAST_KIT_WIDTH else _rows_beside(plan, room, system)
    seen = {assignment.why for hose in plan.hoses for assignment in hose.serves}
    return [*rows, *(row for mark, words in MARK_WORDS.items() if mark in seen for row in wrap(words, width))]


def _rows_beside(plan: FewestPlan, room: int, system: System) -> Iterator[str]:
    names = [cut(kit_name(plan, place), room) for place in range(len(plan.kits))]
    yield f" #  {'hose':<{HOSE_WIDTH}} {'from':<4} {' '.join(f'{name:<{room}}' for name in names)}".rstrip()
    for number, hose in enumerate(plan.hoses, start=1):
        cells = dict.fromkeys(range(len(plan.kits)), "-")
        for assignment in hose.serves:
            mark = MARKS[assignment.why]
            cells[assignment.run.kit] = cut(assignment.run.hose.tag, room - len(mark)) + mark
        row = " ".join(f"{cell:<{room}}" for cell in cells.values())
        yield f"{_hose_cells(number, hose, system)} {row}".rstrip()


def _rows_below(plan: FewestPlan, width: int, system: System) -> Iterator[str]:
    yield f" #  {'hose':<{HOSE_WIDTH}} from"
    for number, hose in enumerate(plan.hoses, start=1):
        yield _hose_cells(number, hose, system).rstrip()
        for assignment in hose.serves:
            yield cut(f"      {_format_run(plan, assignment.run)}{MARKS[assignment.why]}", width)


def _hose_cells(number: int, hose: SetHose, system: System) -> str:
    word = "own" if hose.candidate.is_owned else "buy"
    return f"{number:>2}  {cut(_short(hose.candidate.spec, system), HOSE_WIDTH):<{HOSE_WIDTH}} {word:<4}"


def buy_lines(plan: FewestPlan, width: int, system: System) -> list[str]:
    """The list to take to a counter."""
    if not plan.bought:
        return ["To buy: nothing"] if plan.hoses else []
    lines = ["To buy"]
    for purchase in plan.purchases:
        lines += _item_lines(plan, purchase, system)
    parts = [f"{plan.price:.2f} {_currency(plan)}".strip()] if len(plan.bought) > plan.without_price else []
    if plan.without_price:
        parts.append(f"{plan.without_price} without a price, which counts as nothing")
    return [*lines, *wrap(f"together {', and '.join(parts)}", width, initial_indent="  ", subsequent_indent="  ")]


def _item_lines(plan: FewestPlan, purchase: Purchase, system: System) -> Iterator[str]:
    candidate, pieces = purchase.candidate, purchase.pieces
    spec, fittings = candidate.spec, catalogue().fittings
    price = f", {purchase.price:.2f} {_currency(plan)}".rstrip() if purchase.price is not None else ""
    tag = f" [{visible(candidate.tags[0])}]" if candidate.tags else ""
    bare = " without its ends" if spec.measured == "hose only" else ""
    yield f"  {pieces} × {stock_length(spec.length_m, system)}{bare}, {spec.service}, {spec.body}{price}{tag}"
    yield f"      first stage: {_format_end(fittings[spec.from_end])}"
    yield f"      other end:   {_format_end(fittings[spec.to_end])}"


def _format_end(end: Fitting) -> str:
    return f"{end.name} ({end.gender} {end.joint})"


# ---- the other lines ----


def _owned_lines(plan: FewestPlan, width: int) -> list[str]:
    if not plan.owned:
        return []
    numbers = {id(hose): number for number, hose in enumerate(plan.hoses, start=1)}
    tags = "; ".join(f"{numbers[id(hose)]} {visible(hose.tag)}" for hose in plan.owned)
    return wrap(f"From your gear: {tags}", width, subsequent_indent="  ")


def _miss_lines(plan: FewestPlan, width: int, system: System) -> list[str]:
    if not plan.unserved_runs:
        return []
    lines = ["No hose for"]
    for unserved in plan.unserved_runs:
        text = f"{_format_run(plan, unserved.run)}: {format_unserved(unserved, system)}"
        lines += wrap(text, width, initial_indent="  ", subsequent_indent="      ")
    return lines


def format_unserved(unserved: Unserved, system: System) -> str:
    """What comes nearest to a run that has no hose, and what is wrong with it."""
    if unserved.nearest is None:
        return {why.NO_TIME: "the time was up before it was its turn"}.get(unserved.why, "there is none with its ends")
    name, amount = _named(unserved.nearest, system), shown(unserved.by_m, "length", system)
    wrong = {
        why.TOO_SHORT: f"is {amount} too short",
        why.UNSURE: f"is only {percent(unserved.odds)} sure to be long enough",
        why.IN_THE_WAY: f"stands {amount} off" if unserved.by_m else "hangs in a loop",
        why.OVERDONE: "leaves more to fold away than there is room for",
        why.WRONG_BODY: "would do, but is of another body",
        why.OTHER_BORE: "would do, but has another bore",
        why.OTHER_MAKE: "would do, but is of another make",
        why.NOT_CLEAN: "would do, but is not known to be clean for oxygen",
        why.UNKNOWN: "is not as long as its own, and its run is not known",
        why.TAKEN: "would do, but is needed elsewhere in the same kit",
    }
    return f"nearest is {name}, which {wrong[unserved.why]}"


def _other_lines(plan: FewestPlan, width: int, system: System) -> list[str]:
    """The second best, and what it would be were bodies free."""
    lines = []
    if plan.second:
        second = plan.second
        swapped = f"{_list(second.instead, system) or 'nothing'} in place of {_list(second.without, system)}"
        mass = with_spread(second.mass, "mass", system)
        lines += wrap(f"Second best: {len(second.hoses)} hoses, {mass}: {swapped}.", width, subsequent_indent="  ")
    free = plan.if_any_body
    if free and (free.hoses < len(plan.hoses) or free.left_out < len(plan.unserved_runs)):
        served = f" for {len(plan.runs) - free.left_out}" if free.left_out != len(plan.unserved_runs) else ""
        lines += wrap(f"Were the body of each free, {free.hoses} hoses would do{served}.", width)
    return lines


def _list(candidates: Sequence[CandidateHose], system: System) -> str:
    counts = Counter(_named(candidate, system) for candidate in candidates)
    return ", ".join(f"{pieces} × {name}" if pieces > 1 else name for name, pieces in counts.items())


def _reason_lines(plan: FewestPlan, width: int, system: System) -> list[str]:
    if not plan.hoses:
        return []
    lines = ["Why each is needed"]
    loose = []
    for number, hose in enumerate(plan.hoses, start=1):
        if hose.reason is None:
            loose.append(str(number))
            continue
        text = f"{_format_run(plan, hose.reason.run)}: {format_reason(plan, hose.reason, system)}"
        lines += wrap(text, width, initial_indent=f"{number:>2}  ", subsequent_indent="    ")
    if loose:
        lines += wrap(f"{', '.join(loose)}: {_format_loose(plan)}", width, subsequent_indent="    ")
    return lines


def _format_loose(plan: FewestPlan) -> str:
    if plan.order[0] != COUNT:
        return f"not forced by single runs: {format_order(plan.order[:1])} set may have more hoses than the smallest."
    if plan.status.is_first_proved:
        return "no runs force them one by one; that no fewer will do is proved by the solver's bound."
    return "no runs force them one by one, and the time was up: fewer may do."


def format_reason(plan: FewestPlan, reason: Reason, system: System) -> str:
    """Why the run of a hose cannot share one with the other runs that force one each."""
    counts = Counter(apart.why for apart in reason.apart)
    parts = [f"{counts[word]} {words}" for word, words in REASON_WORDS.items() if counts[word]]
    own = _format_range(reason.lengths, system)
    theirs = ", ".join(
        f"{_format_range(apart.lengths, system)} of {_format_run(plan, apart.run)}"
        for apart in reason.apart
        if apart.lengths is not None
    )
    if theirs:
        parts.append(f"for its length, {own} against {theirs}")
    return f"cannot share with {'; '.join(parts)}." if parts else f"the only one; {own} would do."


def _format_range(lengths: Range, system: System) -> str:
    low, high = (digits(length, "length", system) for length in (lengths.low, lengths.high))
    return f"{low} {unit('length', system)}" if low == high else f"{low} to {high} {unit('length', system)}"


def _format_run(plan: FewestPlan, run: Run) -> str:
    return f"{visible(run.hose.tag)} ({kit_name(plan, run.kit)})"


def _named(candidate: CandidateHose, system: System) -> str:
    """A hose by its tag, or by its ends where it has none."""
    name = visible(candidate.tags[0]) if candidate.tags else candidate.spec.to_end
    return f"{_short(candidate.spec, system)} [{name}]"


def _short(spec: Spec, system: System) -> str:
    return f"{shown(spec.length_m, 'length', system)} {spec.body}"


def _currency(plan: FewestPlan) -> str:
    stock = plan.sources.stock
    return visible(stock.header.currency or "") if stock else ""


# ---- for programs ----


def _hose_json(plan: FewestPlan, hose: SetHose) -> dict[str, Any]:
    return {
        **_candidate_json(hose.candidate),
        "tag": hose.tag or None,
        "mass_kg": figure_json(hose.mass),
        "serves": [{**_run_json(plan, assignment.run), "why": assignment.why} for assignment in hose.serves],
        "forced_by": _reason_json(plan, hose.reason),
    }


def _candidate_json(candidate: CandidateHose) -> dict[str, Any]:
    spec = candidate.spec
    return {
        "source": candidate.source,
        "tags": list(candidate.tags),
        "service": spec.service,
        "body": spec.body,
        "length_m": spec.length_m,
        "measured": spec.measured,
        "from_end": spec.from_end,
        "to_end": spec.to_end,
        "price": candidate.price,
    }


def _run_json(plan: FewestPlan, run: Run) -> dict[str, Any]:
    return {"file": plan.kits[run.kit][0], "tag": run.hose.tag}


def _reason_json(plan: FewestPlan, reason: Reason | None) -> dict[str, Any] | None:
    if reason is None:
        return None
    return {
        **_run_json(plan, reason.run),
        "lengths_m": [reason.lengths.low, reason.lengths.high],
        "cannot_share_with": [
            {
                **_run_json(plan, apart.run),
                "why": apart.why,
                "lengths_m": [apart.lengths.low, apart.lengths.high] if apart.lengths else None,
            }
            for apart in reason.apart
        ],
    }


def _unserved_json(plan: FewestPlan, unserved: Unserved) -> dict[str, Any]:
    nearest = _candidate_json(unserved.nearest) if unserved.nearest else None
    return {**_run_json(plan, unserved.run), "nearest": nearest, "why": unserved.why, "by_m": unserved.by_m}


def _second_json(plan: FewestPlan) -> dict[str, Any] | None:
    second = plan.second
    if second is None:
        return None
    return {
        "count": len(second.hoses),
        "mass_kg": figure_json(second.mass),
        "without": [_candidate_json(candidate) for candidate in second.without],
        "instead": [_candidate_json(candidate) for candidate in second.instead],
        "hoses": [
            {"tag": hose.tag or None, "serves": [_run_json(plan, assignment.run) for assignment in hose.serves]}
            for hose in second.hoses
        ],
    }

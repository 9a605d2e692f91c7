"""What `kitbuilder fit` prints: the length for every hose, how sure, and a shopping list; as text or as JSON."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Any

from kitbuilder.assess.fit.advice import Advice, Option
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.routed_hose import RoutedHose, hold_place
from kitbuilder.assess.hoses.hose_flow import Flow
from kitbuilder.catalogue import Fitting
from kitbuilder.foreign import visible
from kitbuilder.kit.stock import Stock
from kitbuilder.plans.fitting import FittedHose, FittingPlan, ShoppingLine
from kitbuilder.report.balance import figure_json
from kitbuilder.report.lengths import stock_length
from kitbuilder.report.linked import not_used_lines
from kitbuilder.report.numbers import System, percent, shown, with_range, with_spread
from kitbuilder.report.words import cut, sentence

WIDTH = 100
"""Columns of the text."""
TAG_WIDTH = 18

MOST_FAILED = 2
"""Failed poses of a length that are named."""

UNKNOWN = "not known: no route is usual for it. Choose its route, write its path, or lay a string"
BODY_RULE = "body measures"
"""The rule whose findings make all lengths by landmarks doubtful."""
HOW_SURE = (
    "Lengths by landmarks are estimates: the number behind ± is the range in which nearly every body of these "
    "measures and every usual way of leading the hose falls. The landmarks come from memory and were never checked "
    "with strings. How sure a length is tells how often it would be long enough. One string over the worn kit beats "
    "all of this, for its own hose."
)


def fit_text(file: str, plan: FittingPlan, system: System) -> str:
    """The fitting for people."""
    assessment = plan.assessment
    header, stock = assessment.kit.header, assessment.kit.linked.stock
    lines = [
        visible(file),
        f"{visible(header.name)} · {header.layout}",
        *wrap(f"body: {format_body(assessment.wearer, system)}", WIDTH),
    ]
    if stock is not None:
        lines.append(f"lengths: of {visible(stock.header.name)}")
    lines += not_used_lines(assessment.kit.linked.problems, WIDTH)
    for finding in assessment.findings:
        if finding.rule == BODY_RULE:
            lines += wrap(f"Doubtful: {sentence(finding.what, system)} {sentence(finding.do, system)}", WIDTH)
    lines += ["", *_table(plan, system), "", *shopping_lines(plan, system), ""]
    for fitted in plan.hoses:
        lines += [*_hose_lines(fitted, stock, system), ""]
    return "\n".join([*lines, *wrap(HOW_SURE, WIDTH), ""])


def fit_json(file: str, plan: FittingPlan) -> dict[str, Any]:
    """The fitting for programs: SI units, each figure with its spread and origin."""
    assessment = plan.assessment
    stock = assessment.kit.linked.stock
    return {
        "file": file,
        "name": assessment.kit.header.name,
        "layout": assessment.kit.header.layout,
        "body": _body_json(assessment.wearer),
        "stock": stock.header.name if stock else None,
        "currency": stock.header.currency if stock else None,
        "hoses": [_hose_json(fitted) for fitted in plan.hoses],
        "to_buy": [_shopping_json(line) for line in plan.shopping],
        "price": plan.price,
        "hoses_without_price": plan.without_price,
        "linked_problems": list(assessment.kit.linked.problems),
        "how_sure": HOW_SURE,
    }


# ---- words that the screen shares ----


def format_body(wearer: Wearer, system: System) -> str:
    """Of whom the lengths are: "178 cm ± 0, suit 5 mm, the head turns 79°"."""
    stature = with_spread(wearer.measures["stature"], "length", system)
    parts = [f"{wearer.sex} " if wearer.sex else "", f"of {stature}"]
    told = "" if wearer.is_given else ", nothing of it told: any diver"
    suit = f"{shown(wearer.suit.value, 'thickness', system)} of suit" if wearer.suit.value else "no suit"
    turn = with_spread(wearer.neck_turn, "pitch", system)
    outside = "; outside the survey, so that all of it is less sure" if wearer.is_outside_survey else ""
    return f"{''.join(parts)}{told}, {suit}, the head turns {turn} to a side{outside}"


def format_needs(advice: Advice, system: System) -> str:
    """What a hose must cover, and in which pose: "71 ± 6 cm"."""
    return with_spread(advice.demanded.length, "length", system)


def source_word(advice: Advice) -> str:
    """Whether a string or the landmarks tell."""
    return "string" if advice.is_measured else "marks"


def length_to_have(fitted: FittedHose, system: System) -> str:
    """The length to have, in both units, or made to measure."""
    if fitted.length_to_have_m is None:
        return "not known"
    if fitted.to_have is None:
        return f"{shown(fitted.length_to_have_m, 'length', system)} made"
    return stock_length(fitted.length_to_have_m, system)


def now_word(fitted: FittedHose) -> str:
    """What to do: "keep", "buy", "make"."""
    if fitted.advice is None:
        return ""
    if not fitted.is_bought:
        return "keep"
    return "buy" if fitted.advice.buy else "make"


def hose_rows(fitted: FittedHose, stock: Stock | None, system: System) -> tuple[tuple[str, str], ...]:
    """All there is to say about the length of one hose, a label and a text a row."""
    advice, routed = fitted.advice, fitted.figures.routed
    if advice is None:
        return (("needs", UNKNOWN),)
    return (
        _need_row(advice, system),
        *_option_rows(fitted, advice, stock, system),
        *(_hold_rows(fitted, advice, routed, system) if routed else ()),
        *(_knob_rows(routed, system) if routed else ()),
        *(_flow_rows(fitted.flow, system) if fitted.flow else ()),
        *_other_need_rows(advice, routed, system),
    )


def _need_row(advice: Advice, system: System) -> tuple[str, str]:
    both = f"{format_needs(advice, system)} ({format_needs(advice, system.other)})"
    return "needs", f"{both}, {advice.demanded.pose}; by {'string' if advice.is_measured else 'landmarks'}"


def _other_need_rows(advice: Advice, routed: RoutedHose | None, system: System) -> Iterator[tuple[str, str]]:
    """What the other poses need, and what the landmarks tell where a string was laid."""
    others = [need for need in advice.needs if need is not advice.demanded]
    if others:
        yield "less in", ", ".join(f"{need.pose} {shown(need.length.value, 'length', system)}" for need in others)
    if advice.string_less_estimate is not None and routed is not None:
        differs = advice.string_less_estimate
        amount = with_spread(differs._replace(value=abs(differs.value)), "length", system)
        less = "less" if differs.value < 0 else "more"
        words = f"{with_spread(routed.strung.length, 'length', system)}, {routed.strung.pose}"
        yield "landmarks", f"{words}; the string tells {amount} {less}"


def _option_rows(fitted: FittedHose, advice: Advice, stock: Stock | None, system: System) -> Iterator[tuple[str, str]]:
    buy, present = advice.buy, advice.present
    if not fitted.is_bought:
        yield "keep", _format_option(present, stock, system)
        if buy is not None and buy.length_m < present.length_m and not advice.is_best:
            yield "best", _format_option(buy, stock, system)
    elif buy is None:
        yield "none", f"no length to be had is sure enough; have one of {shown(advice.made_m, 'length', system)} made"
    else:
        yield "buy", _format_option(buy, stock, system)
    if fitted.is_bought and not advice.is_best:
        yield "present", _format_option(present, stock, system)
    for label, option in (("shorter", advice.shorter), ("longer", advice.longer)):
        if option is not None and option.length_m != present.length_m:
            yield label, _format_option(option, stock, system)


def _format_option(option: Option, stock: Stock | None, system: System) -> str:
    parts = [f"{stock_length(option.length_m, system)}, {percent(option.odds)} sure"]
    if option.failed:
        parts.append(_format_failed(option, system))
    else:
        wished = [test for test in option.tests if not test.is_asked and not test.passes]
        parts.append("passes all" + "".join(f" but {test.pose}, which is not asked" for test in wished))
        parts.append(_format_rest(option, system))
    if option.stocked is not None and option.stocked.price is not None and stock is not None:
        parts.append(_format_price(stock, option.stocked.price))
    return "; ".join(parts)


def _format_failed(option: Option, system: System) -> str:
    """The poses it fails, the worst first; how many more, where they are many."""
    worst = option.failed_worst_first
    named = [f"{test.pose} ({shown(-test.margin.value, 'length', system)} short)" for test in worst[:MOST_FAILED]]
    more = f" and {len(worst) - MOST_FAILED} more" if len(worst) > MOST_FAILED else ""
    return f"fails {', '.join(named)}{more}"


def _format_rest(option: Option, system: System) -> str:
    slack = shown(option.rest_slack.value, "length", system)
    if option.by_design:
        return f"{slack} left at rest, on purpose"
    if option.stand_off is None:
        return f"{slack} left at rest hangs in a loop"
    return f"{slack} left at rest stands {with_range(option.stand_off, 'length', system)} off"


def _hold_rows(fitted: FittedHose, advice: Advice, routed: RoutedHose, system: System) -> Iterator[tuple[str, str]]:
    option = fitted.to_have or advice.present
    if option.is_tidy or option.stand_off is None or option.held_stand_off is None:
        return
    before, after = (with_range(found, "length", system) for found in (option.stand_off, option.held_stand_off))
    yield "hold it", f"{hold_place(routed.hold)}, the slack shared out: {before} becomes {after}"


def _knob_rows(routed: RoutedHose, system: System) -> Iterator[tuple[str, str]]:
    if routed.knobs:
        nearest = routed.knobs[0]
        room = "in the way of a hand" if nearest.is_blocked else "room for a hand"
        yield "valve", f"{shown(nearest.distance_m, 'length', system)} from the {nearest.name}: {room}"


def _flow_rows(flow: Flow, system: System) -> Iterator[tuple[str, str]]:
    bore, depth = shown(flow.bore_m, "bore", system), shown(flow.depth_m, "depth", system)
    if flow.drop is None:
        yield "flow", f"{bore} of bore cannot pass the peak of a hard breath at {depth}"
        return
    more = "more than goes unnoticed" if flow.is_too_much else "unnoticed"
    lost = f"{with_range(flow.drop, 'drop', system)} lost through {bore} of bore"
    yield "flow", f"{lost} at the peak of a hard breath at {depth}: {more}"


def format_path(routed: RoutedHose) -> str:
    """The landmarks of a path at rest, from the port."""
    return ", ".join(routed.route.path)


def shopping_lines(plan: FittingPlan, system: System) -> list[str]:
    """The list to take to a counter."""
    if not plan.shopping:
        known = [fitted for fitted in plan.hoses if fitted.advice]
        return ["To buy: nothing" if known else "To buy: no hose whose length is known"]
    stock = plan.assessment.kit.linked.stock
    lines = ["To buy"]
    for line in plan.shopping:
        length = (
            f"{shown(line.length_m, 'length', system)}, made" if line.is_made else stock_length(line.length_m, system)
        )
        if line.measured == "hose only":
            length += " without its ends"
        lines.append(f"  {line.pieces} × {length}, {line.service}, {line.body}{_shopping_price(line, stock)}")
        lines.append(f"      first stage: {_format_end(line.at_first_stage)}")
        lines.append(f"      other end:   {_format_end(line.at_device)}")
        lines += [f"      {row}" for row in wrap(f"for {', '.join(visible(tag) for tag in line.tags)}", WIDTH - 6)]
    if plan.price is not None and stock is not None:
        more = f", and {plan.without_price} without a price" if plan.without_price else ""
        lines.append(f"  together {_format_price(stock, plan.price)}{more}")
    return lines


def _format_end(end: Fitting) -> str:
    return f"{end.name} ({end.gender} {end.joint})"


def _shopping_price(line: ShoppingLine, stock: Stock | None) -> str:
    return "" if line.price is None or stock is None else f", {_format_price(stock, line.price)}"


def _format_price(stock: Stock, price: float) -> str:
    return f"{price:.2f} {visible(stock.header.currency or '')}".strip()


# ---- the text ----


def _table(plan: FittingPlan, system: System) -> Iterator[str]:
    if not plan.hoses:
        yield "  no hoses"
        return
    yield f"  {'hose':<{TAG_WIDTH}} {'has':>7} {'needs':>12}  {'by':<6}  {'to have':>14} {'sure':>5}  {'now':<4}  pose"
    for fitted in plan.hoses:
        yield _table_row(fitted, system).rstrip()


def _table_row(fitted: FittedHose, system: System) -> str:
    hose, advice = fitted.figures.hose, fitted.advice
    start = f"  {cut(hose.tag, TAG_WIDTH):<{TAG_WIDTH}} {shown(hose.length_m, 'length', system):>7}"
    if advice is None:
        return f"{start} {'not known':>12}"
    sure = percent(fitted.to_have.odds) if fitted.to_have else ""
    return (
        f"{start} {format_needs(advice, system):>12}  {source_word(advice):<6}  {length_to_have(fitted, system):>14} "
        f"{sure:>5}  {now_word(fitted):<4}  {advice.demanded.pose}"
    )


def _hose_lines(fitted: FittedHose, stock: Stock | None, system: System) -> Iterator[str]:
    hose, routed = fitted.figures.hose, fitted.figures.routed
    yield f"{visible(hose.tag)}: {routed.route.name if routed else 'no route'}"
    for label, text in hose_rows(fitted, stock, system):
        first, *rest = wrap(text, WIDTH - 13)
        yield f"  {label:<10} {first}"
        yield from (f"{'':<13}{row}" for row in rest)


# ---- for programs ----


def _body_json(wearer: Wearer) -> dict[str, Any]:
    return {
        "sex": wearer.sex,
        "is_given": wearer.is_given,
        "is_outside_survey": wearer.is_outside_survey,
        "measures_m": {name: figure_json(figure) for name, figure in wearer.measures.items()},
        "suit_m": figure_json(wearer.suit),
        "neck_turn_rad": figure_json(wearer.neck_turn),
        "neck_back_rad": figure_json(wearer.neck_back),
    }


def _hose_json(fitted: FittedHose) -> dict[str, Any]:
    figures, advice, routed = fitted.figures, fitted.advice, fitted.figures.routed
    row: dict[str, Any] = {
        "tag": figures.hose.tag,
        "role": figures.hose.role,
        "body": figures.hose.body,
        "length_m": figures.hose.length_m,
        "route": routed.route.name if routed else None,
        "path": list(routed.route.path) if routed else None,
        "now": now_word(fitted) or None,
        "flow": _flow_json(fitted.flow) if fitted.flow else None,
    }
    if advice is None:
        return row
    return row | {
        "by": "string" if advice.is_measured else "landmarks",
        "needs": [
            {"pose": need.pose, "how": need.how, "length_m": figure_json(need.length), "asked": need.is_asked}
            for need in advice.needs
        ],
        "demanded_in": advice.demanded.pose,
        "string_less_estimate_m": figure_json(advice.string_less_estimate) if advice.string_less_estimate else None,
        "present": _option_json(advice.present),
        "buy": _option_json(advice.buy),
        "shorter": _option_json(advice.shorter),
        "longer": _option_json(advice.longer),
        "made_to_measure_m": advice.made_m,
        "hold": routed.hold._asdict() if routed else None,
        "knobs": [knob._asdict() for knob in routed.knobs] if routed else [],
    }


def _option_json(option: Option | None) -> dict[str, Any] | None:
    if option is None:
        return None
    return {
        "length_m": option.length_m,
        "odds": round(option.odds, 4),
        "tests": [
            {
                "pose": test.pose,
                "asked": test.is_asked,
                "passes": test.passes,
                "margin_m": figure_json(test.margin),
                "odds": round(test.odds, 4),
            }
            for test in option.tests
        ],
        "rest_slack_m": figure_json(option.rest_slack),
        "slack_is_on_purpose": option.by_design,
        "stand_off_m": option.stand_off._asdict() if option.stand_off else None,
        "held_stand_off_m": option.held_stand_off._asdict() if option.held_stand_off else None,
        "price": option.stocked.price if option.stocked else None,
    }


def _flow_json(flow: Flow) -> dict[str, Any]:
    return {
        "depth_m": flow.depth_m,
        "peak_flow_m3_s": flow.flow_m3_s,
        "bore_m": flow.bore_m,
        "drop_pa": flow.drop._asdict() if flow.drop else None,
        "is_too_much": flow.is_too_much,
    }


def _shopping_json(line: ShoppingLine) -> dict[str, Any]:
    return {
        "count": line.pieces,
        "for": list(line.tags),
        "length_m": line.length_m,
        "measured": line.measured,
        "is_made": line.is_made,
        "body": line.body,
        "service": line.service,
        "first_stage_end": _end_json(line.at_first_stage),
        "device_end": _end_json(line.at_device),
        "price": line.price,
    }


def _end_json(end: Fitting) -> dict[str, str]:
    return {"name": end.name, "joint": end.joint, "gender": end.gender}

"""What `kitbuilder losses` prints: what still works when one item fails, and how fast gas is lost; as text or JSON."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Any

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.gas.feeds import FUNCTIONS
from kitbuilder.foreign import visible
from kitbuilder.plans.losses import (
    HP_BURST,
    LP_BURST,
    STAGE_LOST,
    VALVE_CLOSED,
    Emptying,
    Function,
    Loss,
    Losses,
)
from kitbuilder.report.balance import figure_json
from kitbuilder.report.linked import not_used_lines
from kitbuilder.report.numbers import System, percent, shown
from kitbuilder.report.words import CAUTIONS, cut, sentence

WIDTH = 80
"""Columns of the text."""
CAUSE_WIDTH, CELL_WIDTH, TIME_WIDTH = 30, 11, 22

FUNCTION_WORDS = {"breathing": "breathe", "inflation": "inflate", "drysuit": "drysuit", "gauge": "gauge"}
"""What a diver does with each function."""
SHORT_CAUSES = {VALVE_CLOSED: "valve closed", STAGE_LOST: "stage lost", LP_BURST: "LP burst", HP_BURST: "HP burst"}
"""The causes where room is scarce."""

ALL, NONE, HAS_NONE = "all", "none", "–"
"""Everything works, nothing does, and the kit has no such item."""

NOTHING = "No first stage in this kit: nothing hangs on one, so nothing can be lost with it."
ONE_FIRST_STAGE = (
    "One first stage feeds everything here: with it everything is lost, whatever fails. A buddy with gas to share, or "
    "a second source, is what is left."
)
ESTIMATE = (
    "Times are estimates from figures that nobody has measured, the valve left open; o tells what they take for "
    "granted."
)
LONGEST_SECONDS = 120.0
"""What takes longer is told in minutes."""


# ---- words that the screen shares ----


def format_cause(loss: Loss) -> str:
    """What fails: "right post: valve closed", "long hose: LP burst"."""
    return f"{visible(loss.tag)}: {loss.cause}"


def format_function(function: Function) -> str:
    """What still does a job, where room is scarce: "all", "none" or the tags."""
    if not function.works:
        return NONE if function.lost else HAS_NONE
    if not function.lost:
        return ALL
    return ", ".join(visible(tag) for tag in function.works)


def format_time(time: Range | None) -> str:
    """A time with its range, to two digits: "80 s (43 to 180)", "18 min (6.5 to 49)"."""
    if time is None:
        return "not known"
    if time.value <= LONGEST_SECONDS:
        return f"{_two_digits(time.value)} s ({_two_digits(time.low)} to {_two_digits(time.high)})"
    low, value, high = (_two_digits(each / 60) for each in (time.low, time.value, time.high))
    return f"{value} min ({low} to {high})"


def format_gas(loss: Loss) -> str:
    """How much of the gas can still be breathed, and whose cannot: "50 ± 1 %; that of right cylinder is shut in"."""
    share = "not known" if loss.gas_left is None else _format_share(loss.gas_left)
    if not loss.shut_in:
        return share
    return f"{share}; that of {_listed(loss.shut_in)} is shut in"


def loss_rows(loss: Loss, system: System) -> tuple[tuple[str, str], ...]:
    """All there is to say about one loss, a label and a text a row."""
    return (
        *_function_rows(loss),
        ("gas left", format_gas(loss)),
        *_emptying_rows(loss, system),
        ("do", _format_do(loss)),
    )


def format_where(emptying: Emptying, system: System) -> str:
    """Where it empties: "at the surface", "at 45 m"."""
    if emptying.depth_m == 0.0:
        return "at the surface"
    return f"at {shown(emptying.depth_m, 'depth', system)}"


def format_stage(found: Losses, stage: str) -> str:
    """A first stage and the cylinders behind it: "right post, on right cylinder and left cylinder"."""
    tags = found.cylinders[stage]
    return f"{visible(stage)}, on {_listed(tags) if tags else 'a cylinder that is not known'}"


def format_plain(found: Losses) -> str:
    """What to say first of a kit whose losses need no table; empty when there is more to say."""
    if not found.losses:
        return NOTHING
    return ONE_FIRST_STAGE if found.has_one_source else ""


def assumption_lines(found: Losses, system: System) -> list[str]:
    """What the losses take for granted and leave out, a sentence a line."""
    return [sentence(each, system) for each in (*found.assumptions, *found.left_out)]


def _function_rows(loss: Loss) -> Iterator[tuple[str, str]]:
    for name, function in loss.functions.items():
        if function.works or function.lost:
            works = _listed(function.works) if function.works else "nothing"
            gone = f"; lost: {_listed(function.lost)}" if function.lost else ""
            yield FUNCTION_WORDS[name], f"{works}{gone}"


def _emptying_rows(loss: Loss, system: System) -> Iterator[tuple[str, str]]:
    for number, emptying in enumerate(loss.emptyings):
        yield "" if number else "empty in", f"{format_time(emptying.time)} {format_where(emptying, system)}"


def _format_do(loss: Loss) -> str:
    stage = visible(loss.stage)
    if loss.cause == VALVE_CLOSED:
        return f"open the valve of {stage} again"
    if loss.cause == STAGE_LOST:
        return f"close the valve of {stage}"
    return f"close the valve of {stage} at once; until then the rest still works, and the gas runs out"


def _format_share(share: Figure) -> str:
    if share.value <= 0.0:
        return NONE
    # Gas that is all of it has no spread; any other is off by something.
    return percent(share)


def _two_digits(value: float) -> str:
    return f"{float(f'{value:.2g}'):g}"


def _listed(tags: tuple[str, ...]) -> str:
    *before, last = (visible(tag) for tag in tags)
    return f"{', '.join(before)} and {last}" if before else last


# ---- the text ----


def losses_text(file: str, found: Losses, system: System) -> str:
    """The losses for people."""
    kit, losses = found.kit, found.losses
    lines = [visible(file), f"{visible(kit.header.name)} · {kit.header.layout}"]
    lines += [*not_used_lines(kit.linked.problems, WIDTH), ""]
    if plain := format_plain(found):
        lines += [*wrap(plain, WIDTH), ""]
    if losses:
        lines += [*_table(found), "", *_gas_lines(losses), ""]
    if any(loss.emptyings for loss in losses):
        lines += [*_times(losses, system), ""]
    for text in assumption_lines(found, system):
        lines += wrap(text, WIDTH, initial_indent="- ", subsequent_indent="  ")
    return "\n".join([*lines, "", *wrap(CAUTIONS, WIDTH), ""])


def _table(found: Losses) -> Iterator[str]:
    heads = "".join(f" {FUNCTION_WORDS[name]:<{CELL_WIDTH}}" for name in FUNCTIONS)
    yield f"{'what still works':<{CAUSE_WIDTH}}{heads}".rstrip()
    stage = ""
    for loss in found.losses:
        if loss.stage != stage:
            stage = loss.stage
            yield cut(format_stage(found, stage), WIDTH)
        cells = "".join(
            f" {cut(format_function(loss.functions[name]), CELL_WIDTH):<{CELL_WIDTH}}" for name in FUNCTIONS
        )
        yield f"{cut(_format_row(loss), CAUSE_WIDTH):<{CAUSE_WIDTH}}{cells}".rstrip()


def _format_row(loss: Loss) -> str:
    """The cause below the name of its first stage."""
    return f"  {loss.cause}" if loss.tag == loss.stage else f"  {loss.cause}: {visible(loss.tag)}"


def _gas_lines(losses: tuple[Loss, ...]) -> Iterator[str]:
    yield "gas left to breathe, the valve closed at once"
    for loss in losses:
        if loss.cause == VALVE_CLOSED:
            yield from wrap(
                f"without {visible(loss.stage)}: {format_gas(loss)}",
                WIDTH,
                initial_indent="  ",
                subsequent_indent="    ",
            )


def _times(losses: tuple[Loss, ...], system: System) -> Iterator[str]:
    bursts = [loss for loss in losses if loss.emptyings]
    heads = "".join(f" {format_where(each, system):<{TIME_WIDTH}}" for each in bursts[0].emptyings)
    yield f"{'empty, the valve left open':<{CAUSE_WIDTH}}{heads}".rstrip()
    for loss in bursts:
        cells = "".join(f" {format_time(each.time):<{TIME_WIDTH}}" for each in loss.emptyings)
        yield f"{cut(_format_row(loss), CAUSE_WIDTH):<{CAUSE_WIDTH}}{cells}".rstrip()


# ---- for programs ----


def losses_json(file: str, found: Losses) -> dict[str, Any]:
    """The losses for programs: SI units, each figure with its spread or range."""
    kit = found.kit
    return {
        "file": file,
        "name": kit.header.name,
        "layout": kit.header.layout,
        "losses": [_loss_json(loss) for loss in found.losses],
        "assumptions": [sentence(each, System.METRIC) for each in found.assumptions],
        "linked_problems": list(kit.linked.problems),
        "left_out": [sentence(each, System.METRIC) for each in found.left_out],
    }


def _loss_json(loss: Loss) -> dict[str, Any]:
    return {
        "cause": loss.cause,
        "item": loss.item,
        "tag": loss.tag,
        "first_stage": loss.stage,
        "functions": {
            name: {"works": list(function.works), "lost": list(function.lost)}
            for name, function in loss.functions.items()
        },
        "gas_left": figure_json(loss.gas_left) if loss.gas_left else None,
        "gas_shut_in": list(loss.shut_in),
        "empty": [_emptying_json(emptying) for emptying in loss.emptyings],
    }


def _emptying_json(emptying: Emptying) -> dict[str, Any]:
    time = emptying.time
    return {
        "depth_m": emptying.depth_m,
        "time_s": {"value": time.value, "low": time.low, "high": time.high} if time else None,
    }

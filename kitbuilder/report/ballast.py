"""What `kitbuilder ballast` prints: the lead for each water and cylinder, as text or as JSON."""

from textwrap import wrap
from typing import Any

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.findings import Unchecked
from kitbuilder.foreign import visible
from kitbuilder.plans.ballast import Answer, Ballast
from kitbuilder.report.balance import (
    balance_json,
    figure_json,
    format_gas,
    format_lead,
    format_likely_lead,
    format_pieces,
    step_rows,
)
from kitbuilder.report.linked import not_used_lines
from kitbuilder.report.numbers import System, digits, shown, spread_digits, unit
from kitbuilder.report.words import sentence

WIDTH = 100
OWN = "as in the kit"
RULES = ("balance", "totals", "float check")
"""The rules whose missing values leave the lead unsure."""


def ballast_text(file: str, found: Ballast, missing: tuple[Unchecked, ...], system: System) -> str:
    """The answers for people."""
    header = found.kit.header
    lines = [visible(file), f"{visible(header.name)} · {header.layout} · {found.own}"]
    lines += [*not_used_lines(found.kit.linked.problems, WIDTH), ""]
    if not found.answers:
        lines.append("  The lead cannot be worked out.")
    else:
        lines += _answer_lines(found, system)
    lines += [row for result in missing for row in _paragraph(f"Not told: {sentence(result.because, system)}")]
    return "\n".join([*lines, ""])


def _answer_lines(found: Ballast, system: System) -> list[str]:
    rows = [_row(answer, system) for answer in found.answers]
    width, taken = max(len(row[1]) for row in rows), max(len(row[3]) for row in rows)
    head = (
        f"  {'water':<9}  {'cylinders':<{width}}  {'lead needed':>14}  {'take':<{taken}}  {'full, at depth':>14}  wing"
    )
    lines = [head]
    before = ""
    for water, cylinder, lead, take, heavy, wing in rows:
        shown_water = "" if water == before else water
        lines.append(
            f"  {shown_water:<9}  {cylinder:<{width}}  {lead:>14}  {take:<{taken}}  {heavy:>14}  {wing}".rstrip()
        )
        before = water
    own = found.answers[0].balance
    lines += ["", *_paragraph(_meaning(own, system)), *_paragraph(format_likely_lead(own))]
    if changes := [line for answer in found.answers[1:] if (line := _change(answer, system))]:
        lines += ["", "  What the change alone asks for, which is surer than the lead itself:", *changes]
    if steps := step_rows(own, system):
        lines += ["", "  What would make the lead of the first row surer, and how sure then:"]
        lines += [f"    {label:<60} {value}" for label, value in steps]
    return lines


def _row(answer: Answer, system: System) -> tuple[str, ...]:
    balance = answer.balance
    heavy = balance.full_at_depth
    need = balance.bladder_need(heavy)
    wing = "" if need.part is None else f"{need.part:.0%} of lift"
    if need.floats_up and balance.buoyancy_model.lift:
        wing = "floats"
    return (
        answer.water,
        OWN if answer.cylinder is None else f"with {answer.cylinder}",
        format_lead(balance, system),
        format_pieces(balance.pieces),
        f"{digits(heavy.value, 'lift', system)} ± {spread_digits(heavy, 'lift', system)} {unit('lift', system)}",
        wing.replace("%", " %"),
    )


def _meaning(balance: Balance, system: System) -> str:
    stop, gas = shown(balance.stop.depth_m, "depth", system), format_gas(balance, balance.stop.gas, system)
    deepest = shown(balance.moments[1].depth_m, "depth", system)
    return (
        f"Lead for being neutral at {stop} with the reserve ({gas}) and an empty wing; in whole pieces. "
        f"The last columns: how heavy it is at {deepest} with the cylinders full and those pieces, and how much of "
        "the lift of the wing that takes. Take the middle, make a float check at the stop, and change it by what that "
        "shows."
    )


def _change(answer: Answer, system: System) -> str:
    changed = answer.change
    number = f"{digits(changed.value, 'lift', system)} ± {spread_digits(changed, 'lift', system)}"
    same = "" if answer.cylinder is None else f", {answer.cylinder}"
    return f"    {answer.water + same:<40} {number:>11} {unit('lift', system)} of lead"


def _paragraph(text: str) -> list[str]:
    return [f"  {row}" for row in wrap(text, WIDTH - 2)]


def ballast_json(file: str, found: Ballast, missing: tuple[Unchecked, ...], system: System) -> dict[str, Any]:
    """The answers for programs."""
    return {
        "file": file,
        "name": found.kit.header.name,
        "own_cylinders": found.own,
        "answers": [
            {
                "water": answer.water,
                "cylinders": answer.cylinder,
                "change_of_lead_kg": figure_json(answer.change),
                "full_at_depth_kgf": figure_json(answer.balance.full_at_depth),
                **balance_json(answer.balance),
            }
            for answer in found.answers
        ],
        "linked_problems": list(found.kit.linked.problems),
        "not_told": [sentence(result.because, system) for result in missing],
    }

"""A changeover in words: what becomes of each hose, what to have at hand, and the checklist; as text or as JSON."""

from collections.abc import Iterable, Iterator
from textwrap import wrap
from typing import Any

from kitbuilder.catalogue.bench_work import JointWork, bench_work
from kitbuilder.foreign import visible
from kitbuilder.kit.items import Kit
from kitbuilder.plans.changeover import Changeover, PartOutcome, Step, Unbuildable
from kitbuilder.plans.changeover.build import called, described
from kitbuilder.report.linked import not_used_lines, problems_of
from kitbuilder.report.numbers import System, digits, unit
from kitbuilder.report.words import cut, sentence

WIDTH = 100
"""Columns of the text."""

ALSO = "a torque spanner, a test gauge for the intermediate pressure, caps for the inlets, labels"
"""What every changeover takes."""
HOW_SURE = (
    "Spanners, torques and most ring numbers are common practice without a source: the part and what its maker says of "
    "it come first. What a checklist cannot see, it does not know: a worn thread, a nick in a ring, a tired hose."
)


def changeover_text(
    plan: Changeover, files: tuple[str, str], system: System, ticked: frozenset[str] = frozenset()
) -> str:
    """The changeover for people, to print and to tick with a pencil.

    Args:
        plan: The changeover.
        files: The names of the two files.
        system: The reader's units.
        ticked: The steps that are done, by `tick_key`.
    """
    kits = (plan.source.kit, plan.target.kit)
    names = [f"{visible(kit.header.name)} ({visible(file)})" for kit, file in zip(kits, files, strict=True)]
    lines = [
        f"from  {names[0]}",
        f"to    {names[1]}",
        *not_used_lines(_linked_problems(plan, files), WIDTH),
        *wrap(format_effort(plan), WIDTH),
        "",
        *fate_lines(plan.outcomes),
        "",
        *needed_lines(plan, WIDTH, system),
    ]
    for phase, steps in phases(plan.steps):
        lines += ["", phase]
        for step in steps:
            lines += _step_lines(step, system, is_done=tick_key(step) in ticked)
    lines += ["", "How each joint is made", *work_lines(plan, system), "", *wrap(HOW_SURE, WIDTH), ""]
    return "\n".join(lines)


def changeover_json(plan: Changeover, files: tuple[str, str]) -> dict[str, Any]:
    """The changeover for programs."""
    bought, undone, made, fetched = plan.match.cost
    return {
        "from": files[0],
        "to": files[1],
        "proved_least": plan.match.is_proved,
        "parts_to_get": bought,
        "joints_undone": undone,
        "joints_made": made,
        "parts_fetched": fetched,
        "to_get": [format_part(plan, key, System.METRIC) for key in plan.match.bought],
        "parts": [outcome._asdict() for outcome in plan.outcomes],
        "tools": list(plan.tools),
        "o_rings": plan.rings,
        "steps": [_step_json(step) for step in plan.steps],
        "linked_problems": list(_linked_problems(plan, files)),
        "how_sure": HOW_SURE,
    }


def _linked_problems(plan: Changeover, files: tuple[str, str]) -> tuple[str, ...]:
    return problems_of(zip(files, (plan.source.kit, plan.target.kit), strict=True))


def unbuildable_text(problem: Unbuildable, file: str, linked_problems: Iterable[str], system: System) -> str:
    """Say why a kit is not planned with, one line per reason, and which linked files cannot be used."""
    reasons = [f"{visible(file)}: {sentence(reason, system)}" for reason in problem.reasons]
    refused = f"{visible(file)}: not planned with until this is put right."
    return "\n".join([*reasons, refused, *not_used_lines(linked_problems, WIDTH), ""])


def unbuildable_json(problem: Unbuildable, files: tuple[str, str], linked_problems: Iterable[str]) -> dict[str, Any]:
    """Say the same for programs."""
    reasons = [sentence(reason, System.METRIC) for reason in problem.reasons]
    return {"from": files[0], "to": files[1], "refused": reasons, "linked_problems": list(linked_problems)}


def file_of(problem: Unbuildable, source: Kit, files: tuple[str, str]) -> str:
    """The file a problem is about."""
    return files[0] if problem.kit is source else files[1]


# ---- words that the screen shares ----


def format_effort(plan: Changeover) -> str:
    """How much work it is, and whether less is possible."""
    bought, undone, made, fetched = plan.match.cost
    proved = "no fewer will do" if plan.match.is_proved else "the time was up, fewer may do"
    return f"joints: {undone} undone, {made} made; parts: {fetched} fetched, {bought} to get; {proved}"


def fate_lines(outcomes: tuple[PartOutcome, ...], width: int = WIDTH) -> list[str]:
    """What becomes of each part, in columns, kind by kind."""
    room = min(20, (width - 12) // 4)
    lines = []
    for title, kinds in PARTS.items():
        of_kind = [
            outcome for outcome in outcomes if outcome.kind in kinds or (not kinds and outcome.kind not in TOLD_APART)
        ]
        if of_kind:
            cells = " ".join(f"{head:<{room}}" for head in (title, "is now", "sits on", "goes to"))
            lines += [cells.rstrip(), *(_outcome_line(outcome, width, room) for outcome in of_kind), ""]
    return lines[:-1]


PARTS = {"first stage": ("first_stage",), "hose": ("hose",), "adapter": ("adapter",), "at its end": ()}
"""The parts by kind, as the table heads them; the last takes all others."""
TOLD_APART = ("first_stage", "hose", "adapter")


def _outcome_line(outcome: PartOutcome, width: int, room: int) -> str:
    cells = (outcome.becomes, outcome.is_now, outcome.before, outcome.after)
    row = " ".join(f"{cut(text.removeprefix('the ') or '-', room):<{room}}" for text in cells)
    swapped = f", for {visible(outcome.instead_of)}" if outcome.instead_of else ""
    return cut(f"{row} {outcome.what}{swapped}", width)


def needed_lines(plan: Changeover, width: int, system: System) -> list[str]:
    """What to have at hand: tools, rings, plugs, parts."""
    rings = ", ".join(_format_ring(plan, size, pieces) for size, pieces in plan.rings.items())
    rows = (
        ("spanners", " · ".join(plan.tools) or "none"),
        ("besides", ALSO),
        ("O-rings", rings or "none"),
        ("plugs", _format_plug(plan) or "none"),
        ("to get", "; ".join(format_part(plan, key, system) for key in plan.match.bought) or "nothing"),
    )
    lines = ["Have at hand"]
    for label, text in rows:
        first, *rest = wrap(text, width - 13)
        lines += [f"  {label:<10} {first}", *(f"{'':<13}{row}" for row in rest)]
    return lines


def _format_ring(plan: Changeover, size: str, pieces: int) -> str:
    """A size of ring: how many, what for, and whether the gear file has fewer."""
    spare = plan.spare_rings
    there = spare.get(size, 0) if spare is not None else pieces
    fewer = f"; your gear has {there}" if there < pieces else ""
    return f"{pieces} × {size} ({bench_work().o_rings[size].used_for}{fewer})"


def _format_plug(plan: Changeover) -> str:
    """Which plugs come out and go in, by thread, each with its port."""
    match, parts = plan.match, []
    moves = (
        ((*match.plugs_out, *match.caps_out), "out of"),
        (match.plugs_in, "into"),
        (match.open_in_store, "or caps to close"),
    )
    for plugs, word in moves:
        for kind in dict.fromkeys(plug.kind for plug in plugs):
            ports = [f"{visible(plug.stage)} {plug.port}" for plug in plugs if plug.kind == kind]
            parts.append(f"{len(ports)} × {kind} {word} {', '.join(ports)}")
    if plan.spare_plugs is not None and parts:
        parts.append(f"your gear has {', '.join(f'{pieces} × {kind}' for kind, pieces in plan.spare_plugs.items())}")
    return "; ".join(parts)


def format_part(plan: Changeover, key: str, system: System) -> str:
    """A part of the target, and what it is."""
    part = plan.match.target.parts[key]
    return f"{visible(called(part))} ({sentence(described(part), system).rstrip('.')})"


def phases(steps: tuple[Step, ...]) -> Iterator[tuple[str, list[Step]]]:
    """The steps by phase."""
    for phase in dict.fromkeys(step.phase for step in steps):
        yield phase, [step for step in steps if step.phase == phase]


def tick_key(step: Step) -> str:
    """By which a step is known when it was ticked, whatever units are shown and wherever it stands now."""
    return f"{step.phase}: {sentence(step.what, System.METRIC)}"


def box(is_done: bool) -> str:
    """The box to tick."""
    return "[x]" if is_done else "[ ]"


def format_work(work: JointWork, system: System) -> str:
    """What a joint takes, in one line: spanners, torque, ring."""
    if work.by_hand:
        return "by hand"
    parts = [work.turn_with]
    if work.hold_with:
        parts.append(f"held with {work.hold_with}")
    if work.torque:
        parts.append(format_torque(work, system))
    if work.o_rings:
        parts.append(f"ring {' and '.join(work.o_rings)}")
    return "; ".join(parts)


def format_torque(work: JointWork, system: System) -> str:
    """The torque of a joint: "3.0 to 4.5 N·m"."""
    assert work.torque is not None
    low, high = (digits(value, "torque", system) for value in (work.torque.low, work.torque.high))
    return f"{low} to {high} {unit('torque', system)}"


def work_lines(plan: Changeover, system: System) -> list[str]:
    """Each kind of joint of the changeover once: what it takes, how it is done, where that comes from."""
    works = {step.work.name: step.work for step in plan.steps if step.work is not None}
    lines = []
    for name, work in works.items():
        origins = dict.fromkeys((work.torque.origin if work.torque else work.origin, work.origin))
        lines.append(f"  {name}")
        for row in (format_work(work, system), work.how, f"({'; '.join(origins)})"):
            lines += [f"      {part}" for part in wrap(row, WIDTH - 6)]
    return lines


def _step_lines(step: Step, system: System, *, is_done: bool) -> Iterable[str]:
    text = sentence(step.what, system)
    if step.work is not None and not step.work.by_hand:
        text = f"{text} [{step.work.name}]"
    first, *rest = wrap(text, WIDTH - 10)
    yield f"  {box(is_done)} {step.number:>3} {first}"
    yield from (f"{'':<10}{row}" for row in rest)


def _step_json(step: Step) -> dict[str, Any]:
    work = step.work
    return {
        "number": step.number,
        "phase": step.phase,
        "verb": step.verb,
        "text": sentence(step.what, System.METRIC),
        "places": [place._asdict() for place in step.places],
        "joint": work.name if work else None,
        "turn_with": work.turn_with or None if work else None,
        "hold_with": work.hold_with or None if work else None,
        "torque_nm": [work.torque.low, work.torque.high] if work and work.torque else None,
        "o_rings": list(work.o_rings) if work else [],
        "origin": work.origin if work else None,
    }

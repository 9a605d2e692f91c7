"""The page of `kitbuilder changeover`: what happens to each part, what to have ready, and the checklist."""

from collections.abc import Iterable, Iterator, Sequence

from kitbuilder.assess.findings import Tag
from kitbuilder.catalogue.bench_work import JointWork, bench_work
from kitbuilder.kit.items import Kit
from kitbuilder.plans.changeover import Changeover, PartOutcome, Step, Unbuildable
from kitbuilder.plans.changeover.build import called
from kitbuilder.plans.changeover.cleaning import described_clean
from kitbuilder.plans.changeover.material import CLOSING, IN, OUT, PlugMove
from kitbuilder.plans.changeover.step import JointSlot
from kitbuilder.report.linked import not_used, problems_of
from kitbuilder.report.numbers import System
from kitbuilder.report.owners import HOW_TO_SHARE, divers_words
from kitbuilder.report.page import (
    Between,
    Box,
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
from kitbuilder.report.shapes import COUNT, FLAG, LIMITS, TEXT, listed, one_of, optional, record
from kitbuilder.report.words import CAUTIONS, box, counted_items, ended, sentence

PART = record(
    kind=TEXT,
    becomes=optional(TEXT),
    is_now=optional(TEXT),
    before=optional(TEXT),
    after=optional(TEXT),
    what=one_of("stays", "moves", "from your gear", "to buy", "put away"),
    instead_of=optional(TEXT),
)
STEP = record(
    phase=TEXT,
    verb=TEXT,
    text=TEXT,
    places=listed(record(origin=one_of("source", "store", "new"), part=TEXT, slot=optional(TEXT))),
    joint=optional(TEXT),
    turn_with=optional(TEXT),
    hold_with=optional(TEXT),
    torque_nm=optional(LIMITS),
    o_rings=listed(TEXT),
    how=optional(TEXT),
    origin=optional(TEXT),
    note=optional(TEXT),
)
PLUG_COUNT = record(plug=TEXT, pieces=COUNT, in_use=COUNT, needed=COUNT, to_buy=COUNT)
PLAN = record(
    **{"from": TEXT},
    to=TEXT,
    divers=listed(TEXT),
    moves_parts=FLAG,
    proved_least=FLAG,
    joints_undone=COUNT,
    joints_made=COUNT,
    parts_from_gear=COUNT,
    parts_to_buy=COUNT,
    parts=listed(PART),
    tools=listed(TEXT),
    o_rings=listed(record(size=TEXT, pieces=COUNT, owned=optional(COUNT), used_for=TEXT)),
    plugs=listed(record(what=one_of(OUT, IN, CLOSING), service=TEXT, thread=TEXT, ports=listed(TEXT))),
    plugs_owned=optional(listed(PLUG_COUNT)),
    to_buy=listed(record(part=TEXT, what=TEXT)),
    steps=listed(STEP),
    how_certain=TEXT,
)
REFUSAL = record(**{"from": TEXT}, to=TEXT, not_buildable=TEXT, refused=listed(TEXT))
SHAPE = {"anyOf": [PLAN, REFUSAL]}
"""A plan, or the reasons why there is none."""

SUPPLIES = "Tools and supplies"
OTHER_TOOLS = "a torque wrench, a test gauge for the intermediate pressure, caps for the inlets, labels"
"""What every changeover takes."""
HOW_CERTAIN = (
    "Spanner sizes, torques and most O-ring numbers are common practice without a source. What is marked on the part "
    "and what its manufacturer says come first. A checklist cannot see a worn thread, a damaged O-ring or a tired hose."
)


def changeover_page(plan: Changeover, files: tuple[str, str], ticked: frozenset[str] = frozenset()) -> Page:
    """Build the page of a changeover, to print and to tick with a pencil.

    Args:
        plan: The changeover.
        files: The names of the two files.
        ticked: The steps that are done, by `tick_key`.
    """
    kits = (plan.source.kit, plan.target.kit)
    return Page(
        [
            _data(plan, files),
            Facts(
                [
                    Fact("", label, f"{kit.header.name} ({file})")
                    for label, kit, file in zip(("from", "to"), kits, files, strict=True)
                ]
            ),
            not_used(linked_problems(plan, files)),
            *([text(*words)] if (words := whose(plan)) else []),
            text(*effort(plan)),
            *outcome_tables(plan.outcomes),
            Section(SUPPLIES, [needed(plan)]),
            *(
                Section(phase_title(phase), [Statements("", [_step_entry(step, ticked) for step in steps])])
                for phase, steps in phases(plan.steps)
            ),
            Section("How each joint is made", [joint_entries(plan)]),
            Section("", [text(HOW_CERTAIN, key="how_certain")]),
            Section("", [text(CAUTIONS)]),
        ]
    )


def unbuildable_page(problem: Unbuildable, source: Kit, files: tuple[str, str], linked: Iterable[str]) -> Page:
    """Build the page that says why there is no plan.

    Args:
        problem: The kit that cannot be built, and the reasons.
        source: The kit as it is built now.
        files: The names of the two files.
        linked: What is wrong with linked files.
    """
    file = files[0] if problem.kit is source else files[1]
    return Page(
        [
            only_data(("from", Tag(files[0])), ("to", Tag(files[1])), ("not_buildable", Tag(file))),
            text("There is no plan until ", Tag(file), " is corrected:"),
            Statements("", [Statement(ended(reason), mark="-") for reason in problem.reasons]),
            only_data(("refused", Values([ended(reason) for reason in problem.reasons]))),
            not_used(linked),
            Section("", [text(CAUTIONS)]),
        ]
    )


def linked_problems(plan: Changeover, files: tuple[str, str]) -> tuple[str, ...]:
    """Give what is wrong with the linked files of both kits."""
    return problems_of(zip(files, (plan.source.kit, plan.target.kit), strict=True))


# ---- parts of the page, which the screen shows one by one ----


def effort(plan: Changeover) -> Sentence:
    """Say how much work it is, and whether less is possible."""
    bought, undone, made, fetched = plan.match.cost
    proved = "No plan takes less." if plan.match.is_proved else "Time ran out: less may be possible."
    plugs = f" and {counted_items(plan.plugs_to_buy, 'plug')}" if plan.plugs_to_buy else ""
    return (
        f"Undo {counted_items(undone, 'joint')}, make {made}. "
        f"Fetch {counted_items(fetched, 'part')}, buy {bought}{plugs}. {proved}",
    )


def whose(plan: Changeover) -> Sentence:
    """Say that the kits belong to several divers, and what that means; nothing when they belong to one."""
    if not plan.owners.are_several:
        return ()
    divers = divers_words(plan.owners)
    if not plan.moves_parts:
        what = "Nothing is taken from the first kit: only what the second diver owns counts. "
        return (*divers, what, HOW_TO_SHARE)
    if plan.owners.share_gear:
        return (*divers, "They share one gear file, so parts of the first kit are used for the second.")
    return (*divers, "Parts of the first diver's kit are used for the second diver's, as asked.")


def outcome_tables(outcomes: Sequence[PartOutcome]) -> Iterator[Table]:
    """Build a table for each kind of part: what happens to it, where it is and where it goes."""
    for title, kinds in PARTS.items():
        rows = [_outcome_row(outcome) for outcome in outcomes if _is_of(outcome, kinds)]
        heads = (title, "what happens", "now called", "now on", "goes to")
        if rows:
            yield Table("", [Column("", head, may_wrap=True) for head in heads], rows)


PARTS = {"first stage": ("first_stage",), "hose": ("hose",), "adapter": ("adapter",), "device": ()}
"""The parts by kind, as the table heads them; the last takes all others."""
LISTED_APART = ("first_stage", "hose", "adapter")


def _is_of(outcome: PartOutcome, kinds: Sequence[str]) -> bool:
    return outcome.kind in kinds if kinds else outcome.kind not in LISTED_APART


def _outcome_row(outcome: PartOutcome) -> Row:
    name = outcome.becomes or outcome.is_now
    replaced: Sentence = (", replaces ", Tag(outcome.instead_of)) if outcome.instead_of else ()
    now_called = outcome.is_now if outcome.is_now != name else None
    cells = (name, now_called, outcome.before, outcome.after)
    name_cell, *others = (cell.removeprefix("the ") if cell else None for cell in cells)
    return [name_cell, (outcome.what, *replaced), *others]


def needed(plan: Changeover) -> Facts:
    """Build the list of what to have ready: tools, O-rings, plugs, parts."""
    plugs = [part for move in plan.plug_moves for part in ("; ", *_plug_words(move))][1:]
    if plan.plugs and plugs:
        owned = ", ".join(f"{count.owned} × {count.kind} ({count.in_use} in this kit)" for count in plan.plugs)
        plugs.append(f"; your gear has {owned}")
    to_buy = [word for words in _to_buy(plan) for word in ("; ", *words)][1:]
    return Facts(
        [
            Fact("", "spanners and keys", "; ".join(plan.tools) or "none"),
            Fact("", "other tools", OTHER_TOOLS if plan.match.is_worked_on else "none"),
            Fact("", "O-rings", "; ".join(_ring_words(*ring) for ring in _rings(plan)) or "none"),
            Fact("", "plugs", tuple(plugs) or "none"),
            Fact("", "to buy", tuple(to_buy) or "nothing"),
        ]
    )


def _to_buy(plan: Changeover) -> Iterator[Sentence]:
    yield from (part_words(plan, key) for key in plan.match.bought)
    yield from ((f"{count.to_buy} × plug {count.kind}",) for count in plan.plugs if count.to_buy)


def _rings(plan: Changeover) -> Iterator[tuple[str, int, int | None]]:
    """Give the O-rings: size, how many, and how many the gear file has."""
    spare = plan.spare_rings
    for size, pieces in plan.rings.items():
        yield size, pieces, None if spare is None else spare.get(size, 0)


def _ring_words(size: str, pieces: int, owned: int | None) -> str:
    fewer = f"; your gear has {owned}" if owned is not None and owned < pieces else ""
    return f"{pieces} × {size} ({bench_work().o_rings[size].used_for}{fewer})"


def _plug_words(move: PlugMove) -> Sentence:
    way = {OUT: "out of", IN: "into", CLOSING: "or caps to close"}[move.what]
    ports = [word for plug in move.ports for word in (", ", Tag(plug.stage), f" {plug.port}")][1:]
    return (f"{len(move.ports)} × {move.service} {move.thread} {way} ", *ports)


def part_words(plan: Changeover, key: str) -> Sentence:
    """Say which part of the target to buy, and what it is."""
    part = plan.match.target.parts[key]
    return (Tag(called(part)), " (", *described_clean(part), ")")


def phases(steps: tuple[Step, ...]) -> Iterator[tuple[str, list[Step]]]:
    """Give the steps by phase."""
    for phase in dict.fromkeys(step.phase for step in steps):
        yield phase, [step for step in steps if step.phase == phase]


def phase_title(phase: str) -> str:
    """Give the heading of a phase."""
    return f"{phase[:1].upper()}{phase[1:]}"


def tick_key(step: Step) -> str:
    """Give the name by which a ticked step is found again, whatever the units and its place in the list."""
    return f"{step.phase}: {sentence(step.what, System.METRIC)}"


def steps_table(steps: Sequence[Step], ticked: frozenset[str]) -> Table:
    """Build the list of steps with their boxes, for a list with a cursor."""
    rows: list[Row] = [[box(tick_key(step) in ticked), step.number, _said(step)] for step in steps]
    return Table("", [Column("", "[ ]"), Column("", "#"), Column("", "step", may_wrap=True)], rows)


def step_page(step: Step) -> Page:
    """Build the page of one step: what to do, and what the joint takes."""
    work = [text(*work_words(step.work)), text(step.work.how)] if step.work else []
    return Page([text(*_said(step)), *work])


def joints_page(plan: Changeover) -> Page:
    """Build the page that says how each joint is made, and where that comes from."""
    return Page([joint_entries(plan), *_apart(text(HOW_CERTAIN), text(CAUTIONS))])


def _apart(*paragraphs: Text) -> list[Section]:
    return [Section("", [paragraph]) for paragraph in paragraphs]


def joint_entries(plan: Changeover) -> Statements:
    """Build the list of joints, each kind once: what it takes, how it is made, and where that comes from."""
    works = {step.work.name: step.work for step in plan.steps if step.work is not None}
    return Statements("", [_work_entry(work) for work in works.values()])


def _work_entry(work: JointWork) -> Statement:
    origins = dict.fromkeys((work.torque.origin if work.torque else work.origin, work.origin))
    return Statement((work.name,), [work_words(work), (work.how,), (f"({'; '.join(origins)})",)])


def work_words(work: JointWork) -> Sentence:
    """Say what a joint takes: spanners, torque, O-rings."""
    if work.by_hand:
        return ("by hand",)
    torque = Between(work.torque.low, work.torque.high, "torque") if work.torque else None
    return (
        work.turn_with,
        f"; held with {work.hold_with}" if work.hold_with else "",
        *(("; ", torque, " (no source; the maker's sheet first)") if torque else ()),
        f"; O-ring {' and '.join(work.o_rings)}" if work.o_rings else "",
    )


def _said(step: Step) -> Sentence:
    """Give the sentence of a step, and the note of the day behind it."""
    return (*ended(step.what), *((" ", *step.note) if step.note else ()))


def _step_entry(step: Step, ticked: frozenset[str]) -> Statement:
    joint = (f" [{step.work.name}]",) if step.work is not None and not step.work.by_hand else ()
    return Statement((*_said(step), *joint), mark=Box(step.number, is_ticked=tick_key(step) in ticked))


# ---- for programs ----


def _data(plan: Changeover, files: tuple[str, str]) -> Facts:
    bought, undone, made, fetched = plan.match.cost
    rings = [(*ring, bench_work().o_rings[ring[0]].used_for) for ring in _rings(plan)]
    parts = [plan.match.target.parts[key] for key in plan.match.bought]
    return only_data(
        ("from", Tag(files[0])),
        ("to", Tag(files[1])),
        ("divers", Values([Tag(name) for name in plan.owners.names] if plan.owners.are_several else [])),
        ("moves_parts", plan.moves_parts),
        ("proved_least", plan.match.is_proved),
        ("joints_undone", undone),
        ("joints_made", made),
        ("parts_from_gear", fetched),
        ("parts_to_buy", bought),
        ("parts", _data_table(PartOutcome._fields, [[cell or None for cell in outcome] for outcome in plan.outcomes])),
        ("tools", Values(plan.tools)),
        ("o_rings", _data_table(("size", "pieces", "owned", "used_for"), rings)),
        ("plugs", _data_table(("what", "service", "thread", "ports"), [_plug_row(move) for move in plan.plug_moves])),
        ("plugs_owned", _plugs_owned(plan)),
        ("to_buy", _data_table(("part", "what"), [(called(part), described_clean(part)) for part in parts])),
        ("steps", Statements("steps", [Statement((), data=[*_step_data(plan, step)]) for step in plan.steps])),
    )


def _data_table(keys: Sequence[str], rows: Sequence[Row]) -> Table:
    return Table("", [Column(key, "") for key in keys], rows)


def _plug_row(move: PlugMove) -> Row:
    return [move.what, move.service, move.thread, Values([f"{plug.stage} {plug.port}" for plug in move.ports])]


def _plugs_owned(plan: Changeover) -> Table | None:
    rows: list[Row] = [[each.kind, each.owned, each.in_use, each.needed, each.to_buy] for each in plan.plugs]
    return _data_table(("plug", "pieces", "in_use", "needed", "to_buy"), rows) if rows else None


def _step_data(plan: Changeover, step: Step) -> Iterator[Fact]:
    work = step.work
    torque = Between(work.torque.low, work.torque.high, "torque") if work and work.torque else None
    places: list[Row] = [[place.origin, _name_of(plan, place), place.slot or None] for place in step.places]
    yield Fact("phase", "", step.phase)
    yield Fact("verb", "", step.verb)
    yield Fact("text", "", ended(step.what))
    yield Fact("places", "", _data_table(("origin", "part", "slot"), places))
    yield Fact("joint", "", work.name if work else None)
    yield Fact("turn_with", "", work.turn_with or None if work else None)
    yield Fact("hold_with", "", work.hold_with or None if work else None)
    yield Fact("torque_nm", "", torque)
    yield Fact("o_rings", "", Values(work.o_rings if work else ()))
    yield Fact("how", "", work.how if work else None)
    yield Fact("origin", "", work.origin if work else None)
    yield Fact("note", "", step.note or None)


def _name_of(plan: Changeover, place: JointSlot) -> str:
    match = plan.match
    parts = {"source": match.source.parts, "store": match.store, "new": match.target.parts}[place.origin]
    return called(parts[place.part])

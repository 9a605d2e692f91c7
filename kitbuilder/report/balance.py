"""The balance as screens and commands show it: rows, sentences and JSON that agree to the last digit."""

from collections.abc import Iterator
from textwrap import wrap
from typing import Any, NamedTuple

from kitbuilder.assess.buoyancy.balance import Balance, Moment, WhatIf
from kitbuilder.assess.buoyancy.buoyancy_model import AS_IT_IS, bladder_of, switches_of
from kitbuilder.assess.buoyancy.float_checks import Seen
from kitbuilder.assess.buoyancy.lead_pieces import Pieces, is_cast_in_pounds
from kitbuilder.assess.buoyancy.trim import Pitch
from kitbuilder.assess.figures import Figure
from kitbuilder.foreign import visible
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.report.numbers import System, digits, shown, spread_digits, unit, with_spread
from kitbuilder.units import convert

WHAT_IF_WORDS = {
    "wing fails": "the {bladder} fails",
    "drysuit floods": "the drysuit floods",
    "lead dropped": "all droppable lead is dropped",
    "stages lost": "the stages are lost",
}


WIDTH = 100
"""Columns of the text of a report."""


class MomentRow(NamedTuple):
    """One moment of the dive."""

    name: str
    depth: str
    gas: str
    buoyancy: str
    """With the wing empty, and its spread."""
    full: str
    """With the wing full."""
    wing: str
    """What the wing must hold, or that it cannot help."""


def moment_rows(balance: Balance, system: System) -> tuple[MomentRow, ...]:
    """Every moment of the dive, in its order."""
    return tuple(
        MomentRow(
            moment.name,
            shown(moment.depth_m, "depth", system),
            format_gas(balance, moment.gas, system),
            format_lift(moment.buoyancy, system),
            _format_full(balance, moment, system),
            format_wing(balance, moment, system),
        )
        for moment in balance.moments
    )


def _format_full(balance: Balance, moment: Moment, system: System) -> str:
    full = balance.when_full_kgf(moment.buoyancy)
    return "" if full is None else digits(full, "lift", system)


def moment_lines(balance: Balance, system: System) -> Iterator[str]:
    """Every moment as a table."""
    rows = moment_rows(balance, system)
    gas = max(8, *(len(row.gas) for row in rows))
    bladder = bladder_word(balance)
    empty, full = f"{bladder} empty", f"{bladder} full"
    yield f"{'moment':<11} {'depth':>6}  {'gas':<{gas}} {empty:>15} {full:>11}  to be neutral"
    for row in rows:
        yield f"{row.name:<11} {row.depth:>6}  {row.gas:<{gas}} {row.buoyancy:>15} {row.full:>11}  {row.wing}".rstrip()


def format_gas(balance: Balance, gas: str, system: System) -> str:
    """What the gauges show: "230 bar", "230, 200 bar"; each pressure once."""
    pressures = [digits(pressure, "pressure", system) for pressure in balance.gauges_pa(gas)]
    return f"{', '.join(dict.fromkeys(pressures))} {unit('pressure', system)}" if pressures else "no gas"


def format_lift(figure: Figure, system: System) -> str:
    """A buoyancy with its spread, aligned: " −6.1 ± 2.2 kg"."""
    return (
        f"{digits(figure.value, 'lift', system):>5} ± {spread_digits(figure, 'lift', system):>3} {unit('lift', system)}"
    )


def bladder_word(balance: Balance) -> str:
    """What holds the gas: "wing", or "jacket" where there is no wing."""
    return bladder_of(balance.buoyancy_model.kit) or "wing"


def format_wing(balance: Balance, moment: Moment, system: System) -> str:
    """What the wing holds to be neutral."""
    need = balance.bladder_need(moment.buoyancy)
    if need.floats_up:
        return "floats up"
    if need.part is None:
        return "lift not told"
    if need.lacking_kgf > 0:
        return f"lacks {shown(need.lacking_kgf, 'lead', system)}"
    return f"{bladder_word(balance)} {need.part:.0%}".replace("%", " % full")


def format_lead(balance: Balance, system: System) -> str:
    """The lead that is needed: "5.2 ± 2.3 kg"."""
    return with_spread(balance.lead, "lead", system)


def format_pieces(pieces: Pieces) -> str:
    """The pieces to take: "5 × 1 kg"; in pounds the pieces are still what is cast on them."""
    return " + ".join(f"{count} × {_size(size)}" for size, count in pieces.counts) or "no lead"


def _size(size_kg: float) -> str:
    """As cast on the piece: kilograms, unless pounds make the rounder number."""
    if is_cast_in_pounds(size_kg):
        return f"{convert(size_kg, 'lb', 'mass'):.3g} lb"
    return f"{size_kg:.3g} kg"


def lead_sentence(balance: Balance, system: System) -> str:
    """What the lead is for, and how it compares with what is carried."""
    buoyancy_model = balance.buoyancy_model
    stop = shown(balance.stop.depth_m, "depth", system)
    gas = format_gas(balance, balance.stop.gas, system)
    carried = shown(buoyancy_model.lead_kg, "lead", system)
    surplus = balance.surplus_kg
    amount = shown(abs(surplus), "lead", system)
    when = f"at {stop} with {gas} left and an empty {bladder_word(balance)}, in {buoyancy_model.water.name} water"
    if balance.lead.value < 0:
        heavy = shown(-balance.lead.value, "lead", system)
        return f"Without any lead it is {heavy} too heavy to be neutral {when}. The kit carries {carried}."
    kept = (
        "just that"
        if balance.carries_just_enough
        else f"{amount} {'more than that' if surplus > 0 else 'short of that'}"
    )
    return f"Neutral {when}. The kit carries {carried}, {kept}."


SWITCH_WORDS = {
    "suit_flooded": ("f", "flooded suit", "the drysuit flooded"),
    "lead_dropped": ("d", "drop lead", "the droppable lead gone"),
    "stages_lost": ("s", "lose stages", "the stages lost"),
}
"""Of each switch: its key, what it asks, and what then is so. A full bladder is told with the curves."""


def format_asked(water: str | None, cylinder: str | None) -> str:
    """What is asked in place of the kit's own: "in fresh water, with steel 10 L 232"."""
    asked = [f"in {water} water"] if water else []
    return ", ".join(asked + ([f"with {cylinder}"] if cylinder else []))


def switch_hints(kit: ResolvedKit) -> str:
    """The keys of what may be asked of a kit."""
    bladder = [f"l {kind} full"] if (kind := bladder_of(kit)) else []
    asked = [f"{SWITCH_WORDS[name][0]} {SWITCH_WORDS[name][1]}" for name in switches_of(kit)]
    return f"What if:  {'  '.join([*bladder, *asked, '0 as it is'])}"


def format_outcome(balance: Balance, system: System) -> str:
    """What comes of what is asked on top, with the lead the kit carries; empty when nothing is."""
    asked = [words[2] for name, words in SWITCH_WORDS.items() if getattr(balance.switches, name)]
    if not asked:
        return ""
    worst, lift = balance.heaviest, balance.buoyancy_model.lift
    heavy = format_lift(worst.buoyancy, system).strip()
    holds = f", the {bladder_word(balance)} lifts {shown(lift.value, 'lead', system)}" if lift else ""
    stop = format_lift(balance.stop.buoyancy, system).strip()
    lead = "the lead left on the kit" if balance.switches.lead_dropped else "the lead the kit carries"
    return f"With {' and '.join(asked)}, and {lead}: {heavy} {worst.name}{holds}; {stop} at the stop."


def detail_lines(balance: Balance, system: System) -> list[str]:
    """All figures of the balance as text, without the lead."""
    carried = shown(balance.lead_left_kg, "lead", system)
    left = "left on the kit" if balance.switches.lead_dropped else "that the kit carries"
    lines = [*moment_lines(balance, system), f"All with the {carried} of lead {left}."]
    if rows := what_if_rows(balance, system):
        lines += ["", *(f"if {label:<56} {value}" for label, value in rows)]
    lines += ["", *(f"trim: {label:<12} {value}" for label, value in trim_rows(balance, system))]
    if rows := check_rows(balance, system):
        lines += ["", *(f"{_check_name(label)}: {value}" for label, value in rows)]
    if steps := step_rows(balance, system):
        lines += ["", "What would make the lead surer, and how sure then:"]
        lines += [f"  {label:<57} {value}" for label, value in steps]
    left_out = [visible(balance.buoyancy_model.kit.items[number].tag) for number in balance.buoyancy_model.left_out]
    if left_out:
        lines += ["", f"Left out, since nothing tells what they weigh: {', '.join(left_out)}"]
    return lines


def _check_name(tag: str) -> str:
    return tag if tag.startswith("float check") else f"float check {tag}"


def format_likely_lead(balance: Balance) -> str:
    """Where the answer comes from."""
    if problems := balance.buoyancy_model.kit.linked.diver_problems:
        return f"The diver file cannot be used: {visible(problems[0])}"
    if counted := balance.counted_checks:
        return f"From {counted} float check{'s' if counted > 1 else ''} and the figures of body, suit and cylinders."
    if balance.buoyancy_model.body.is_given:
        return "From stature and mass of the diver and published figures; a float check would tell far more."
    return "For a diver who is not told; a diver file and a float check would tell far more."


def what_if_rows(balance: Balance, system: System) -> tuple[tuple[str, str], ...]:
    """What may go wrong, and how all of it floats then with nothing in the bladder; not while anything is asked."""
    if balance.switches._replace(wing_full=False) != AS_IT_IS:
        return ()
    return tuple((_when(found, balance, system), format_lift(found.buoyancy, system)) for found in balance.what_ifs)


def _when(found: WhatIf, balance: Balance, system: System) -> str:
    depth, gas = shown(found.depth_m, "depth", system), format_gas(balance, found.gas, system)
    return f"{WHAT_IF_WORDS[found.name].format(bladder=bladder_word(balance))}, at {depth} with {gas}"


def trim_rows(balance: Balance, system: System) -> tuple[tuple[str, str], ...]:
    """Which way a level diver turns at both ends of the dive, what turns him, and what would level him."""
    trim = balance.trim
    return (
        ("gas full", format_turn(trim.start, system)),
        ("reserve", format_turn(trim.end, system)),
        ("kit, full", _turn(trim.start.kit, system)),
        ("kit, reserve", _turn(trim.end.kit, system)),
        ("body alone", _turn(trim.end.body, system)),
        *zip(("to level it", "or"), format_shift(balance, system), strict=False),
    )


def brief_trim(balance: Balance, system: System) -> tuple[tuple[str, str], ...]:
    """Which way a level diver turns, where room is scarce."""
    turns = (_turn(pitch.moment, system).replace(" ± ", "±") for pitch in (balance.trim.start, balance.trim.end))
    return tuple(zip(("full", "end"), turns, strict=True))


def format_turn(pitch: Pitch, system: System) -> str:
    """Which way a level diver turns, and where he comes to rest: "head up 1.2 ± 0.4 kg·m, rests at up 12°"."""
    turn = _turn(pitch.moment, system)
    if not pitch.is_steady:
        return f"{turn}, held level by fins"
    if pitch.is_unsure:
        return f"{turn}, rests anywhere"
    at, low, high = (_format_pitch(angle) for angle in (pitch.pitch_rad, pitch.pitch_low_rad, pitch.pitch_high_rad))
    return f"{turn}, rests {at} ({low} to {high})"


def _turn(moment: Figure, system: System) -> str:
    """A moment in words: plus puts the head down."""
    size = f"{digits(abs(moment.value), 'moment', system).lstrip('+')} ± {spread_digits(moment, 'moment', system)}"
    return f"head {'down' if moment.value > 0 else 'up'} {size} {unit('moment', system)}"


def _format_pitch(angle_rad: float) -> str:
    size = digits(abs(angle_rad), "pitch", System.METRIC)
    return "level" if size == "0" else f"{'up' if angle_rad > 0 else 'down'} {size}°"


def format_shift(balance: Balance, system: System) -> tuple[str, ...]:
    """How far all lead would have to move, unless there is none or it would not do; and how much of it."""
    shift = balance.trim.shift
    place = "upper cylinder" if (shift.pieces or 0.0) > 0 else "ankles"
    pieces = f"{shown(abs(shift.pieces or 0.0), 'lead', system)} of lead, waist to {place}"
    if shift.lead_m is None or not shift.all_lead_will_do:
        return (pieces,)
    way = f"{shown(abs(shift.lead_m), 'length', system)} towards the {'head' if shift.lead_m > 0 else 'feet'}"
    return f"all lead {way}", pieces


def step_rows(balance: Balance, system: System) -> tuple[tuple[str, str], ...]:
    """What to weigh or check next, and how sure the lead is then."""
    spreads = [digits(step.spread_after_kg, "lead", system) for step in balance.measurement_priorities]
    width = max(map(len, spreads), default=0)
    return tuple(
        (visible(step.what), f"± {spread:>{width}} {unit('lead', system)}")
        for step, spread in zip(balance.measurement_priorities, spreads, strict=True)
    )


def check_rows(balance: Balance, system: System) -> tuple[tuple[str, str], ...]:
    """Every float check: what it says of body and kit."""
    return tuple((visible(seen.check.tag), format_seen(seen, system)) for seen in balance.checks)


def format_seen(seen: Seen, system: System) -> str:
    """What one float check says: how much more or less it floated than computed, and whether it counts."""
    off = seen.more_than_computed_kgf
    if off is None:
        return f"not counted: {visible(seen.because)}"
    amount = f"floated {shown(abs(off), 'lead', system)} {'more' if off > 0 else 'less'} than computed"
    if not seen.is_counted:
        return f"not counted, {visible(seen.because)}; {amount}"
    return f"{amount}{'; contradicts the rest' if seen.contradicts else ''}"


def balance_lines(balance: Balance, system: System) -> Iterator[str]:
    """The balance as text."""
    yield f"Lead: {format_lead(balance, system)}; take {format_pieces(balance.pieces)}"
    for text in (lead_sentence(balance, system), format_likely_lead(balance)):
        yield from wrap(text, WIDTH, initial_indent="  ", subsequent_indent="  ")
    yield ""
    yield from (f"  {line}" if line else "" for line in detail_lines(balance, system))


def balance_json(balance: Balance) -> dict[str, Any]:
    """The balance for programs: SI units, kilogram-force, each figure with its spread and origin."""
    buoyancy_model, trim = balance.buoyancy_model, balance.trim
    return {
        "water": buoyancy_model.water.name,
        "lead_needed_kg": figure_json(balance.lead),
        "lead_carried_kg": buoyancy_model.lead_kg,
        "pieces": [{"mass_kg": size, "count": count} for size, count in balance.pieces.counts],
        "moments_with_lead_kg": buoyancy_model.lead_kg,
        "moments": [
            {"name": m.name, "depth_m": m.depth_m, "gas": m.gas, "buoyancy_kgf": figure_json(m.buoyancy)}
            for m in balance.moments
        ],
        "lift_kgf": figure_json(buoyancy_model.lift) if buoyancy_model.lift else None,
        "suit_gas_kgf": figure_json(buoyancy_model.suit_gas) if buoyancy_model.suit_gas else None,
        "what_if": [
            {"name": w.name, "depth_m": w.depth_m, "gas": w.gas, "buoyancy_kgf": figure_json(w.buoyancy)}
            for w in balance.what_ifs
        ],
        "body_kgf": figure_json(balance.body),
        "trim": {
            "gas_full": _pitch_json(trim.start),
            "reserve": _pitch_json(trim.end),
            "shift": {"all_lead_m": trim.shift.lead_m, "waist_to_upper_cylinder_kg": trim.shift.pieces},
        },
        "float_checks": [_seen_json(seen) for seen in balance.checks],
        "measurement_priorities": [
            {"what": s.what, "lead_spread_kg": s.spread_after_kg} for s in balance.measurement_priorities
        ],
        "left_out": [buoyancy_model.kit.items[number].tag for number in buoyancy_model.left_out],
    }


def figure_json(figure: Figure) -> dict[str, Any]:
    """A figure for programs."""
    return {"value": figure.value, "spread": figure.spread, "origin": figure.origin}


def _pitch_json(pitch: Pitch) -> dict[str, Any]:
    return {
        "pitch_rad": pitch.pitch_rad,
        "low_rad": pitch.pitch_low_rad,
        "high_rad": pitch.pitch_high_rad,
        "steady": pitch.is_steady,
        "moment_kgf_m": figure_json(pitch.moment),
        "kit_moment_kgf_m": figure_json(pitch.kit),
        "body_moment_kgf_m": figure_json(pitch.body),
    }


def _seen_json(seen: Seen) -> dict[str, Any]:
    return {
        "tag": seen.check.tag,
        "counted": seen.is_counted,
        "because": seen.because,
        "computed_kgf": figure_json(seen.computed) if seen.computed else None,
        "measured_kgf": seen.measured,
        "off_kgf": seen.off,
        "off_spread_kgf": seen.off_spread,
        "contradicts": seen.contradicts,
    }

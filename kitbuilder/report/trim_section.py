"""The trim as a section of a page, and in short below its picture."""

from kitbuilder.assess.buoyancy.trim import Pitch, Trim, is_level, turn_of
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount
from kitbuilder.report.page import Column, Estimate, Fact, Facts, Page, Row, Section, Sentence, Table, only_data, text
from kitbuilder.report.shapes import FIGURE, FLAG, NUMBER, optional, record

_PITCH = record(
    pitch_rad=NUMBER,
    low_rad=NUMBER,
    high_rad=NUMBER,
    steady=FLAG,
    moment_kgf_m=FIGURE,
    kit_moment_kgf_m=FIGURE,
    body_moment_kgf_m=FIGURE,
)
TRIM = record(
    gas_full=_PITCH,
    reserve=_PITCH,
    shift=record(all_lead_m=optional(NUMBER), waist_to_upper_cylinder_kg=optional(NUMBER)),
)
"""The shape of `trim_section`; a moment is plus where it puts the head down, a pitch where the head is up."""


def trim_section(trim: Trim) -> Section:
    """Build the section: which way a level diver turns, how the diver comes to lie, and what would level the diver."""
    start, end, shift = trim.start, trim.end, trim.shift
    columns = [
        Column("", "trim"),
        Column("", "turns a level diver"),
        Column("", "left alone, floats", may_wrap=True),
    ]
    rows: list[Row] = [
        ["gas full", _turn(start.moment), _rest(start)],
        ["reserve", _turn(end.moment), _rest(end)],
        ["kit, gas full", _turn(start.kit), None],
        ["kit, reserve", _turn(end.kit), None],
        ["body alone", _turn(end.body), None],
    ]
    moves = only_data(
        ("all_lead_m", None if shift.lead_m is None else Amount(shift.lead_m, "length")),
        ("waist_to_upper_cylinder_kg", None if shift.pieces is None else Amount(shift.pieces, "lead")),
    )
    data = only_data(("gas_full", _pitch(start)), ("reserve", _pitch(end)), ("shift", moves))
    level = text("To level the diver: ", *_level(trim))
    return Section("Trim at the stop", [data, Table("", columns, rows), level], key="trim")


def trim_page(trim: Trim) -> Page:
    """Build what stands below the picture of the trim: both ends of the dive, and what would level the diver."""
    start, end = trim.start, trim.end
    return Page(
        [
            Facts(
                [
                    Fact("", "gas full", (*_turn(start.moment), "; left alone: ", *_rest(start))),
                    Fact("", "reserve", (*_turn(end.moment), "; left alone: ", *_rest(end))),
                    Fact("", "to level", _level(trim)),
                ]
            )
        ]
    )


def brief_trim_page(trim: Trim) -> Page:
    """Build the same where room is scarce: which way a level diver turns at both ends of the dive."""
    start, end = trim.start, trim.end
    return Page([text("full ", *_turn(start.moment)), text("end  ", *_turn(end.moment))])


def _turn(moment: Figure) -> Sentence:
    """Say which way a level diver turns: "head-up 1.2 ± 0.4 kg·m"."""
    turn = turn_of(moment)
    return (f"head-{turn.head} ", Estimate(turn.size, "turn"))


def _rest(pitch: Pitch) -> Sentence:
    """Say how the diver comes to lie: "head-up 12° (3° to 20°)"."""
    if not pitch.is_steady:
        return ("only fins hold it level",)
    if pitch.is_unsure:
        return ("at any pitch",)
    ends = (pitch.pitch_low_rad, pitch.pitch_high_rad)
    low, high = (_lie(end, with_way=_way(end) != _way(pitch.pitch_rad)) for end in ends)
    return (*_lie(pitch.pitch_rad, with_way=True), " (", *low, " to ", *high, ")")


def _lie(pitch_rad: float, *, with_way: bool) -> Sentence:
    if is_level(pitch_rad):
        return ("level",)
    size = Amount(abs(pitch_rad), "pitch")
    return (f"{_way(pitch_rad)} ", size) if with_way else (size,)


def _way(pitch_rad: float) -> str:
    return "level" if is_level(pitch_rad) else "head-up" if pitch_rad > 0 else "head-down"


def _level(trim: Trim) -> Sentence:
    """Say how far all lead would have to move, and how much of it: as far as the body and the lead allow.

    Within what is known the diver may be level already, which is said first: the water tells.
    """
    shift = trim.shift
    first = "move " if not trim.end.may_be_level else "try it first, it may be level already; by these figures move "
    way = "head" if (shift.pieces or 0.0) > 0 else "feet"
    moves: list[Sentence] = []
    if shift.lead_m is not None and shift.all_lead_will_do:
        moves.append(("all lead ", Amount(abs(shift.lead_m), "length"), f" towards the {way}"))
    if shift.pieces_will_do:
        moves.append((Amount(abs(shift.pieces or 0.0), "lead"), f" of lead from the waist to the {shift.target}"))
    if not moves:
        moves.append((f"cylinders, lead or other heavy items towards the {way}",))
    said = [piece for move in moves for piece in (", or ", *move)][1:]
    return (first, *said, ".")


def _pitch(pitch: Pitch) -> Facts:
    return only_data(
        ("pitch_rad", Amount(pitch.pitch_rad, "pitch")),
        ("low_rad", Amount(pitch.pitch_low_rad, "pitch")),
        ("high_rad", Amount(pitch.pitch_high_rad, "pitch")),
        ("steady", pitch.is_steady),
        ("moment_kgf_m", Estimate(pitch.moment, "moment")),
        ("kit_moment_kgf_m", Estimate(pitch.kit, "moment")),
        ("body_moment_kgf_m", Estimate(pitch.body, "moment")),
    )

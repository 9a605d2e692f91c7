"""What `kitbuilder compare` prints: two kits side by side, as text or as JSON; and the cells the screen shows."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.foreign import visible
from kitbuilder.kit.items import Hose
from kitbuilder.plans.side_by_side import Compared, Pair, SideBySide
from kitbuilder.report.cells import format_line
from kitbuilder.report.check import water_words
from kitbuilder.report.hose_fit import fit_words
from kitbuilder.report.linked import not_used_lines, problems_of
from kitbuilder.report.numbers import System, shown, with_spread

WIDTH = 100
"""Columns of the text."""
ABSENT = "none"


class Line(NamedTuple):
    """One line of the side by side: what it is about, and a cell for each kit."""

    label: str
    left: str
    right: str
    differs: bool
    is_head: bool = False
    """Whether it opens the lines of a pair."""


def pair_lines(found: SideBySide, system: System) -> tuple[Line, ...]:
    """The lines of every pair of hoses, differences first."""
    return tuple(line for pair in found.pairs for line in _pair_lines(pair, system))


def compare_text(found: SideBySide, names: tuple[str, str], system: System) -> str:
    """Two kits side by side, for people. A line that differs is marked with an asterisk."""
    left, right = found.left.kit.header, found.right.kit.header
    rows = [
        Line("file", visible(names[0]), visible(names[1]), differs=False),
        Line("kit", visible(left.name), visible(right.name), differs=False),
        Line("layout", left.layout, right.layout, left.layout != right.layout),
        Line(
            "water",
            format_line(water_words(found.left), system),
            format_line(water_words(found.right), system),
            left.water != right.water,
        ),
    ]
    text = [_text_row(line) for line in rows]
    text += not_used_lines(_linked_problems(found, names), WIDTH)
    for line in (*pair_lines(found, system), *total_lines(found, system)):
        if line.is_head:
            text.append("")
        text.append(_text_row(line))
    return "\n".join([*text, "", "* differs", ""])


def compare_json(found: SideBySide, names: tuple[str, str]) -> dict[str, Any]:
    """Two kits side by side for programs, in SI units."""
    return {
        "left": _kit(names[0], found.left),
        "right": _kit(names[1], found.right),
        "pairs": [
            {
                "role": pair.role,
                "left": _hose(pair.left),
                "right": _hose(pair.right),
                "equal": pair.is_equal,
                "differs_in": list(pair.differs_in),
            }
            for pair in found.pairs
        ],
        "linked_problems": list(_linked_problems(found, names)),
    }


def _linked_problems(found: SideBySide, names: tuple[str, str]) -> tuple[str, ...]:
    return problems_of(zip(names, (found.left.kit, found.right.kit), strict=True))


def _pair_lines(pair: Pair, system: System) -> list[Line]:
    head = Line(pair.role, _name(pair.left), _name(pair.right), not pair.is_equal, is_head=True)
    rows = [
        ("length and body", _build(pair.left, system), _build(pair.right, system)),
        ("ends", _ends(pair.left), _ends(pair.right)),
        ("fit", _fit(pair.left, system), _fit(pair.right, system)),
        ("mass, buoyancy", _weight(pair.left, system), _weight(pair.right, system)),
    ]
    if pair.is_equal:
        rows = rows[:1]
    return [head, *(Line(f"  {label}", left, right, left != right) for label, left, right in rows if left or right)]


def _name(figures: HoseFigures | None) -> str:
    return visible(figures.hose.tag) if figures else ABSENT


def _build(figures: HoseFigures | None, system: System) -> str:
    return f"{shown(figures.hose.length_m, 'length', system)} {figures.hose.body}" if figures else ""


def _ends(figures: HoseFigures | None) -> str:
    if figures is None:
        return ""
    hose: Hose = figures.hose
    parts = (hose.from_adapter, hose.from_end or "as usual", "to", hose.to_end or "as usual", hose.to_adapter)
    return " ".join(part for part in parts if part)


def _fit(figures: HoseFigures | None, system: System) -> str:
    return format_line(fit_words(figures.fit), system) if figures else ""


def _weight(figures: HoseFigures | None, system: System) -> str:
    if figures is None:
        return ""
    mass = shown(figures.weight.mass.value, "hose mass", system)
    return f"{mass}, {shown(figures.weight.buoyancy.value, 'hose buoyancy', system)}"


def total_lines(found: SideBySide, system: System) -> tuple[Line, ...]:
    """Mass, buoyancy and lead of both kits, and whose they are."""
    return (
        _total("hoses: mass", found.hoses_mass, "mass", system, is_head=True),
        _total("hoses: buoyancy", found.hoses_buoyancy, "buoyancy", system),
        _total("items: mass", found.mass, "mass", system),
        _total("items: buoyancy", found.buoyancy, "buoyancy", system),
        _lead(found, system),
        *_divers(found, system),
    )


def _divers(found: SideBySide, system: System) -> Iterator[Line]:
    """Who wears each kit, if either kit says."""
    if found.left.kit.linked.diver or found.right.kit.linked.diver:
        left, right = _diver(found.left, system), _diver(found.right, system)
        yield Line("  worn by", left, right, differs=left != right)


def _diver(assessment: Assessment, system: System) -> str:
    diver = assessment.kit.linked.diver
    if diver is None:
        return "a diver who is not told"
    mass = f", {shown(diver.header.mass_kg, 'body mass', system)}" if diver.header.mass_kg else ""
    return f"{visible(diver.header.name)}{mass}"


def _lead(found: SideBySide, system: System) -> Line:
    """The lead each kit needs at its stop; the right one with its difference from the left."""
    lead = found.lead
    left, right = (with_spread(side, "lead", system) if side else "not known" for side in (lead.left, lead.right))
    if lead.change is not None:
        right = f"{right} ({_together(with_spread(lead.change, 'lift', system))})"
    return Line("lead for the stop", left, right, lead.differs)


def _total(label: str, total: Compared, measure: str, system: System, *, is_head: bool = False) -> Line:
    """Both totals; the right one with its difference from the left."""
    left, right = (shown(side.value, measure, system) if side else "not known" for side in (total.left, total.right))
    if total.change is not None:
        right = f"{right} ({_together(with_spread(total.change, 'buoyancy', system))})"
    return Line(label, left, right, total.differs, is_head=is_head)


def _together(words: str) -> str:
    """Words that no line break may part."""
    return words.replace(" ", "\N{NO-BREAK SPACE}")


def _text_row(line: Line) -> str:
    mark = "*" if line.differs else " "
    return f"{mark} {line.label:<21} {line.left:<38} {line.right}".replace("\N{NO-BREAK SPACE}", " ").rstrip()


def _kit(file: str, assessment: Assessment) -> dict[str, Any]:
    return {
        "file": file,
        "name": assessment.kit.header.name,
        "layout": assessment.kit.header.layout,
        "hoses_mass_kg": assessment.all_hoses.mass.value,
        "hoses_buoyancy_kgf": assessment.all_hoses.buoyancy.value,
        "everything_mass_kg": assessment.everything.mass.value,
        "everything_buoyancy_kgf": assessment.everything.buoyancy.value,
        "lead_needed_kg": assessment.balance.lead.value if assessment.balance else None,
    }


def _hose(figures: HoseFigures | None) -> dict[str, Any] | None:
    if figures is None:
        return None
    return {
        "tag": figures.hose.tag,
        "length_m": figures.hose.length_m,
        "body": figures.hose.body,
        "mass_kg": figures.weight.mass.value,
        "buoyancy_kgf": figures.weight.buoyancy.value,
    }

"""What `kitbuilder check` prints: figures and findings of one kit file, as text or as JSON."""

from functools import lru_cache
from textwrap import wrap
from typing import Any

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Weight
from kitbuilder.assess.findings import Finding, Unchecked
from kitbuilder.assess.fit.fit import RIGHT, Fit, StockOption
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.foreign import visible
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.file_kinds import Contents
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.lines import Lines
from kitbuilder.kit.stock import Stock
from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.report.balance import balance_json, balance_lines, figure_json
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.tables import (
    counted,
    format_fit,
    format_picture,
    format_water,
    hose_weight_row,
    total_rows,
)
from kitbuilder.report.words import counted_items, sentence, subject

WIDTH = 100
"""Columns of the text."""


def check_text(file: str, assessment: Assessment, system: System) -> str:
    """Figures and findings of one kit, for people."""
    lines = [visible(file), *_heading(assessment, system), "", *_hose_lines(assessment, system), ""]
    lines += [f"  {row.label:<26} {row.mass!s}  {row.buoyancy!s}" for row in total_rows(assessment, system)]
    if assessment.balance is not None:
        lines += ["", *balance_lines(assessment.balance, system)]
    lines += ["", f"Findings: {counted(assessment)}"]
    for finding in assessment.findings:
        lines += _finding_lines(finding, assessment, system)
    if assessment.unchecked:
        lines += ["", f"Not checked: {len(assessment.unchecked)}"]
        for result in assessment.unchecked:
            lines += _unchecked_lines(result, assessment, system)
    return "\n".join([*lines, ""])


def file_text(file: str, reading: ParseResult) -> str:
    """Say that a file that is not a kit can be read: it is used with the kits that name it."""
    name, what = _about(reading.contents)
    return f"{visible(file)}\n{visible(name)} · {reading.file.name} file, can be read · {what}\n"


def file_json(file: str, reading: ParseResult) -> dict[str, Any]:
    """Say what a file holds that is not a kit, or what is wrong with it, for programs."""
    match reading.contents:
        case None:
            return problems_json(file, reading.problems)
        case Diver(header, items):
            return {"file": file, "name": header.name, "holds": "diver", "float_checks": len(items)}
        case Gear(header, items):
            return {"file": file, "name": header.name, "holds": "gear", "items": len(items)}
        case Stock(header, items):
            known = {"file": file, "name": header.name, "holds": "stock", "hoses": len(items)}
            return known | problems_json(file, reading.problems)
    raise AssertionError("a kit is checked, not just read")


def _about(contents: Contents | None) -> tuple[str, str]:
    """What a file calls itself, and how many entries of which kind it has."""
    match contents:
        case Diver(header, items):
            return header.name, counted_items(len(items), "float check")
        case Gear(header, items):
            return header.name, counted_items(len(items), "item")
        case Stock(header, items):
            return header.name, counted_items(len(items), "hose")
    raise AssertionError("a kit is checked, not just read")


def problems_text(file: str, problems: tuple[Problem, ...]) -> str:
    """Why a file could not be read, a line a problem."""
    return "\n".join([visible(problem.located(file)) for problem in problems] + [""])


def check_json(file: str, assessment: Assessment, system: System) -> dict[str, Any]:
    """Figures and findings of one kit for programs: SI units, each with its spread and origin."""
    header = assessment.kit.header
    return {
        "file": file,
        "name": header.name,
        "layout": header.layout,
        "water": {"name": assessment.water.name, "density_kg_m3": figure_json(assessment.water.density)},
        "hoses": [_hose(figures, assessment.kit.lines, system) for figures in assessment.hoses],
        "all_hoses": _weight(assessment.all_hoses),
        "by_body": {body: _weight(weight) for body, weight in assessment.by_body.items()},
        "if_all": {body: _weight(weight) for body, weight in assessment.if_all.items()},
        "everything": _weight(assessment.everything),
        "items_weighed": sum(weight is not None for weight in assessment.weights),
        "items": len(assessment.weights),
        "balance": balance_json(assessment.balance) if assessment.balance else None,
        "linked_problems": list(assessment.kit.linked.problems),
        "worst": assessment.worst.word.lower() if assessment.worst else None,
        "findings": [_finding(finding, assessment, system) for finding in assessment.findings],
        "not_checked": [_unchecked(result, assessment, system) for result in assessment.unchecked],
    }


def problems_json(file: str, problems: tuple[Problem, ...]) -> dict[str, Any]:
    """Why a file could not be read."""
    return {
        "file": file,
        "problems": [
            {"line": problem.line, "place": problem.place, "found": problem.found, "accepted": problem.accepted}
            for problem in problems
        ],
    }


def _heading(assessment: Assessment, system: System) -> list[str]:
    header = assessment.kit.header
    return [f"{visible(header.name)} · {header.layout} · {format_water(assessment, system)}"]


def _hose_lines(assessment: Assessment, system: System) -> list[str]:
    if not assessment.hoses:
        return ["  no hoses"]
    lines = [f"  {'hose':<18} {'length':>7} {'mass':>7} {'buoyancy':>20}           fit"]
    for figures in assessment.hoses:
        row = hose_weight_row(figures, system)
        length = shown(figures.hose.length_m, "length", system)
        fit = format_fit(figures.fit, system)
        lines.append(f"  {row.label:<18} {length:>7} {row.mass!s}  {row.buoyancy!s}  {fit}")
        if figures.fit is not None and figures.fit.verdict != RIGHT:
            lines.append(f"{'':<21}{'; '.join(part for part in format_picture(figures.fit, system) if part)}")
    return lines


def _finding_lines(finding: Finding, assessment: Assessment, system: System) -> list[str]:
    thumb = ", a rule of thumb" if finding.rule_of_thumb else ""
    head = f"{finding.signal.word:<8} {subject(assessment.kit, finding)}: {finding.rule} (line {finding.line}{thumb})"
    body = (sentence(part, system) for part in (finding.what, finding.why, finding.do))
    return [f"  {head}", *(f"           {row}" for part in body for row in _wrapped(part))]


@lru_cache(maxsize=1024)
def _wrapped(text: str) -> tuple[str, ...]:
    """The text in lines; kept, since the same advice stands in many kits."""
    return (text,) if len(text) <= WIDTH - 11 else tuple(wrap(text, WIDTH - 11))


def _unchecked_lines(result: Unchecked, assessment: Assessment, system: System) -> list[str]:
    where = f" Set {result.key} (line {result.line})." if result.key else ""
    text = f"{subject(assessment.kit, result)}: {sentence(result.because, system)}{where}"
    first, *rest = _wrapped(text)
    return [f"  {first}", *(f"           {row}" for row in rest)]


def _weight(weight: Weight) -> dict[str, Any]:
    return {"mass_kg": figure_json(weight.mass), "buoyancy_kgf": figure_json(weight.buoyancy)}


def _hose(figures: HoseFigures, lines: Lines, system: System) -> dict[str, Any]:
    hose = figures.hose
    return {
        "tag": hose.tag,
        "line": lines.of(figures.number, None),
        "role": hose.role,
        "body": hose.body,
        "length_m": hose.length_m,
        **_weight(figures.weight),
        "fit": _fit(figures.fit) if figures.fit else None,
        "fit_text": format_fit(figures.fit, system),
    }


def _fit(fit: Fit) -> dict[str, Any]:
    stand_off = fit.stand_off
    return {
        "verdict": fit.verdict,
        "run_m": figure_json(fit.run),
        "run_is_estimated": fit.is_estimated,
        "span_m": fit.span_m,
        "slack_m": figure_json(fit.slack),
        "rest_slack_m": figure_json(fit.rest_slack),
        "rest_is_measured": fit.rest_is_measured,
        "stand_off_m": {"value": stand_off.value, "low": stand_off.low, "high": stand_off.high} if stand_off else None,
        "tightest_radius_m": fit.tightest_radius_m,
        "stock_shorter": _stock(fit.shorter),
        "stock_longer": _stock(fit.longer),
        "stock_that_fits_m": fit.best_stock.length_m if fit.best_stock else None,
    }


def _stock(option: StockOption | None) -> dict[str, Any] | None:
    return option._asdict() if option else None


def _finding(finding: Finding, assessment: Assessment, system: System) -> dict[str, Any]:
    return {
        "signal": finding.signal.word.lower(),
        "rule": finding.rule,
        "rule_of_thumb": finding.rule_of_thumb,
        "item": None if finding.item is None else assessment.kit.items[finding.item].tag,
        "key": finding.key,
        "line": finding.line,
        "what": sentence(finding.what, system),
        "why": sentence(finding.why, system),
        "do": sentence(finding.do, system),
    }


def _unchecked(result: Unchecked, assessment: Assessment, system: System) -> dict[str, Any]:
    return {
        "rule": result.rule,
        "item": None if result.item is None else assessment.kit.items[result.item].tag,
        "key": result.key or None,
        "line": result.line,
        "because": sentence(result.because, system),
    }

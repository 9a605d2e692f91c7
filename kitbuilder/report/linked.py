"""The linked files of a kit that cannot be used: named in every answer."""

from collections.abc import Iterable
from textwrap import wrap

from kitbuilder.foreign import visible
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.report.page import Section, text


def not_used(problems: Iterable[str]) -> Section:
    """Say what is wrong with linked files, a paragraph each. In JSON the envelope has it: see `Response.not_used`."""
    return Section("", [text("Not used: ", problem) for problem in problems])


def not_used_lines(problems: Iterable[str], width: int) -> list[str]:
    """Name what is wrong with linked files, each problem wrapped to the width."""
    return [row for problem in problems for row in wrap(f"Not used: {visible(problem)}", width)]


def problems_of(kits: Iterable[tuple[str, ResolvedKit]]) -> tuple[str, ...]:
    """Give what is wrong with the linked files of several kits, each file's once, with the name of the kit.

    Args:
        kits: What each kit is called, and the kit.
    """
    found = {problem: name for name, kit in reversed(tuple(kits)) for problem in kit.linked.problems}
    return tuple(f"{name}: {problem}" for problem, name in reversed(found.items()))

"""Assemblies of a gear file: whether what they name is there, and can be kept screwed together."""

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.gear.sameness import record_of
from kitbuilder.kit.gear import OUT_OF_USE, Gear, OwnedAssembly, pieces_of

FEWEST = 2
"""An assembly of fewer parts is one item."""


def assembly_findings(number: int, item: OwnedAssembly, gear: Gear) -> RuleResults:
    """Report an assembly that the changeover cannot take as one, and why."""
    if len(item.parts) < FEWEST:
        yield _not_complete(
            number, words("the assembly names fewer than two parts"), "Name the items that it is made of."
        )
    for tag in item.parts:
        if wrong := _wrong_with(tag, item, gear):
            yield _not_complete(number, words(f'the part "{tag}" {wrong}'), "Correct `parts`.")


def _wrong_with(tag: str, item: OwnedAssembly, gear: Gear) -> str:
    """Say what keeps an item from being part of an assembly; empty when nothing does."""
    part = gear.item(tag)
    if part is None:
        return "is not in the gear file"
    if record_of(part) is None:
        return f"is of the kind {part.title}, which is not screwed on"
    if pieces_of(part) > 1:
        return "stands for several pieces; give the piece that is built in its own entry"
    if part.condition == OUT_OF_USE:
        return "is out of use"
    other = next((each.tag for each in gear.assemblies if each is not item and tag in each.parts), None)
    return f'is part of "{other}" as well' if other else ""


def _not_complete(number: int, what: Words, do: str) -> Finding:
    why = words("A changeover can therefore not take the assembly as one, and takes its parts one by one.")
    return Finding(Signal.CAUTION, number, "parts", what, why, words(do), "assembly not complete")

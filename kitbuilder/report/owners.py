"""Whose some kits are, in words: the same for every question that takes several kits."""

from kitbuilder.assess.gear.owners import Owners
from kitbuilder.report.page import Page, Sentence, Tag, joined, text

HOW_TO_SHARE = "`--both-divers` counts what all of them own."


def divers_words(owners: Owners) -> Sentence:
    """Say that kits belong to several divers."""
    *before, last = (Tag(name) for name in owners.names)
    return (
        f"These kits belong to {len(owners.names)} divers, ",
        *joined(((name,) for name in before), ", "),
        " and ",
        last,
        ". ",
    )


def apart_page(owners: Owners) -> Page:
    """Build the page that stands in place of a set of hoses for divers who own different gear."""
    why = "Hoses of one diver are not available to another. Mark the kits of one diver only. `kitbuilder fewest` with "
    return Page([text(*divers_words(owners), why, HOW_TO_SHARE)])


def apart_complaint(owners: Owners) -> str:
    """Say on the command line why hoses of several divers are not counted together, and what to do."""
    names = ", ".join(f'"{name}"' for name in owners.names)
    return (
        f"these kits belong to {len(owners.names)} divers: {names}. Hoses of one diver are not available to another. "
        f"Ask for the kits of one diver at a time, or add --both-divers, which shares all hoses"
    )

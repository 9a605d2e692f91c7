"""What a changeover does to parts that are clean for oxygen, and which have to be cleaned before they are used."""

from collections.abc import Callable, Iterator

from kitbuilder.assess.findings import Tag, Words, words
from kitbuilder.assess.gas.oxygen import format_part
from kitbuilder.assess.gas.oxygen_clean import loses_cleanliness
from kitbuilder.plans.changeover.build import Part, described
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.wording import listed


def soiled(match: Match) -> tuple[str, ...]:
    """Give the parts of the target that must be clean for oxygen and count as not clean after the source, by key."""
    return tuple(
        want
        for want, have in match.taken.items()
        if loses_cleanliness(match.source.parts[have].contact, match.target.parts[want].contact)
    )


def soiled_next(match: Match) -> tuple[str, ...]:
    """Give the parts of the target that are clean for oxygen and will count as not clean, by key."""
    taken = (
        want
        for want, have in match.taken.items()
        if loses_cleanliness(match.target.parts[want].contact, match.source.parts[have].contact)
    )
    fetched = (
        want
        for want, have in match.fetched.items()
        if match.store[have].is_clean and _is_soiled_in(match.target.parts[want])
    )
    return (*taken, *fetched)


def cleaning_of(match: Match, name: Callable[[str], Words]) -> Iterator[Words]:
    """Say which parts have to be cleaned first, and which count as not clean from now on, a sentence each.

    Args:
        match: Which part becomes which.
        name: Names a part of the target by its key.
    """
    if first := soiled(match):
        contacts = (match.target.parts[key].contact for key in first)
        most = max(contact.most for contact in contacts if contact)
        yield words(
            f"Have these cleaned for oxygen before gas with {format_part(most)} oxygen reaches them. After the gas "
            "that they were used with, they count as not clean: ",
            *listed(map(name, first)),
            ".",
        )
    if later := soiled_next(match):
        yield words(
            "From now on these count as not clean for oxygen, until they are cleaned again: ",
            *listed(map(name, later)),
            ". Say so in the gear file.",
        )


def described_clean(part: Part) -> Words:
    """Say what a part to buy is, and whether it has to be clean for oxygen."""
    return words(*described(part), *([", clean for oxygen"] if part.must_be_clean else []))


def why_bought(part: Part) -> Words:
    """Say why a part has to be bought; of one that is owned and not known to be clean, that cleaning it would do."""
    if part.owned and part.must_be_clean and not part.is_clean:
        return words(Tag(part.owned), " is not known to be clean for oxygen. Once it is cleaned, it may be used.")
    return words("Nothing that you own can replace it.")


def _is_soiled_in(part: Part) -> bool:
    return part.contact is not None and part.contact.ends_cleanliness

"""What a kit is made of, as far as it floats: the words by which a float check knows the kit again."""

from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.things import Cylinder, Drysuit, Hose, Jacket, Lead, Suit, Thing, Wing

SEPARATOR = "; "


def made_of(kit: ResolvedKit) -> str:
    """The things that float or sink, without lead, hoses and what was weighed: a weighing changes no kit."""
    return SEPARATOR.join(sorted(words for thing in kit.things if (words := _words(thing))))


def difference_of(then: str, now: str) -> str:
    """What was there then and is not now, and what is new."""
    old, new = then.split(SEPARATOR), now.split(SEPARATOR)
    gone = [words for words in old if words not in new]
    added = [words for words in new if words not in old]
    parts = [f"{word} {', '.join(found)}" for word, found in (("then", gone), ("now", added)) if found]
    return ", ".join(parts) or "other numbers of the same things"


def _words(thing: Thing) -> str:
    match thing:
        case Lead() | Hose():
            return ""
        case Cylinder():
            return thing.preset or f"{thing.metal or 'cylinder'} {(thing.volume_m3 or 0) * 1e3:.1f} L"
        case Suit():
            return f"{thing.cut} {thing.thickness_m * 1e3:g} mm"
        case Drysuit():
            gas = thing.undersuit if thing.suit_gas_m3 is None else f"{thing.suit_gas_m3 * 1e3:g} L of gas"
            return f"{thing.preset or thing.tag} over {gas}" if gas else thing.preset or thing.tag
        case Wing() | Jacket():
            return thing.preset or thing.tag
    return getattr(thing, "preset", None) or thing.tag

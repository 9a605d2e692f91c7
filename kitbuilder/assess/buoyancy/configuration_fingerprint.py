"""What decides how a kit floats, as words: a float check recognises its kit by them."""

from kitbuilder.kit.items import Cylinder, Drysuit, Hose, Item, Jacket, Lead, Suit, Wing
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.spare import Spare

SEPARATOR = "; "


def configuration_fingerprint(kit: ResolvedKit) -> str:
    """Name the items that float or sink, without lead, hoses and weighed values: a weighing changes no kit."""
    return SEPARATOR.join(sorted(words for item in kit.items if (words := _words(item))))


def difference_of(then: str, now: str) -> str:
    """Name the items that were there then and are not now, and those that are new."""
    old, new = then.split(SEPARATOR), now.split(SEPARATOR)
    gone = [words for words in old if words not in new]
    added = [words for words in new if words not in old]
    parts = [f"{word} {', '.join(found)}" for word, found in (("then", gone), ("now", added)) if found]
    return ", ".join(parts) or "other numbers of the same items"


def _words(item: Item) -> str:
    match item:
        case Lead() | Hose() | Spare():
            return ""
        case Cylinder():
            return item.preset or f"{item.metal or 'cylinder'} {(item.volume_m3 or 0) * 1e3:.1f} L"
        case Suit():
            return f"{item.cut} {item.thickness_m * 1e3:g} mm"
        case Drysuit():
            gas = item.undersuit if item.suit_gas_m3 is None else f"{item.suit_gas_m3 * 1e3:g} L of gas"
            return f"{item.preset or item.tag} over {gas}" if gas else item.preset or item.tag
        case Wing() | Jacket():
            return item.preset or item.tag
    return getattr(item, "preset", None) or item.tag

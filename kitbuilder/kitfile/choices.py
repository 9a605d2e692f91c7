"""The words a key may take: written with the key, or listed in the catalogue."""

from functools import cache

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Field, Kind


@cache
def choices_for(field: Field, table: str) -> tuple[str, ...]:
    """Every accepted word of a choice, in the order the catalogue lists them.

    Args:
        field: A field of kind CHOICE or WHOLE.
        table: The table the field stands in; the lists of presets and inlets depend on it.
    """
    if field.choices:
        return field.choices
    trade = catalogue()
    match field.vocabulary:
        case "water":
            return tuple(trade.waters)
        case "role":
            return tuple(trade.roles)
        case "body":
            return tuple(dict.fromkeys(name for _, name in trade.bodies))
        case "first stage end":
            return tuple(name for name, fitting in trade.fittings.items() if fitting.place == "first stage")
        case "device end":
            return tuple(name for name, fitting in trade.fittings.items() if fitting.place == "device")
        case "adapter":
            return tuple(trade.adapters)
        case "inlet":
            return tuple(trade.inlets)
        case "place":
            return tuple(trade.places)
        case "metal":
            return tuple(trade.metals)
        case "valve":
            return tuple(trade.valves)
        case "cut":
            return tuple(trade.cuts)
        case "foam":
            return tuple(trade.foams)
        case "undersuit":
            return tuple(trade.undersuits)
        case "preset" if table == "cylinder":
            return tuple(trade.cylinders)
        case "preset":
            return tuple(name for kind, name in trade.presets if kind == table)
    raise KeyError(field.vocabulary)


def example_for(field: Field, table: str) -> str:
    """The example of a key; where the declared one is not a word of this table, the first that is."""
    if field.kind is not Kind.CHOICE:
        return field.example
    words = [f'"{word}"' for word in choices_for(field, table)]
    return field.example if field.example in words else words[0]

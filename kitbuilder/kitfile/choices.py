"""The words a key accepts: declared with the key, or listed in the catalogue."""

from functools import cache

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.bench_work import bench_work
from kitbuilder.catalogue.upkeep import upkeep
from kitbuilder.kit.fields import Field, ValueKind


@cache
def choices_for(field: Field, table: str) -> tuple[str, ...]:
    """Give every accepted word of a choice, in the order the catalogue lists them.

    Args:
        field: A field of kind CHOICE, LANDMARKS or WHOLE.
        table: The table the field stands in; the lists of presets and inlets depend on it.
    """
    if field.choices:
        return field.choices
    trade = catalogue()
    if field.vocabulary in _LISTS:
        return tuple(getattr(trade, _LISTS[field.vocabulary]))
    match field.vocabulary:
        case "body":
            return tuple(dict.fromkeys(name for _, name in trade.bodies))
        case "first stage end" | "device end":
            place = field.vocabulary.removesuffix(" end")
            return tuple(name for name, fitting in trade.fittings.items() if fitting.place == place)
        case "o-ring":
            return tuple(bench_work().o_rings)
        case "region":
            return upkeep().regions
        case "rental":
            return tuple(dict.fromkeys((*trade.cylinders, *(name for _, name in trade.presets))))
        case "preset" if table == "cylinder":
            return tuple(trade.cylinders)
        case "preset":
            return tuple(name for kind, name in trade.presets if kind == table)
    raise KeyError(field.vocabulary)


ON_THE_PAGE = ("route", "landmark")
"""Vocabularies with so many words that the reference page has a table of them, and a message leads there."""

_LISTS = {
    "water": "waters",
    "role": "roles",
    "adapter": "adapters",
    "inlet": "inlets",
    "place": "places",
    "metal": "metals",
    "valve": "valves",
    "outlet": "outlets",
    "connection": "connections",
    "cut": "cuts",
    "foam": "foams",
    "undersuit": "undersuits",
    "route": "routes",
    "landmark": "landmarks",
    "thread": "threads",
}
"""The lists of the catalogue whose names are all accepted, by vocabulary."""


def example_for(field: Field, table: str) -> str:
    """Give the example of a key; where the declared one is not a word of this table, the first that is."""
    if field.kind is not ValueKind.CHOICE:
        return field.example
    words = [f'"{word}"' for word in choices_for(field, table)]
    return field.example if field.example in words else words[0]

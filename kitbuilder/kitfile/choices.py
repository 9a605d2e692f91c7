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
    """Give the example of a key as it fits the table; of a choice, a word that the table accepts."""
    if fitting := _EXAMPLES.get(table, {}).get(field.key):
        return f'"{fitting}"'
    if field.kind is not ValueKind.CHOICE:
        return field.example
    words = [f'"{word}"' for word in choices_for(field, table)]
    return field.example if field.example in words else words[0]


_EXAMPLES = {
    "cylinder": {"tag": "left cylinder", "owned": "steel 12, left"},
    "first_stage": {"tag": "first", "owned": "first stage, grey"},
    "second_stage": {"tag": "primary second", "owned": "second stage, metal"},
    "gauge": {"tag": "gauge", "owned": "gauge, brass", "inlet": "gauge swivel"},
    "transmitter": {
        "tag": "transmitter", "owned": "transmitter, old", "inlet": "transmitter 7/16", "mass": "0.12 kg",
        "buoyancy": "-0.06 kg",
    },
    "wing": {"tag": "wing", "owned": "twin wing", "inlet": "standard nipple", "mass": "1.9 kg", "buoyancy": "-0.3 kg"},
    "jacket": {"tag": "jacket", "owned": "jacket", "inlet": "standard nipple", "mass": "3.4 kg", "buoyancy": "+0.6 kg"},
    "drysuit": {
        "tag": "drysuit", "owned": "sea suit", "inlet": "standard nipple", "mass": "3.5 kg", "buoyancy": "+0.5 kg",
    },
    "suit": {"tag": "wetsuit", "owned": "wetsuit, 5 mm"},
    "lead": {"tag": "belt", "owned": "lead, 1 kg"},
    "other": {"tag": "back-plate", "owned": "steel plate", "mass": "2.7 kg", "buoyancy": "-2.3 kg"},
    "plug": {"tag": "LP plugs", "owned": "LP plugs"},
    "adapter": {"tag": "elbow"},
    "o_ring": {"tag": "O-rings 011"},
    "assembly": {"tag": "stage rigging"},
}  # fmt: skip
"""Of the tables that share keys with others: what fits them better than the example declared with the key."""

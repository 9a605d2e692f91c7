"""What a shop has: the hoses of a stock file, to which advice can be limited."""

from dataclasses import dataclass
from typing import ClassVar

from kitbuilder.kit.entry import Entry
from kitbuilder.kit.fields import Group, choice, flag, name, optional_name, price, quantity, text, whole


@dataclass(frozen=True, slots=True, kw_only=True)
class StockHeader:
    """The stock as a whole: the keys at the top of the file, before the first hose."""

    title: ClassVar = "stock"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    holds: str = choice("What the file holds.", '"stock"', choices=("stock",), required=True)
    name: str = name("Name of the stock in reports.", '"the shop at the harbour"')
    currency: str | None = text("Currency of the prices.", '"EUR"')
    notes: str | None = text("Free text.", '"Prices of spring."', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class StockHose(Entry):
    """A hose that is available: one length of one kind."""

    kind: ClassVar = "hose"
    title: ClassVar = "hose"

    tag: str = optional_name("Name of the hose in the shop. Unique in the file.", '"B-75"')
    body: str = choice("Body of the hose.", '"rubber"', vocabulary="body", required=True)
    length_m: float = quantity(
        "length", "Length that the seller states.", '"75 cm"', lowest=0.05, highest=5.0, required=True
    )
    measured: str | None = choice(
        "What the length covers. Default: end to end.",
        '"end to end"',
        choices=("end to end", "hose only"),
    )
    from_end: str | None = choice(
        "Fitting at the first stage. At least one end of an HP hose is required. Default: any.",
        '"LP 3/8"',
        vocabulary="first stage end",
    )
    to_end: str | None = choice(
        "Fitting at the other end. Default: any.", '"second stage 9/16"', vocabulary="device end"
    )
    price: float | None = price("Price of the hose.", "24.50")
    in_stock: bool | None = flag("Whether the hose is available now. Default: yes.", "true")
    notes: str | None = text("Free text.", '"two left"', group=Group.NOTES)

    def is_cheaper_than(self, other: "StockHose") -> bool:
        """Say whether it costs less than another; any price beats one that is not known."""
        if self.price is None or other.price is None:
            return self.price is not None and other.price is None
        return self.price < other.price


STOCK_KINDS: dict[str, type[Entry]] = {StockHose.kind: StockHose}


@dataclass(frozen=True, slots=True)
class Stock:
    """Everything one stock file says."""

    header: StockHeader
    items: tuple[StockHose, ...]
    """The hoses that can be used, in the order of the file."""

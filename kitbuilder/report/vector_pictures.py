"""The pictures of documents: SVG, drawn only when a document is written that shows it."""

from typing import TYPE_CHECKING, NamedTuple

from kitbuilder.report.numbers import System
from kitbuilder.report.page import Picture

if TYPE_CHECKING:
    from kitbuilder.assess.buoyancy.balance import Balance
    from kitbuilder.assess.figures import Figure
    from kitbuilder.plans.fitting import FittingPlan
    from kitbuilder.plans.packing.packing import Use
    from kitbuilder.plans.trip_packing import TripPacking


class BuoyancyPlot(NamedTuple):
    """The buoyancy over depth."""

    balance: "Balance"

    def svg(self, system: System) -> str:
        """Draw the curves, with the gas full and with the reserve."""
        from kitbuilder.assess.buoyancy.curves import over_depth
        from kitbuilder.pictures.plot_svg import plot_svg
        from kitbuilder.report.balance_pictures import plot_data, plot_title

        data = plot_data(over_depth(self.balance), system)
        names = " and ".join(curve.label for curve in data.curves)
        said = f"Curves over {data.x_name}: {names}. The table has their numbers at each moment of the dive."
        return plot_svg(data, plot_title(self.balance), said)


class TrimDrawing(NamedTuple):
    """The lying diver with what pulls on him."""

    balance: "Balance"

    def svg(self, _system: System) -> str:
        """Draw it; it has no numbers."""
        from kitbuilder.pictures.side_marks import side_marks
        from kitbuilder.pictures.side_view_svg import side_view_svg
        from kitbuilder.report.balance_pictures import MARKS, turning_of

        legend = ", ".join(MARKS.removeprefix("Trim: ").split("  "))
        turning = turning_of(self.balance.trim)
        said = (
            f"A diver lying face down, head to the left, with lead, cylinders and bladder. It turns: {turning.words}."
        )
        return side_view_svg(side_marks(self.balance), turning, ("Trim at the stop", said), legend)


class RoutesDrawing(NamedTuple):
    """All hoses on the body."""

    plan: "FittingPlan"

    def svg(self, system: System) -> str:
        """Draw them, with a line of words for each."""
        from kitbuilder.report.route_picture import route_svg

        return route_svg(self.plan, system)


class BagsDrawing(NamedTuple):
    """The bags of a trip against their limits."""

    found: "TripPacking"

    def svg(self, system: System) -> str:
        """Draw what each weighs on the way out and home, in the reader's units."""
        from kitbuilder.pictures.bags_svg import BagBar, bags_svg
        from kitbuilder.report.numbers import unit, unit_size, with_spread

        def bar(name: str, mass: "Figure", use: "Use | None", *, is_home: bool) -> BagBar:
            return BagBar(name, mass, with_spread(mass, "mass", system), use.limit.most_kg if use else None, is_home)

        home = {each.bag.tag: each for each in self.found.bags_home}
        bars = []
        for packed in self.found.packing.bags:
            bars.append(bar(packed.bag.tag, packed.mass, packed.use, is_home=False))
            if back := home.get(packed.bag.tag):
                bars.append(bar("", back.mass, back.use, is_home=True))
        said = "Bars: what each bag weighs on the way out and on the way home, with its range, and its limit as a line."
        return bags_svg(bars, unit_size("mass", system), ("The bags against their limits", said), unit("mass", system))


def bags_drawing(found: "TripPacking") -> Picture:
    """Give the bags of a trip for a page."""
    return Picture(None, vector=BagsDrawing(found))


def buoyancy_plot(balance: "Balance") -> Picture:
    """Give the plot for a page."""
    return Picture(None, vector=BuoyancyPlot(balance))


def trim_drawing(balance: "Balance") -> Picture:
    """Give the lying diver for a page."""
    return Picture(None, vector=TrimDrawing(balance))


def routes_drawing(plan: "FittingPlan") -> Picture:
    """Give the hoses on the body for a page."""
    return Picture(None, vector=RoutesDrawing(plan))

"""A hose by the landmarks of its route: what nobody has measured yet, and what a measurement contradicts."""

from kitbuilder.assess.findings import About, Amount, Finding, RuleResults, Signal, Words, words
from kitbuilder.assess.fit.advice import string_less_estimate
from kitbuilder.assess.fit.measures import MEASURE_OF_KEY, ImplausibleMeasure
from kitbuilder.assess.fit.routes import route_of
from kitbuilder.assess.gas.hose_flow import Flow, Notice, flow_through
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.limit_words import about, with_range
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue


def _length(value_m: float) -> Amount:
    return Amount(value_m, "length")


@rule("string against route")
def string_against_route(context: Context) -> RuleResults:
    """Report a run by string that is far from the estimate by the landmarks of its route."""
    for figures in context.hoses:
        differs = string_less_estimate(figures)
        if differs is None or figures.hose.run_m is None:
            continue
        # Straps and ports of the landmarks were never measured: only twice their uncertainty counts.
        if abs(differs.value) <= 2 * differs.spread:
            continue
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "run",
            words(
                "the run measured by string, ",
                _length(figures.hose.run_m),
                ", is ",
                _length(abs(differs.value)),
                " longer" if differs.value > 0 else " shorter",
                " than the estimate by landmarks, which may be off by ",
                _length(differs.spread),
            ),
            words("The string counts. Either it was laid another way, or the hose goes another route."),
            words("Lay the string again, or choose the route that the hose really takes."),
        )


@rule("near a knob")
def near_a_knob(context: Context) -> RuleResults:
    """Report a hose led so close to a valve knob that a hand finds the hose in its way."""
    for figures in context.hoses:
        knobs = figures.routed.knobs if figures.routed else ()
        if knobs and knobs[0].is_blocked:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "path" if figures.hose.path else "route",
                words(
                    f"the hose passes the {knobs[0].name} at ",
                    about(knobs[0].distance, "length", least=0.0),
                    "; a hand needs about ",
                    *with_range(catalogue().limits["knob_clearance"], "length"),
                ),
                words("A valve that a hand cannot reach or turn cannot be shut in an emergency."),
                words("Route the hose another way. Put the kit on, on land, and reach for the valve before you dive."),
                rule_of_thumb=True,
            )


@rule("route of another layout")
def route_of_another_layout(context: Context) -> RuleResults:
    """Report a route that is not led in this layout, or not with this role."""
    layout = context.kit.header.layout
    for figures in context.hoses:
        route = catalogue().routes.get(figures.hose.route or "")
        if route is None or (layout in route.layouts and figures.hose.role in route.roles):
            continue
        yield Finding(
            Signal.NOTICE,
            figures.number,
            "route",
            words(
                f'the route "{route.name}" is meant for {" or ".join(route.roles)} in {" or ".join(route.layouts)}, '
                f"not for {figures.hose.role} in {layout}"
            ),
            words("The run may be estimated wrongly: this hose may not pass the landmarks of that route."),
            words("Choose another route, or write the landmarks of the hose as `path`."),
        )


@rule("hold off the path")
def hold_off_the_path(context: Context) -> RuleResults:
    """Report a hose said to be held where it does not pass."""
    for figures in context.hoses:
        route = route_of(figures.hose, context.kit)
        for name in figures.hose.holds:
            if route is not None and name not in route.path:
                yield Finding(
                    Signal.NOTICE,
                    figures.number,
                    "holds",
                    words(f'the hose is said to be held at "{name}", but its route does not pass there'),
                    words("This hold is ignored, so the free span counts as longer than it is."),
                    words(_other_holds(route.path[1:-1])),
                )


@rule("body measures")
def body_measures(context: Context) -> RuleResults:
    """Report measures of one body that do not go together."""
    for doubtful in context.wearer.implausible:
        yield Finding(
            Signal.CAUTION,
            None,
            "diver",
            unlike_the_body(doubtful),
            words("Every run without a string is estimated from these measures."),
            words("Measure again. Correct the diver file."),
        )


def unlike_the_body(doubtful: ImplausibleMeasure) -> Words:
    """Say that a measure does not go with the others of the same body."""
    return words(
        f"the diver's {MEASURE_OF_KEY[doubtful.key]}, ",
        Amount(doubtful.given, doubtful.measure),
        ", does not match the other measures; they suggest ",
        about(doubtful.expected, doubtful.measure),
    )


@rule("stock file")
def stock_file(context: Context) -> RuleResults:
    """Report a stock file that is named and cannot be used, or not all of it."""
    is_lost = context.kit.linked.stock is None
    for problem in context.kit.linked.stock_problems:
        yield Finding(
            Signal.CAUTION if is_lost else Signal.NOTICE,
            None,
            "stock",
            words(
                f"the stock file cannot be used: {problem}"
                if is_lost
                else f"part of the stock file is ignored: {problem}"
            ),
            words("Advice therefore takes every usual length." if is_lost else "Advice uses the rest of the file."),
            words("Fix the stock file, or name another one."),
        )


@rule("pressure drop")
def pressure_drop(context: Context) -> RuleResults:
    """Report a hose so long or thin that a hard breath at depth starves, or may starve."""
    limit = catalogue().limits["hose_drop"]
    for figures in context.hoses:
        flow = flow_through(figures.hose, context.kit, context.water)
        if flow is None or flow.notice is Notice.NO:
            continue
        yield Finding(
            Signal.WARNING if flow.drop is None else Signal.CAUTION if flow.drop.value > limit.value else Signal.NOTICE,
            figures.number,
            "bore" if figures.hose.bore_m else "length",
            words(
                "at ",
                Amount(flow.depth_m, "depth"),
                " the hose ",
                *_lost(flow),
                "; a diver does not notice up to ",
                *with_range(limit, "drop"),
            ),
            words(
                "Breathing gets harder. The loss grows with the length, and steeply when the bore gets narrower: this "
                "is what half-inch ports and wide hoses are for."
            ),
            words("Use a wider or a shorter hose for this depth."),
        )


def _lost(flow: Flow) -> Words:
    if flow.drop is None:
        return ("cannot pass enough gas for the peak of a hard breath",)
    return ("loses ", About(*flow.drop, "drop"), " at the peak of a hard breath")


def _other_holds(inner: tuple[str, ...]) -> str:
    if not inner:
        return "Remove it: both ends are held anyway. Or write the landmarks of the hose as `path`."
    return f"Name one of: {', '.join(inner)}. Or write the landmarks of the hose as `path`."

"""Quick-disconnects, swivel pins and built-in swivels."""

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.hoses.ports import inlet_of
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.joints import clicks_on, end_taken
from kitbuilder.assess.rules.registry import rule
from kitbuilder.kit.items import Device


@rule("coupling family")
def coupling_family(context: Context) -> RuleResults:
    """Compare the coupling on the hose with the nipple on the inflator."""
    for figures in context.hoses:
        joints = figures.joints
        if not clicks_on(joints):
            continue  # With an adapter, the rule of the threads at the device speaks of every joint.
        yield from end_taken(figures, "to_end")
        [meeting] = joints.at_device
        if joints.inlet is None or meeting.joins:
            continue
        yield Finding(
            Signal.WARNING,
            figures.number,
            "to_end",
            words(
                f"the coupling {figures.ends.at_device.name} does not fit the {joints.inlet.name} "
                f'of "{figures.hose.to}"'
            ),
            words("Couplings of different families do not lock, or they lock and pass no gas."),
            words(f"Buy a hose with a coupling for the {joints.inlet.joint}, or have a technician change the nipple."),
        )


@rule("coupling make")
def coupling_make(context: Context) -> RuleResults:
    """Report couplings of one family but of two makes: the pin of one may not open the valve of the other."""
    for figures in context.hoses:
        device, is_of_two = figures.joints.device, figures.joints.is_of_two_makes
        if device is None or is_of_two is False:
            continue
        if is_of_two is None:
            missing = figures.number if not figures.hose.make else context.numbers[device.tag]
            yield Unchecked(
                missing, "make", words("whether coupling and nipple are of the same make: one of the two is not known")
            )
        else:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "make",
                words(f"the coupling ({figures.hose.make}) and the nipple ({device.make}) are of two makes"),
                words(
                    "The pin in the nipple may be too short to open the coupling, which then leaks or passes no gas."
                ),
                words(
                    "Connect it under pressure. Press and release the inflator ten times: "
                    "the gas must start and stop each time."
                ),
                rule_of_thumb=True,
            )


@rule("swivel pin")
def swivel_pin(context: Context) -> RuleResults:
    """Report the pin with two O-rings between a high-pressure hose and its gauge."""
    for figures in context.hoses:
        if figures.ends.at_device.joint != "gauge swivel":
            continue
        if figures.hose.swivel_pin is None:
            yield Unchecked(
                figures.number, "swivel_pin", words("whether the gauge end has its swivel pin: the file does not say")
            )
        elif not figures.hose.swivel_pin:
            yield Finding(
                Signal.WARNING,
                figures.number,
                "swivel_pin",
                words("the gauge end of the hose has no swivel pin"),
                words(
                    "Without the pin and its two O-rings the joint leaks at full cylinder pressure. "
                    "New hoses often come without it."
                ),
                words("Fit a pin with two new O-rings. Carry a spare pin."),
            )


@rule("built-in swivel")
def built_in_swivel(context: Context) -> RuleResults:
    """Report a second stage whose built-in swivel depends on one spare part."""
    for number, item in enumerate(context.kit.items):
        if isinstance(item, Device) and inlet_of(item) == "built-in swivel":
            yield Finding(
                Signal.NOTICE,
                number,
                "inlet",
                words("the built-in swivel takes only its own replacement hose"),
                words("On a trip no stock hose can replace it."),
                words("Carry its replacement hose on trips."),
                rule_of_thumb=True,
            )

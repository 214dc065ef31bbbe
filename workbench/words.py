"""The shop's words for what the program knows as codes: one place, for the window and the card alike."""

import math

from workbench.stator.expect import Expected, Path
from workbench.stator.judge import Row, SheetVerdict, Why
from workbench.stator.pattern import CORE, Pair, Pattern, Winding
from workbench.stator.verdict import Decision, Verdict

OHM = "Ω"
GROUND = "ground"

SHEET_WORDS = {
    SheetVerdict.GOOD: "GOOD",
    SheetVerdict.FAIL: "FAIL",
    SheetVerdict.NOT_PROVED: "NOT PROVED",
    SheetVerdict.UNFINISHED: "UNFINISHED",
}

WHOSE_WORDS = {"customer": "Customer’s copy", "shop": "Shop’s copy, not for the customer"}

OUTCOME_WORDS = {"pass": "Pass", "repair": "Repair", "rewind": "Rewind", "scrap": "Scrap"}


def verdict_word(row: Row) -> str:
    """in, close, doubtful, continuous, out; "not by ohms" where ohms can't judge."""
    return "not by ohms" if row.decision is None else decision_word(row.decision)


def decision_word(decision: Decision) -> str:
    match decision.verdict:
        case Verdict.INSIDE:
            return "in"
        case Verdict.OUTSIDE:
            return "out"
        case Verdict.CONTINUOUS:
            return "continuous"
        case Verdict.UNDECIDED:
            return "close" if decision.leans_in else "doubtful"


def node_words(node: str, pattern: Pattern) -> str:
    """A node as the bench says it: `ground`, `3` on a part with one plug, `B 3` on one with several."""
    if node == CORE:
        return GROUND
    plug, dot, pin = node.partition(".")
    if not dot:
        return node
    return pin if len(pattern.connectors) == 1 else f"{plug} {pin}"


def pair_words(pair: Pair, pattern: Pattern) -> str:
    """`B 1 – 2` within a plug, `1 – 3` where there is only one, `A 1 – B 3` across plugs."""
    one, other = pair
    plug, _, _ = one.partition(".")
    other_plug, dot, other_pin = other.partition(".")
    if len(pattern.connectors) > 1 and dot and plug == other_plug:
        return f"{plug} {one.partition('.')[2]} – {other_pin}"
    return f"{node_words(one, pattern)} – {node_words(other, pattern)}"


def digits_for(step: float) -> int:
    """How many decimals show a quantity known to about `step`."""
    if not step > 0 or not math.isfinite(step):
        return 3
    return max(0, min(4, -math.floor(math.log10(step))))


def ohms_words(ohms: float, step: float | None = None) -> str:
    """A plain number with its unit: `0.42 Ω`, `245 Ω`, `1.2 kΩ`, `20 MΩ`. `step`: what it is known to (ohm)."""
    for unit, scale in (("M", 1e6), ("k", 1e4)):
        if abs(ohms) >= scale:
            scale = 1e6 if unit == "M" else 1e3
            return f"{_number(ohms / scale, step / scale if step else None)} {unit}{OHM}"
    return f"{_number(ohms, step)} {OHM}"


def _number(value: float, step: float | None) -> str:
    # without a step four figures, but never an exponent
    places = f".{digits_for(step)}f" if step else ".4g" if abs(value) < 9999.5 else ".0f"
    text = f"{value if step or abs(value) >= 1e-4 else 0.0:{places}}"
    if not text.strip("-0."):  # rounded to nothing: a zero has no sign
        text = text.lstrip("-")
    return text.replace("-", "−")


def plain_number(value: float, step: float) -> str:
    """The number alone, to the decimals that `step` deserves, with a true minus sign."""
    return _number(value, step)


def value_words(row: Row) -> str:
    """The corrected value with its U: `307 ± 10 Ω`; `open` for an overload."""
    if row.reading.ohms is None:
        return "open"
    if row.corrected is None:
        return f"{ohms_words(row.reading.ohms)} as shown"
    y, expanded = row.corrected.ohms, row.corrected.expanded
    if abs(y) >= 1e4:
        scale, unit = (1e6, "M") if abs(y) >= 1e6 else (1e3, "k")
        y, expanded = y / scale, expanded / scale
    else:
        unit = ""
    step = max(_step(expanded), 0.0001)
    return f"{_number(y, step)} ± {_number(expanded, step)} {unit}{OHM}"


def _step(expanded: float) -> float:
    """U is shown with two figures (JCGM 100, 7.2.6), the value to the same place; neither finer than U, nor coarser
    than an ohm.
    """
    if expanded <= 0:
        return 0.001
    rounded = float(f"{expanded:.1e}")  # 9.96 is written 10
    step: float = 10.0 ** (math.floor(math.log10(rounded)) - 1)
    return min(step, 1.0)


def band_words(expected: Expected) -> str:
    """`220.5 … 269.5 Ω`, `up to 0.5 Ω`, `open`, `not by ohms`."""
    match expected.path:
        case Path.NONE:
            return "open"
        case Path.ELEMENT:
            return "not by ohms"
        case Path.LINKS:
            assert expected.high is not None
            return f"up to {ohms_words(expected.high)}"
        case Path.WINDINGS:
            assert expected.low is not None
            assert expected.high is not None
            if expected.is_under:
                return f"under {ohms_words(expected.high)}"
            # four figures of a limit, trailing zeros off: a band must not read wider or narrower than it is
            scales = (("M", 1e6, 1e6), ("k", 1e3, 1e4), ("", 1.0, 0.0))
            unit, scale = next((u, by) for u, by, least in scales if expected.high >= least)
            low, high = expected.low / scale, expected.high / scale
            decimals = max(len(_number(v, None).partition(".")[2]) for v in (low, high))
            step = 10.0 ** -min(decimals, 4)
            return f"{_number(low, step)} … {_number(high, step)} {unit}{OHM}"


def winding_band_words(w: Winding) -> str:
    """A winding's own band, as `band_words`. Its ohms must have been said."""
    return band_words(Expected(Path.WINDINGS, w.nominal, w.low, w.high))


def reason_words(row: Row, pattern: Pattern) -> str:
    """Why the verdict is what it is, in one sentence."""
    e = row.expected
    match row.why:
        case Why.ELEMENT:
            return "A diode or electronics lies on this path; ohms can't judge it."
        case Why.OPENS:
            return f"Open where {band_words(e)} belongs: a break in the winding, its wire or its terminal."
        case Why.STAYS_OPEN:
            return "Open, as it should be. Open on an ohmmeter is not yet insulated."
        case Why.LEAKS:
            return f"Should be open. {ohms_words(row.reading.ohms or 0.0)} is a path that doesn't belong."
        case Why.HIGH_OHMS:
            return "A high number where it should be open: hands off the probes, dry the plug, then an insulation test."
        case Why.SHORT_RANGE:
            return "This range doesn't reach far enough for an overload to tell: read it on the highest range."
        case Why.CONTACT:
            names = " and ".join(node_words(n, pattern) for n in row.unproved_contacts)
            return f"The contact at {names} is not proved on this sheet: an overload may be a missed touch."
        case Why.BAND:
            return _band_reason(row)


def _band_reason(row: Row) -> str:
    e = row.expected
    assert row.corrected is not None
    low = row.corrected.ohms < (e.low or 0.0)
    wanted = band_words(e).removeprefix("up to ").removeprefix("under ")
    match row.verdict:
        case Verdict.INSIDE if e.is_under:
            return f"Under {wanted}, and no low limit is known: shorted turns are not excluded here."
        case Verdict.INSIDE:
            return f"Inside {band_words(e)}."
        case Verdict.CONTINUOUS:
            if e.path is Path.LINKS or e.is_under:
                return f"It conducts. Whether it lies under {wanted} is more than this meter can tell."
            return (
                "It conducts and is not shown to be too high. Shorted turns are not excluded here: "
                "a four-wire reading, inductance (L and Q) or a run can show them."
            )
        case Verdict.OUTSIDE:
            return f"Below {wanted}." if low else f"Above {wanted}."
        case _:
            p = (row.decision.probability or 0.0) if row.decision else 0.0
            limit = f"its limit of {wanted}" if e.is_under else f"a limit of {band_words(e)}"
            return f"Too near {limit} to decide: inside with {100 * p:.0f} % probability."


def remedy_words(row: Row, *, zeroed: bool) -> str:
    """What would settle a reading that is not inside; empty where nothing is left to settle."""
    if row.contradicted:
        return (
            "Its readings contradict each other: strike the missed touch out, or read it again; "
            "if it flickers, look for a loose contact."
        )
    if row.why in (Why.OPENS, Why.LEAKS) or row.verdict is Verdict.OUTSIDE:
        return "Lift the probes, clean the terminals and read it again." if row.repeats < 2 else ""
    if row.why is Why.CONTACT:
        return "Read another pair with that pin; for ground, read two bare spots of the iron."
    if row.verdict is Verdict.UNDECIDED and row.corrected is not None and row.why is Why.BAND:
        parts = {
            "zero the leads" if not zeroed else "hold the leads still and zero them again": row.corrected.leads,
            "let the part reach the room's temperature, or probe the copper": row.corrected.temperature,
            "a lower range or a finer meter, or four wires": max(row.corrected.u**2 - row.corrected.leads**2
                                                                 - row.corrected.temperature**2, 0.0) ** 0.5,
        }  # fmt: skip
        first = max(parts, key=lambda k: parts[k])
        return f"{first[0].upper()}{first[1:]}; read it again and the mean counts."
    return ""


def drift_words(amount: str, *, above: bool, when: str, explained: bool) -> str:
    """What became of a check since an earlier sheet: `3.1 % below 19 Oct 2025, more than the readings can explain.`"""
    if explained:
        return f"As on {when}, as far as the readings can tell."
    return f"{amount} {'above' if above else 'below'} {when}, more than the readings can explain."

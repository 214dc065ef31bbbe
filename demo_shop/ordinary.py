"""Tales of parts that are sound, and of what happens at any bench: slips, haste, water, the wrong sheet."""

from dataclasses import replace
from typing import Any

from demo_shop.draw import Draw
from demo_shop.faults import BadLead, Wet
from demo_shop.story import FOUR_WIRES, HANDHELD, Decision, FalseStart, Sitting, Struck, Tale, Visit
from demo_shop.texts import SEEN
from workbench.exchange.starters import starter_patterns, starter_revisions
from workbench.records import Outcome
from workbench.stator.copper import factor, k_of
from workbench.stator.expect import Path
from workbench.stator.pattern import CORE

_SOUND_NOTES = (
    "Stator good. Regulator ground was loose on the frame.", "Stator good. The ignition box is next.",
    "Stator good. Bulb socket green.", "Stator good; magnets looked at too.", "Nothing wrong with it on the bench.",
    "Plug cleaned, sockets tightened.", "Kept as a spare.",
)  # fmt: skip


def passed(d: Draw, note: str | None = None) -> Decision:
    return Decision(Outcome.PASS, d.text(*_SOUND_NOTES) if note is None else note)


def good(d: Draw, note: str | None = None, **more: Any) -> Sitting:
    """A sound part, read to the end and passed."""
    sitting = Sitting(d.meter(), celsius=d.celsius(), decision=passed(d, note))
    return replace(sitting, **more)


def sound(d: Draw) -> Tale | None:
    if not d.copper:
        return None
    return Tale((Visit(d.complaint(), (good(d),), seen=d.text(*SEEN), found="nothing", done="cleaned the plug"),))


def sound_again(d: Draw) -> Tale | None:
    if not d.copper:
        return None
    meter = d.meter()
    first = Visit(d.complaint(), (good(d, meter=meter),), seen=d.text(*SEEN), found="nothing")
    second = Visit("in again for a look before the season", (good(d, meter=meter),), after=d.days(150, 420))
    if d.rng.random() < 0.5:
        third = Visit("still the same, says the owner", (good(d),), after=second.after + d.days(12, 160))
        return Tale((first, second, replace(third, found="nothing again", done="box tried from another machine")))
    return Tale((first, second))


def not_proved(d: Draw) -> Tale | None:
    """Potted; or the iron not proved; or a winding that the meter leaves on the wrong side of its limit."""
    note = ""
    more: dict[str, Any] = {}
    if not d.copper:
        note = "Potted: ohms prove nothing here. Try it on a running machine."
    elif d.rng.random() < 0.4:
        if not any(d.ask.of(c).path is Path.NONE and CORE in c for c in d.pattern.checks or ()):
            return None
        note, more = "No bare spot of iron found under the paint.", {"iron": False}
    else:
        near = [w for w, _ in d.watched() if w.nominal > 60 and w.element is None]
        if not near:
            return None
        # just above its limit, by less than this meter can tell
        high = near[0].high / near[0].nominal + 0.0135
        note = f"The {near[0].name} reads at its limit; to be read again with four wires."
        more = {"meter": HANDHELD, "shares": {near[0].name: high / d.own[near[0].name]}, "celsius": 20.0}
    outcome = d.rng.choice((Outcome.PASS, Outcome.REPAIR, Outcome.SCRAP) if not d.copper else (Outcome.PASS,))
    sitting = good(d, note, **more)
    visit = Visit(d.complaint(), (replace(sitting, decision=Decision(outcome, note)),), seen=d.text(*SEEN))
    return Tale((replace(visit, found="nothing that ohms can tell"),))


def unfinished(d: Draw) -> Tale | None:
    """Left in the middle: fetched by its owner, or for another job, and never gone on with."""
    checks = len(d.pattern.checks or ())
    if checks < 3:
        return None
    note = d.text("Fetched before it was done.", "Meter's battery gave up.", "Waits for the flywheel.", "")
    sitting = Sitting(d.meter(), celsius=d.celsius(), read=d.days(1, checks - 1), note=note)
    return Tale((Visit(d.complaint(), (sitting,), seen=d.text(*SEEN)),))


def undone(d: Draw) -> Tale | None:
    """Slips of the hand, undone at once."""
    spots = [i for i, c in enumerate(d.pattern.checks or ()) if d.ask.of(c).path is Path.WINDINGS]
    if not spots:
        return None
    slips = [Struck(d.rng.choice(spots), "undone")]
    if len(spots) > 1:
        slips.append(Struck(spots[-1], d.text("probe moved", "read the wrong pin", "undone")))
    return Tale((Visit(d.complaint(), (good(d, struck=tuple(slips)),), found="nothing", seen=d.text(*SEEN)),))


def forgotten_zero(d: Draw) -> Tale | None:
    """The leads were not zeroed: low windings all read too much, until somebody sees why."""
    low = [(w, c) for w, c in d.watched() if w.nominal < 1.3]
    # with so much more it is plain on either meter
    more = round(d.rng.uniform(0.8, 1.6), 2)
    if not low:
        return None
    w, check = low[0]
    meter = FOUR_WIRES if d.rng.random() < 0.6 else HANDHELD
    seen_at = 1 + (d.pattern.checks or ()).index(check)
    again = FalseStart("leads not zeroed", checks=None if d.rng.random() < 0.5 else seen_at, more_ohms=more)
    note = "All low ones read too much: the leads were changed and not zeroed. Zeroed, read again."
    sitting = good(d, meter=meter, false_start=again, note=note)
    return Tale((Visit(d.complaint(w), (sitting,), found="nothing", seen=d.text(*SEEN)),), watch=w.name)


def read_hot(d: Draw) -> Tale | None:
    """Read straight off the machine as if it were at room temperature; then once more, cold."""
    warmer = d.rng.uniform(50, 75)
    more = factor(20.0, 20.0 + warmer, k_of(d.pattern.conductor))
    meter = d.shown_by(shares={w.name: more for w in d.copper})
    if meter is None:
        return None
    hot = Sitting(meter, celsius=d.celsius(), warmer=warmer, note="Straight off the machine.")
    cold = good(d, "High only because it was hot. Good when cold.", meter=hot.meter, later=1)
    cold = replace(cold, note="Left overnight and read again: the first sheet's temperature was wrong.")
    return Tale((Visit(d.complaint(), (hot, cold), seen=d.text(*SEEN), found="nothing: read too warm at first"),))


def wet_plug(d: Draw) -> Tale | None:
    plugs = [c for c in d.pattern.connectors if d.copper]
    for plug in d.rng.sample(plugs, k=len(plugs)):
        fault = Wet(plug.name, round(d.rng.uniform(3e4, 2e5)))
        meter = d.shown_by([fault])
        if meter is None:
            continue
        mended = Decision(Outcome.REPAIR, f"Plug {plug.name} wet: leaks to ground. Dried and greased.")
        wet = Sitting(meter, (fault,), celsius=d.celsius(), note="Water runs out of the plug.", decision=mended)
        dry = good(d, "Dry, and good.", meter=meter, later=1)
        visit = Visit(d.text("no spark after the wash", "dead since it went under"), (wet, dry))
        return Tale((replace(visit, found="water in the plug", done="dried, greased, read again"),))
    return None


def wrong_sheet(d: Draw) -> Tale | None:
    """Begun on another pattern's sheet whose checks this part's plugs have, too."""
    places = {*d.pattern.pins, CORE}
    others = [p for p in starter_patterns() if p is not d.pattern and {n for c in p.checks or () for n in c} <= places]
    others = [p for p in others if len(p.checks or ()) > 2]
    if not others or not d.copper:
        return None
    wrong = Sitting(
        FOUR_WIRES,
        celsius=d.celsius(),
        pattern=d.rng.choice(others).name,
        false_start=FalseStart("wrong pattern's sheet"),
        again=False,
        note="Same plug, another winding: begun anew.",
    )
    right = good(d, meter=FOUR_WIRES, celsius=wrong.celsius)
    return Tale((Visit(d.complaint(), (wrong, right), found="nothing", seen=d.text(*SEEN)),))


def bad_terminal(d: Draw) -> Tale | None:
    """Green: some ohms in series, gone when it is crimped anew."""
    for w, check in d.watched():
        pins = [n for n in check if n != CORE]
        fault = BadLead(pins[0], round(w.nominal * d.rng.uniform(0.35, 0.9) + 1, 1))
        meter = d.shown_by([fault])
        if meter is None:
            continue
        mended = Decision(Outcome.REPAIR, f"Terminal {pins[0]} green inside. New one crimped.")
        green = Sitting(meter, (fault,), celsius=d.celsius(), decision=mended)
        visit = Visit(d.complaint(w), (green, good(d, "Good with the new terminal.", meter=meter)), seen=d.text(*SEEN))
        return Tale((replace(visit, found=f"terminal {pins[0]} green", done="new terminal"),), watch=w.name)
    return None


def floated(d: Draw) -> Tale | None:
    """Half-wave as it was built, then its ground lifted for a full-wave regulator: another revision of its pattern."""
    if sum(p.name == d.pattern.name for p in starter_revisions()) < 2:
        return None
    before = good(d, "Good as built. To be floated for the new regulator.", meter=FOUR_WIRES, revision=1)
    before = replace(before, decision=Decision(Outcome.REPAIR, before.decision.note if before.decision else ""))
    after = good(d, "Floated: no ground left, and good.", meter=FOUR_WIRES, later=1)
    visit = Visit("grip heaters wanted", (before, after), approved="at the counter", done="ground lifted, new lead")
    later = Visit("to be looked at before it is sold", (good(d),), after=d.days(120, 500))
    return Tale((visit, later))

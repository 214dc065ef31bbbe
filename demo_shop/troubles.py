"""Tales of parts with something wrong in the copper: found, missed, mended, rewound, and back again."""

from dataclasses import replace

from demo_shop.draw import Draw
from demo_shop.faults import Fault, LeadOff, Open, Shorted, Swapped, ToCore
from demo_shop.ordinary import good, passed
from demo_shop.story import FOUR_WIRES, Decision, Sitting, Tale, Visit
from demo_shop.texts import APPROVED, SEEN
from workbench.records import Outcome

# three winters, and twice in the last of them
_APART = ((320, 345), (320, 345), (225, 250), (80, 110))
_LOWER = (
    "Good.",
    "In its band, a little lower than last time.",
    "In its band, lower again: to be watched.",
    "Still in its band, and lower.",
    "",
)


def _failing(d: Draw, meter: str, outcome: Outcome, note: str, *faults: Fault) -> Sitting:
    return Sitting(meter, faults, celsius=d.celsius(), decision=Decision(outcome, note))


def _rewound(d: Draw, winding: str, after: int, complaint: str = "back from the winder") -> Visit:
    """A job of its own for the new winding."""
    fresh = {winding: d.rng.uniform(0.99, 1.01) / d.own[winding]}
    return Visit(complaint, (good(d, "New winding reads as it should. Not run yet.", shares=fresh),), after=after)


def drifting(d: Draw) -> Tale | None:
    """A winding that has lost a little by every winter, until it is below its band."""
    for w, check in d.watched():
        low = w.low / w.nominal
        if w.nominal < 0.3 or len(check) != 2:
            continue
        half = 1 - low
        steps = len(_LOWER)
        # evenly down to where it is still in; the last winter takes most
        falls = [1 + half * (0.5 - 1.1 * i / (steps - 2)) for i in range(steps - 1)] + [low - 0.07]
        after, visits = 0, []
        for i, share in enumerate(falls):
            shares = {w.name: share / d.own[w.name]}
            sitting = good(d, _LOWER[i], meter=FOUR_WIRES, shares=shares)
            if i == steps - 1:
                told = f"The {w.name} fell a little from visit to visit and is below its band now: turns are shorting."
                sitting = replace(sitting, decision=Decision(Outcome.REWIND, told, "shorted-turns", w.name))
            says = "winter check" if i < steps - 1 else d.complaint(w)
            visits.append(Visit(says, (sitting,), after=after, seen=d.text(*SEEN)))
            after += d.days(*_APART[min(i, 3)])
        visits[-1] = replace(visits[-1], approved=d.text(*APPROVED), found=f"{w.name} low", done="sent to be rewound")
        return Tale(tuple(visits), watch=w.name)
    return None


def open_lead(d: Draw) -> Tale | None:
    for pin in d.rng.sample(d.pattern.pins, k=len(d.pattern.pins)):
        meter = d.shown_by([LeadOff(pin)])
        if meter is None or not d.copper:
            continue
        note = f"Wire broken inside its insulation at {pin}. New end soldered."
        broken = _failing(d, meter, Outcome.REPAIR, note, LeadOff(pin))
        visits = [Visit(d.complaint(), (broken, good(d, "Good after the repair.", meter=meter)), seen=d.text(*SEEN))]
        visits[0] = replace(visits[0], found=f"lead open at {pin}", done="lead mended", approved=d.text(*APPROVED))
        if d.rng.random() < 0.5:
            visits.append(Visit("new season, to be looked at", (good(d),), after=d.days(180, 500)))
        return Tale(tuple(visits))
    return None


def swapped(d: Draw) -> Tale | None:
    """Fitted at home with two terminals in each other's cavities."""
    pairs = [(a, b) for c in d.pattern.connectors for i, a in enumerate(c.nodes) for b in c.nodes[i + 1 :]]
    for a, b in d.rng.sample(pairs, k=len(pairs)):
        meter = d.shown_by([Swapped(a, b)])
        if meter is None:
            continue
        note = f"{a} and {b} are in each other's cavities. Put back where they belong."
        wrong = _failing(d, meter, Outcome.REPAIR, note, Swapped(a, b))
        right = good(d, "Terminals in their places: good.", meter=meter)
        visit = Visit("nothing works since a new plug was fitted", (wrong, right), seen="New plug, home made.")
        visits = [replace(visit, found=f"{a} and {b} swapped", done="terminals moved")]
        visits.append(Visit("to be looked at before it is sold", (good(d),), after=d.days(90, 400)))
        return Tale(tuple(visits))
    return None


def warm_failure(d: Draw) -> Tale | None:
    """Good as long as it is cold, and it is always cold on this bench."""
    sparks = [w for w, _ in d.watched() if w.nominal > 10]
    if not sparks:
        return None
    w = sparks[0]
    says = d.text("no spark when warm", "starts cold, dies after ten minutes", "stops when hot, runs again next day")
    one = good(d, "Good cold, and that proves nothing of it warm. To come back if it goes on.")
    two = good(d, f"Cold as good as before. Warmed in the hand the {w.name} comes and goes: joint resoldered.")
    two = replace(two, decision=replace(two.decision or passed(d), outcome=Outcome.REPAIR))
    three = good(d, "Good cold; ran warm for an hour at the owner's.")
    first = Visit(says, (one,), seen=d.text(*SEEN), found="nothing while cold")
    second = Visit(f"{says}, still", (two,), after=d.days(9, 40), approved=d.text(*APPROVED), found="opens when warm")
    visits = [first, replace(second, done="inner joint resoldered")]
    if d.rng.random() < 0.6:
        visits.append(Visit("to be looked at again", (three,), after=second.after + d.days(60, 300)))
    return Tale(tuple(visits), watch=w.name)


def rewound_and_back(d: Draw) -> Tale | None:
    for w in d.copper:
        fault: Fault = Open(w.name) if d.rng.random() < 0.5 else Shorted(w.name, round(d.rng.uniform(0.35, 0.7), 2))
        meter = d.shown_by([fault])
        if meter is None:
            continue
        what = "open inside" if isinstance(fault, Open) else "low against what it should be: shorted turns"
        failing = _failing(d, meter, Outcome.REWIND, f"The {w.name} is {what}.", fault)
        first = Visit(d.complaint(w), (failing,), seen=d.text(*SEEN), approved=d.text(*APPROVED))
        back = _rewound(d, w.name, d.days(12, 40))
        winters = _rewound(d, w.name, back.after + d.days(600, 720), "two winters later: a look before the season")
        kept = replace(back.sittings[0], celsius=d.celsius(), decision=passed(d, "The rewound winding has not moved."))
        return Tale(
            (replace(first, found=f"{w.name} {what}", done="rewound"), back, replace(winters, sittings=(kept,))),
            watch=w.name,
        )
    return None


def reversed_coil(d: Draw) -> Tale | None:
    """Wound the wrong way round by somebody: no ohmmeter sees it."""
    many = [w for w in d.copper if d.pattern.layout and sum(c.winding == w.name for c in d.pattern.layout.coils) > 1]
    if not many:
        return None
    w = many[0]
    one = good(d, "Ohms good. If the output stays weak it is the sense of a coil: compass next time.")
    two = good(d, f"Ohms as good as before. By compass one coil of the {w.name} is wound the wrong way round.")
    two = replace(two, decision=replace(two.decision or passed(d), outcome=Outcome.REWIND))
    first = Visit("weak output since it was rewound elsewhere", (one,), seen="Fresh varnish.", found="ohms good")
    second = Visit("still weak", (two,), after=d.days(8, 30), found="one coil reversed", approved=d.text(*APPROVED))
    third = _rewound(d, w.name, second.after + d.days(15, 60), "coil turned round, to be read")
    return Tale((first, second, third), watch=w.name)


def down_to_iron(d: Draw) -> Tale | None:
    for w in d.copper:
        fault = ToCore(w.name, round(d.rng.uniform(0.1, 0.9), 2), round(d.rng.uniform(0.4, 30), 1))
        meter = d.shown_by([fault])
        if meter is None:
            continue
        outcome = d.rng.choice((Outcome.REWIND, Outcome.SCRAP))
        note = f"The {w.name} is down to the iron." + (" Not worth a rewind." if outcome is Outcome.SCRAP else "")
        visit = Visit(d.complaint(w), (_failing(d, meter, outcome, note, fault),), seen="Slot liner worn through.")
        visits = [replace(visit, found=f"{w.name} grounded", approved=d.text(*APPROVED))]
        if outcome is Outcome.REWIND:
            visits.append(_rewound(d, w.name, d.days(14, 50)))
        return Tale(tuple(visits), watch=w.name)
    return None


def shorted_turns(d: Draw) -> Tale | None:
    for w in d.copper:
        fault = Shorted(w.name, round(d.rng.uniform(0.22, 0.6), 2))
        meter = d.shown_by([fault])
        if meter is None:
            continue
        note = f"The {w.name} reads low: shorted turns."
        visit = Visit(d.complaint(w), (_failing(d, meter, Outcome.REWIND, note, fault),), seen="Smells burnt.")
        visit = replace(visit, found=f"{w.name} low", approved=d.text(*APPROVED), done="rewound")
        return Tale((visit, _rewound(d, w.name, d.days(10, 60))), watch=w.name)
    return None


def open_winding(d: Draw) -> Tale | None:
    for w in d.copper:
        meter = d.shown_by([Open(w.name)])
        if meter is None:
            continue
        outcome = d.rng.choice((Outcome.REWIND, Outcome.REWIND, Outcome.SCRAP))
        note = f"The {w.name} is open inside." + (" A used one is cheaper." if outcome is Outcome.SCRAP else "")
        visit = Visit(d.complaint(w), (_failing(d, meter, outcome, note, Open(w.name)),), seen=d.text(*SEEN))
        return Tale((replace(visit, found=f"{w.name} open"),), watch=w.name)
    return None

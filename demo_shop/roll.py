"""Who came to the demo shop: the named units, and as many more as are asked for, every kind of tale in its share."""

import random
from collections.abc import Callable, Iterator

from demo_shop import ordinary, texts, troubles
from demo_shop.draw import Draw
from demo_shop.named import NAMED
from demo_shop.story import Story, Tale
from workbench.exchange.starters import starter_pattern, starter_patterns
from workbench.stator.pattern import Pattern

SEED = 20
UNITS = 64
DAYS = 1095  # three years
_EARLIEST_NAMED = 130  # every other unit on the same roll of tags came before it

Kind = Callable[[Draw], Tale | None]

# how many of each among the units that no name was given to; together what fills the shop up to UNITS
KINDS: dict[str, tuple[Kind, int]] = {
    "sound": (ordinary.sound, 11),
    "sound, back again": (ordinary.sound_again, 4),
    "not proved": (ordinary.not_proved, 4),
    "unfinished": (ordinary.unfinished, 2),
    "undone readings": (ordinary.undone, 2),
    "forgotten zero": (ordinary.forgotten_zero, 2),
    "read hot": (ordinary.read_hot, 2),
    "wet plug": (ordinary.wet_plug, 2),
    "wrong sheet": (ordinary.wrong_sheet, 1),
    "floated": (ordinary.floated, 1),
    "bad terminal": (ordinary.bad_terminal, 2),
    "drifting": (troubles.drifting, 3),
    "open lead": (troubles.open_lead, 3),
    "swapped": (troubles.swapped, 2),
    "warm failure": (troubles.warm_failure, 3),
    "rewound and back": (troubles.rewound_and_back, 3),
    "reversed coil": (troubles.reversed_coil, 2),
    "down to iron": (troubles.down_to_iron, 2),
    "shorted turns": (troubles.shorted_turns, 2),
    "open winding": (troubles.open_winding, 2),
}


def stories(units: int = UNITS, seed: int = SEED) -> tuple[Story, ...]:
    """As many as asked for, from 1. Fewer leave out the last of them: the part on the bench is always there.

    Tags go on in the order in which the units first came; what the usual roll of tags can't hold has another roll.
    """
    named = [NAMED[-1], *NAMED[:-1]][:units]
    more = [s for _, s in zip(range(units - len(named)), _drawn(seed), strict=False)]
    roll, other = more[: UNITS - len(NAMED)], more[UNITS - len(NAMED) :]
    below = int(NAMED[0].tag.partition("-")[2])
    out = [*named]
    for tag, mine in (("SL-{:04d}", roll), ("SK-{:05d}", other)):
        first = below - len(mine) if mine is roll else 1
        mine.sort(key=lambda s: -s.first)
        out += [_tagged(s, tag.format(first + i)) for i, s in enumerate(mine)]
    return tuple(sorted(out, key=lambda s: (-s.first, s.tag)))


def _tagged(s: Story, tag: str) -> Story:
    return Story(tag, s.label, s.pattern, s.kind, s.first, s.tale, s.own)


def _drawn(seed: int) -> Iterator[Story]:
    """Without end. Each round holds every kind in its share, and the patterns take turns."""
    queue = list(starter_patterns())
    at = 0
    while True:
        rng = random.Random(f"{seed}/round {at}")
        at += 1
        kinds = [name for name, (_, share) in KINDS.items() for _ in range(share)]
        rng.shuffle(kinds)
        if at == 1:
            rng.shuffle(queue)
        for name in kinds:
            yield _one(name, queue, rng, latest=_EARLIEST_NAMED if at == 1 else 6)


def _one(kind: str, queue: list[Pattern], rng: random.Random, latest: int) -> Story:
    """Told of the first pattern in the queue that it can be told of, which goes to its end then."""
    for i, pattern in enumerate(queue):
        d = Draw(pattern, rng)
        tale = KINDS[kind][0](d)
        if tale is not None:
            queue.append(queue.pop(i))
            lasts = tale.visits[-1].after
            first = rng.randint(max(latest, lasts + 6), max(DAYS, lasts + 6))
            return Story("", texts.label(rng), pattern.name, kind, first, tale, d.own)
    raise LookupError(f"no pattern that ships can be told of as {kind!r}")


def pattern_of(story: Story) -> Pattern:
    pattern = starter_pattern(story.pattern)
    assert pattern is not None
    return pattern

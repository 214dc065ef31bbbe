"""The demo shop's words: machines, owners, places and complaints, all invented."""

import random

from workbench.stator.pattern import Kind

_MACHINES = (
    "Dune 250 sled", "Dune 440 sled", "Gullwater 340 sled", "Gullwater 500 sled", "Saltgrass 300 sled",
    "Tideline 90 quad", "Tideline 330 quad", "Shingle 400 quad", "Shingle 250 quad", "Bracken 125 dirt cycle",
    "Bracken 80 dirt cycle", "Fogbank 125 cycle", "Fogbank 200 cycle", "Lowtide 50 moped", "Breakwater 500 outboard",
    "Breakwater 150 outboard", "Kelpline 60 outboard", "Kelpline 90 outboard", "Skerry 25 outboard", "Slipway 8 pump",
)  # fmt: skip
_OWNERS = (
    "blue cowl", "red tank", "white hood", "green tape on the loom", "no paint left", "rental no. {n}",
    "owner's tag {n}", "harbour office no. {n}", "ferry spare", "club launch", "lighthouse crew", "fish market",
    "rescue hut", "school yard", "Nell's", "Osk's", "Ibb's", "Tamsa's", "Jorun's", "Pell's", "Wyn's", "Anke's",
    "came by mail, box {n}", "came by mail, no name inside", "from the north pier", "from Otter Point",
    "from Samphire Bay", "mill cottage", "winter road crew", "two brothers'", "barn find", "bought as spare",
)  # fmt: skip

_SPARK = (
    "no spark", "spark comes and goes", "starts cold, dies after ten minutes", "cuts out at half throttle",
    "weak spark, kicks back", "no spark after the wash",
)  # fmt: skip
_CHARGE = (
    "battery flat after every trip", "weak charge at any speed", "no charge at all", "charges only above half throttle",
    "boils the battery, regulator was changed already", "whines, then the lamp for charge comes on",
)  # fmt: skip
_LIGHT = ("no lights", "lights dim at idle", "bulbs burn out", "lights flicker over bumps", "grip heaters stay cold")

COMPLAINTS: dict[Kind | None, tuple[str, ...]] = {
    Kind.LIGHTING: _LIGHT,
    Kind.CHARGING: _CHARGE,
    Kind.FIELD: _CHARGE,
    Kind.OTHER: ("runs badly", "to be checked"),
    Kind.EXCITER: _SPARK,
    Kind.IGNITION: _SPARK,
    Kind.PULSER: (*_SPARK, "misfires, timing jumps"),
    Kind.PRIMARY: _SPARK,
    Kind.SECONDARY: _SPARK,
    None: ("no spark, the box or the coil?", "module to be tested"),
}

SEEN = (
    "Loom cut and spliced twice.", "Clean, varnish whole.", "Oil on the windings.", "Rust on the flywheel side.",
    "One tooth darker than the others.", "Plug brittle.", "Wire colours not the ones they were made with.",
    "Sand in everything.", "", "", "",
)  # fmt: skip
APPROVED = ("by phone", "at the counter", "by letter", "up to the price of a used one", "by the harbour office")


def label(rng: random.Random) -> str:
    return f"{rng.choice(_MACHINES)}, {rng.choice(_OWNERS).format(n=rng.randint(2, 38))}"

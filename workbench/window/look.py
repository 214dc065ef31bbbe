"""Theme and sizes, as every widget is given them."""

from dataclasses import dataclass, field

from workbench.window.theme import LIGHT, Sizes, Theme


@dataclass(frozen=True, slots=True)
class Look:
    theme: Theme = LIGHT
    sizes: Sizes = field(default_factory=Sizes)

"""Every page and dialog as it is drawn: text and edges against what they stand on (WCAG 2.2, 1.4.3 and 1.4.11, AA).

What can't be used is exempt, and so are pictures of paper.
"""

import pytest
from PySide6.QtGui import QColor

from tests.journeys.conftest import Hand, Open
from tests.journeys.screens import screens
from tests.window.contrast import colours, contrast, pixels
from tests.window.inks import Written, edges, painted, render, standard
from workbench.window.theme import DARK, LIGHT

KINDS = {"painted": painted, "standard": standard, "edges": edges}
AT_LEAST = {"painted": 100, "standard": 150, "edges": 60}  # of them, else nothing was measured


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_text_and_edges_stand_out_wherever_they_are_drawn(demo: Hand, open_window: Open, dark: bool) -> None:
    store = demo.window.shop._at._place
    demo.close()
    hand = open_window(store, dark=dark, start_tag="SL-0147", practice=demo.window._practice)
    hand.until(lambda: hand.window.bench_page is not None)
    hand.window.resize(1366, 728)
    found: dict[str, dict[str, tuple[str, Written]]] = {kind: {} for kind in KINDS}
    for where, screen in screens(hand):
        whole = render(screen)
        for kind, look in KINDS.items():
            for w in look(screen, whole):
                known = found[kind].get(w.what)
                if known is None or w.contrast < known[1].contrast:
                    found[kind][w.what] = where, w
    low = {f"{where}: {w.what}": w.contrast for k in found.values() for where, w in k.values() if w.contrast < w.wanted}
    assert not low, low
    assert {k: len(v) for k, v in found.items() if len(v) < AT_LEAST[k]} == {}


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_the_ends_of_the_band_stand_out(demo: Hand, open_window: Open, dark: bool) -> None:
    """Its tint alone does not."""
    store = demo.window.shop._at._place
    demo.close()
    hand = open_window(store, dark=dark, start_tag="SL-0147")
    hand.until(lambda: hand.window.bench_page is not None)
    theme = DARK if dark else LIGHT
    scale = hand.page.band.scale
    drawn = pixels(scale.grab().toImage())
    row = drawn[drawn.shape[0] // 2 - 6]
    tint = [x for x, c in enumerate(row) if contrast(theme.tint_of.in_, QColor(*map(int, c))) < 1.02]
    assert len(tint) > 40
    for end in (row[min(tint) - 2 : min(tint) + 1], row[max(tint) : max(tint) + 3]):
        strongest = max(contrast(theme.panel, QColor(*c)) for c in colours(end, 0.0))
        assert strongest >= 3

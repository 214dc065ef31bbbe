"""What a card's PDF costs, against bare reportlab drawing as many marks of the same kinds in the same run.

python -m tests.benchmarks.bench_card
"""

import statistics
import sys
import time
from collections import Counter
from collections.abc import Callable
from io import BytesIO

from reportlab.lib.pagesizes import mm
from reportlab.pdfgen.canvas import Canvas

from tests.cards.making import facts, judged, many_coils
from workbench.cards import CardFacts, make_card
from workbench.cards.cautions import shipped_cautions
from workbench.cards.content import card_content
from workbench.cards.fonts import font_name
from workbench.cards.marks import Page, Squares, Text, Weight
from workbench.cards.paper import card_pages

RUNS = 15


def bare(pages: list[Page]) -> bytes:
    """As many texts (of as many characters, in the card's typeface), lines and boxes, placed without a thought."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(100 * mm, 150 * mm), invariant=1, pageCompression=1)
    for page in pages:
        for i, mark in enumerate(page.marks):
            y = 20 + (i * 9) % 380
            if isinstance(mark, Text):
                canvas.setFont(font_name(Weight.REGULAR), 8)
                canvas.drawString(20, y, "n" * len(mark.words))
            elif isinstance(mark, Squares):
                for _ in mark.runs:
                    canvas.rect(20, y, 3, 1.4, stroke=0, fill=1)
            else:
                canvas.line(20, y, 200, y)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def median_ms(work: Callable[[], object]) -> float:
    work()
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1000 * statistics.median(times)


def report(name: str, given: CardFacts) -> float:
    pages = card_pages(card_content(given, shipped_cautions()))
    kinds = Counter(type(m).__name__ for p in pages for m in p.marks)
    card, plain = median_ms(lambda: make_card(given)), median_ms(lambda: bare(pages))
    told = ", ".join(f"{n} {kind}" for kind, n in sorted(kinds.items()))
    sys.stdout.write(f"{name}: card {card:.1f} ms, bare {plain:.1f} ms, ratio {card / plain:.2f} ({told})\n")
    return card / plain


def main() -> None:
    report("nine readings", facts())
    forty = judged(tuple(("P.0", f"P.{n}", 100.7 + n) for n in range(1, 41)), many_coils(40))
    report("forty readings", facts(forty))


if __name__ == "__main__":
    main()

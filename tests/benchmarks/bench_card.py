"""What a card's PDF costs, against bare reportlab drawing as many marks of the same kinds in the same run.

python -m tests.benchmarks.bench_card
"""

import statistics
import sys
import time
from collections import Counter
from collections.abc import Callable
from io import BytesIO

from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.lib.pagesizes import mm
from reportlab.pdfgen.canvas import Canvas

from tests.cards.making import facts, judged, many_coils
from workbench.cards import CardFacts, make_card
from workbench.cards.cautions import shipped_cautions
from workbench.cards.content import card_content
from workbench.cards.fonts import font_name
from workbench.cards.marks import Page, Squares, Text, Weight
from workbench.cards.paper import card_pages
from workbench.records import CardSize

RUNS = 15


def bare(pages: list[Page], code: str | None) -> bytes:
    """As many texts (of as many characters, in the card's typeface) and lines, placed without a thought.

    The square code is reportlab's own widget, which works out its modules just as the card's does; None: no code.
    """
    out = BytesIO()
    canvas = Canvas(out, pagesize=(100 * mm, 150 * mm), invariant=1, pageCompression=1)
    for page in pages:
        for i, mark in enumerate(page.marks):
            y = 20 + (i * 9) % 380
            if isinstance(mark, Text):
                canvas.setFont(font_name(Weight.REGULAR), 8)
                canvas.drawString(20, y, "n" * len(mark.words))
            elif isinstance(mark, Squares):
                if code is None:
                    continue
                drawing = Drawing(60, 60)
                drawing.add(QrCodeWidget(code))
                renderPDF.draw(drawing, canvas, 200, 340)
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


def report(name: str, given: CardFacts, size: CardSize) -> float:
    content = card_content(given, shipped_cautions())
    pages = card_pages(content, size)
    kinds = Counter(type(m).__name__ for p in pages for m in p.marks)
    card, plain = median_ms(lambda: make_card(given, size)), median_ms(lambda: bare(pages, content.code))
    told = ", ".join(f"{n} {kind}" for kind, n in sorted(kinds.items()))
    less = median_ms(lambda: bare(pages, None))
    sys.stdout.write(f"{name}: card {card:.1f} ms, bare {plain:.1f} ms, ratio {card / plain:.2f} ({told})\n")
    sys.stdout.write(f"{name}: against bare without any code, {less:.1f} ms, ratio {card / less:.2f}\n")
    return card / plain


def main() -> None:
    forty = judged(tuple(("P.0", f"P.{n}", 100.7 + n) for n in range(1, 41)), many_coils(40))
    for size in CardSize:
        report(f"{size}, nine readings", facts(), size)
        report(f"{size}, forty readings", facts(forty), size)


if __name__ == "__main__":
    main()

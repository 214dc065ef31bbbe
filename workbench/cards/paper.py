"""A card's content as PDF. Importing this brings in reportlab: do it late."""

from dataclasses import fields, is_dataclass, replace
from io import BytesIO
from typing import Any, TypeVar

from reportlab.pdfgen.canvas import Canvas

from workbench.cards.code import SquareCode
from workbench.cards.content import CardContent, Line
from workbench.cards.fonts import font_name, printable, width
from workbench.cards.intake import IntakeContent
from workbench.cards.intakelayout import lay_out_intake
from workbench.cards.layout import lay_out
from workbench.cards.marks import Disc, Mark, Page, Rule, Shape, Squares, Text
from workbench.cards.stock import STOCKS
from workbench.records import CardSize


def card_pages(content: CardContent, size: CardSize = CardSize.STAND) -> list[Page]:
    """What goes on paper, mark by mark."""
    stock = STOCKS[size]
    return lay_out(made_printable(content), SquareCode(content.code, stock.code_room).at, stock, width)


def card_pdf(content: CardContent, size: CardSize = CardSize.STAND) -> bytes:
    """The card as a PDF file with its fonts embedded; the same bytes for the same content and size."""
    return pages_pdf(card_pages(content, size), title=f"{printable(content.tag)}: {content.word}")


def intake_pages(content: IntakeContent, size: CardSize = CardSize.STAND) -> list[Page]:
    stock = STOCKS[size]
    return lay_out_intake(made_printable(content), SquareCode(content.code, stock.intake_code).at, stock, width)


def intake_pdf(content: IntakeContent, size: CardSize = CardSize.STAND) -> bytes:
    return pages_pdf(intake_pages(content, size), title=f"{printable(content.tag)}: intake tag")


def pages_pdf(pages: list[Page], title: str) -> bytes:
    out = BytesIO()
    canvas = Canvas(out, pagesize=(pages[0].width, pages[0].height), invariant=1, pageCompression=1)
    canvas.setTitle(title)
    for page in pages:
        for mark in page.marks:
            _draw(canvas, mark)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw(canvas: Canvas, mark: Mark) -> None:
    match mark:
        case Text():
            canvas.setFillGray(1 if mark.white else 0)
            canvas.setFont(font_name(mark.weight), mark.size)
            canvas.drawString(mark.x, mark.y, mark.words)
        case Rule():
            _pen(canvas, mark.thick, mark.dash)
            canvas.line(mark.x, mark.y, mark.to_x, mark.to_y)
        case Disc():
            _pen(canvas, mark.thick, ())
            canvas.circle(mark.x, mark.y, mark.radius)
        case Shape() | Squares():
            _draw_path(canvas, mark)


def _draw_path(canvas: Canvas, mark: Shape | Squares) -> None:
    path = canvas.beginPath()
    if isinstance(mark, Squares):
        # one path, so that no hairline shows between the modules
        for x, y, count in mark.runs:
            path.rect(x, y, count * mark.size, mark.size)
    else:
        path.moveTo(*mark.points[0])
        for point in mark.points[1:]:
            path.lineTo(*point)
        path.close()
    if isinstance(mark, Squares) or mark.filled:
        canvas.setFillGray(0)
        canvas.drawPath(path, stroke=0, fill=1)
    else:
        _pen(canvas, mark.thick, mark.dash)
        canvas.drawPath(path, stroke=1, fill=0)


def _pen(canvas: Canvas, thick: float, dash: tuple[float, ...]) -> None:
    canvas.setStrokeGray(0)
    canvas.setLineWidth(thick)
    canvas.setDash(list(dash))


Said = TypeVar("Said", "CardContent", "IntakeContent")


def made_printable(content: Said) -> Said:
    """Every text of it but the code's, as the typeface can print it."""
    return replace(content, **{f.name: _each(getattr(content, f.name)) for f in fields(content) if f.name != "code"})


def _each(value: Any) -> Any:
    """The same record with every text in it made printable."""
    if type(value) is str:
        return printable(value)
    if isinstance(value, Line):
        return Line(printable(value.lead), printable(value.text))
    if isinstance(value, tuple):
        return tuple(_each(v) for v in value)
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{f.name: _each(getattr(value, f.name)) for f in fields(value)})
    return value
